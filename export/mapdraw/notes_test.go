package mapdraw

import (
	"slices"
	"strings"
	"testing"

	"github.com/paulmach/orb"

	"rootworthy/export"
	"rootworthy/export/quillmoor"
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

// A pH never reads as belonging to another colour than its own; on a mark it belongs to the better side.
func TestLabelsOfPHMatchTheLegend(t *testing.T) {
	marks := []float64{6.5, 6, 5.5, 5}
	for x, want := range map[float64]string{5.45: "5.45", 5.499: "5.49", 5.5: "5.5", 5.44: "5.4", 6.8: "6.8", 4.96: "4.96", 5.97: "5.97", 6.04: "6.0"} {
		if got := phLabel(x, marks); got != want {
			t.Errorf("%g reads %q, want %q", x, got, want)
		}
	}
}

// Strokes of a relief are explained below the map, in a file of its own as in a report; a map without relief, or of level ground, speaks of
// none.
func TestStrokesAreExplained(t *testing.T) {
	r := quillmoor.Result()
	sums := export.Sums(r)
	light := func(orb.Point) (float64, bool) { return 0.2, true }
	for _, d := range []*Drawing{Overview(r, sums, Options{Parts: Whole, Shade: light}), Field(r, &sums[0], Options{Parts: Whole, Shade: light})} {
		if !slices.Contains(d.Notes, strokesMean) {
			t.Errorf("%s: the strokes are not explained", d.Title)
		}
	}
	level := func(orb.Point) (float64, bool) { return 0.71, true }
	for _, shade := range []Shade{nil, level} {
		if d := Overview(r, sums, Options{Parts: Whole, Shade: shade}); slices.Contains(d.Notes, strokesMean) {
			t.Error("a map without strokes speaks of them")
		}
	}
}
