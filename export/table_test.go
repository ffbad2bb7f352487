package export

import (
	"errors"
	"strings"
	"testing"
)

// Lines end in CR LF, cells are quoted where they must be, and formulas are guarded while plain numbers are not, in a copy: the caller's
// cells stay as they were. A write error comes back from Close at the latest.
func TestTable(t *testing.T) {
	var b strings.Builder
	w := NewTable(&b, "name", "worth")
	cells := []string{"=HYPERLINK(0)", "-12.5"}
	w.Row(cells...)
	w.Row(`a "b", c`, "")
	w.Row("-", "+1 day")
	const want = "name,worth\r\n'=HYPERLINK(0),-12.5\r\n\"a \"\"b\"\", c\",\r\n'-,'+1 day\r\n"
	if err := w.Close(); err != nil || b.String() != want {
		t.Errorf("%v: %q, want %q", err, b.String(), want)
	}
	if cells[0] != "=HYPERLINK(0)" {
		t.Errorf("the caller's cell became %q", cells[0])
	}
	full := NewTable(noSpace{}, "name")
	for range 10000 {
		full.Row("North")
	}
	if err := full.Close(); !errors.Is(err, errNoSpace) {
		t.Errorf("a full disk: %v", err)
	}
}

var errNoSpace = errors.New("no space left")

// noSpace is a writer on a full disk.
type noSpace struct{}

func (noSpace) Write([]byte) (int, error) { return 0, errNoSpace }
