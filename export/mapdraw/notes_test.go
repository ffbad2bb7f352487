package mapdraw

import (
	"strings"
	"testing"
)

// No line is wider than it may be, whatever a name looks like, and no letter is lost: a field may be called 60 letters without a blank. Only
// where not even one letter fits does it stand out.
func TestWrapKeepsWithinTheWidth(t *testing.T) {
	for _, s := range []string{
		strings.Repeat("W", 60), "Field " + strings.Repeat("m", 60) + " and the rest", "a-rather-long-name-with-hyphens/and_strokes-in-it", "short words only in this one", strings.Repeat("é", 40),
	} {
		for _, width := range []float64{40, 90, 200} {
			lines := Wrap(s, width, 10, true)
			for _, l := range lines {
				if w := TextWidth(l, 10, true); w > width {
					t.Errorf("%q is %.0f wide, %.0f fit", l, w, width)
				}
			}
			if got, want := strings.ReplaceAll(strings.Join(lines, ""), " ", ""), strings.ReplaceAll(s, " ", ""); got != want {
				t.Errorf("%q came out as %q", want, got)
			}
		}
	}
	if lines := Wrap("WWW", 1, 10, false); strings.Join(lines, "") != "WWW" {
		t.Errorf("in a column narrower than a letter: %q", lines)
	}
}
