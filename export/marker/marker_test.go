package marker

import (
	"bytes"
	"slices"
	"strings"
	"testing"
)

func TestMarker(t *testing.T) {
	kind := Kind{"plan", "a plan"}
	var b bytes.Buffer
	err := Write(&b, struct {
		Head
		Runs  []string `json:"runs"`
		Files []string `json:"files"`
	}{kind.Head("rootworthy 1", ""), []string{"Home & Hill"}, []string{"plan.html", "maps/a.svg"}})
	const want = `{
 "rootworthy": "plan",
 "program": "rootworthy 1",
 "runs": [
  "Home & Hill"
 ],
 "files": [
  "plan.html",
  "maps/a.svg"
 ]
}
`
	if err != nil || b.String() != want {
		t.Fatalf("%v: %s", err, b.String())
	}
	if files, err := kind.Files(strings.NewReader(want)); err != nil || !slices.Equal(files, []string{"plan.html", "maps/a.svg"}) {
		t.Errorf("files %q, %v", files, err)
	}
	for name, c := range map[string]struct{ text, err string }{
		"another kind": {strings.Replace(want, "plan", "rank", 1), "it does not describe a plan"},
		"another file": {`{"files": ["plan.html"]}`, "it does not describe a plan"},
		"no JSON":      {"plan", "invalid character"},
		"cut off":      {want[:40], "EOF"},
		"empty":        {"", "EOF"},
		"odd files":    {`{"rootworthy": "plan", "files": 3}`, "cannot unmarshal"},
	} {
		if err := kind.Ours(strings.NewReader(c.text)); err == nil || !strings.Contains(err.Error(), c.err) {
			t.Errorf("%s: %v, want %q", name, err, c.err)
		}
	}
	if err := kind.Ours(strings.NewReader(`{"rootworthy": "plan"}`)); err != nil {
		t.Errorf("without files: %v", err)
	}
}
