package taskdata_test

import (
	"strings"
	"testing"

	"rootworthy/export/taskdata"
)

// Terminals show names as they come: what does not show, turns the direction of writing or breaks a line is out, and a name is cut by what
// the terminal counts (UTF-16 units), never through a character, with no blank left at the cut.
func TestCleanName(t *testing.T) {
	for in, want := range map[string]string{
		"North Field":                        "North Field",
		"  two\t\nlines ":                    "two lines",
		"Prés Ü":                             "Prés Ü",
		"a\x00b\x1bc\xff\u202ed":             "abcd",
		strings.Repeat("x", 40):              strings.Repeat("x", 32),
		strings.Repeat("🌱", 20):              strings.Repeat("🌱", 16), // two UTF-16 units each
		"thirty-one characters are here. no": "thirty-one characters are here.",
		" \u200b ":                           "",
	} {
		if got := taskdata.CleanName(in); got != want {
			t.Errorf("CleanName(%q) = %q, want %q", in, got, want)
		}
	}
}

// TestManyFieldsWithoutLime: the sheet stays one page.
func TestManyFieldsWithoutLime(t *testing.T) {
	var m made
	m.field("A", "Limed", rect(0, 0, 100, 100))
	m.zone(1, tested, rect(0, 0, 100, 100))
	for i := range 200 {
		m.field("N"+strings.Repeat("x", i), "Never", rect(0, 0, 10, 10))
		m.zone(0, tested, rect(0, 0, 10, 10))
	}
	p := plan(t, &m.r, taskdata.Options{})
	if lines := p.LeftLines(); len(lines) != 1 || !strings.HasSuffix(lines[0], " and 188 more: no zone needs lime") {
		t.Errorf("%q", lines)
	}
}
