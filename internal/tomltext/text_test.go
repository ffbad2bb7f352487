package tomltext

import (
	"strings"
	"testing"

	"github.com/pelletier/go-toml/v2"

	"rootworthy/internal/diag"
)

const settings = "\ufeff# of our own\n" + `name = "x"
[depth]
points = [
  { value = 1, score = 2 },
  { value = 3, score = 4 },
]
[product."0-0-60"]
year = 2026
[[row]]
lime = [1,
  2]
[[row]]
a.b = 1
`

func TestLines(t *testing.T) {
	var faults diag.List
	text, ok := Parse("x.toml", []byte(settings), "", &faults)
	if !ok || text.Root["name"] != "x" || text.Told != 0 {
		t.Fatal(ok, text.Root, faults.String())
	}
	for path, want := range map[string]int{
		"name": 2, "depth": 3, "depth.points": 4, "depth.points[1]": 6, "depth.points[1].score": 6, "product": 8, "product.0-0-60.year": 9,
		"row[0]": 10, "row[0].lime[1]": 12, "row[1]": 13, "row[1].a.b": 14, "none": 0, "row[2]": 0,
	} {
		if got := text.Line(path); got != want {
			t.Errorf("%s stands in line %d, got %d", path, want, got)
		}
	}
	text.Fault(Join(Join("row", 1), "lime"), "missing", "write it", "%s is missing", "lime")
	if kept := faults.Kept(); len(kept) != 1 || kept[0].Line != 13 || kept[0].Field != "row[1].lime" || text.Told != 1 {
		t.Errorf("a key that is absent is told at %v, want the table around it, line 13", kept)
	}
}

func TestRefusals(t *testing.T) {
	for name, c := range map[string]struct {
		text, kind string
		line       int
	}{
		"no TOML":   {"a = 1\nb = \n", "not TOML", 2},
		"key twice": {"a = 1\na = 2\n", "not TOML", 2},
		"deep":      {"a = " + strings.Repeat("[", 1000) + strings.Repeat("]", 1000) + "\n", "too deep", 0},
		"long key":  {strings.Repeat("a", 1000) + " = 1\n", "too deep", 0},
	} {
		var faults diag.List
		text, ok := Parse("x.toml", []byte(c.text), "give another file", &faults)
		if kept := faults.Kept(); ok || text.Told != 1 || len(kept) != 1 || kept[0].Kind != c.kind || kept[0].Line != c.line || kept[0].Fix == "" {
			t.Errorf("%s: ok %v, %v; want %q at line %d", name, ok, kept, c.kind, c.line)
		}
	}
}

// Whatever is read says the same as the decoder alone does, and every line lies in the text.
func FuzzParse(f *testing.F) {
	f.Add(settings)
	f.Add("a = [[1],\n{b.c = 2}]\n[a.b]\n")
	f.Fuzz(func(t *testing.T, s string) {
		var faults diag.List
		text, ok := Parse("x.toml", []byte(s), "", &faults)
		var plain map[string]any
		if err := toml.Unmarshal([]byte(strings.TrimPrefix(s, "\ufeff")), &plain); ok && (err != nil || len(plain) != len(text.Root)) {
			t.Fatalf("%q: %v alone, %v here: %v", s, plain, text.Root, err)
		}
		if !ok && faults.Faults() == 0 {
			t.Fatalf("%q is refused without a word", s)
		}
		for path, n := range text.lines {
			if n < 1 || n > 1+strings.Count(s, "\n") {
				t.Fatalf("%q: %s stands in line %d", s, path, n)
			}
		}
	})
}
