package mapdraw

import (
	"strings"
	"testing"

	"github.com/paulmach/orb"

	"rootworthy/export"
	"rootworthy/export/quillmoor"
)

// Labels beside fields hide no field and no other label, and stay in the frame.
func TestLabelsBesideHideNothing(t *testing.T) {
	m := &sheet{}
	f := frame{0, 0, 400, 300}
	var fields [][]part
	var labels []label
	for i := range 40 {
		x, y := 20+float64(i%8)*47, 15+float64(i/8)*60
		fields = append(fields, []part{{rectangle(x, y, 8, 8)}})
		labels = append(labels, label{text: "F10 U", at: Point{x + 4, y + 4}, out: true, size: 9})
	}
	placed, rest := m.beside(f, fields, labels)
	if len(placed)+len(rest) != len(labels) || len(placed) < 30 {
		t.Fatalf("%d placed, %d left of %d", len(placed), len(rest), len(labels))
	}
	for i, l := range placed {
		w, h := boxSize(l.text, l.size)
		box := around(l.at, w, h)
		if !box.within(f) {
			t.Errorf("label %d leaves the frame: %v", i, box)
		}
		for _, p := range fields {
			if low, high := bounds(p[0]); box.meets(rect{low, high}) {
				t.Errorf("label %d hides a field", i)
			}
		}
		for k := range i {
			if box.meets(around(placed[k].at, w, h)) {
				t.Errorf("labels %d and %d overlap", k, i)
			}
		}
	}
}

// Every field of an overview is labelled with its class, one outside the survey with a question mark.
func TestOverviewLabelsEveryField(t *testing.T) {
	r := quillmoor.Result()
	sums := export.Sums(r)
	s := svgOf(t, Overview(r, sums, Options{Parts: Whole}), "m")
	for i := range sums {
		want := sums[i].Field.ID + " ?"
		if sums[i].Field.Trouble == "" {
			want = sums[i].Field.ID + " " + ClassLook(sums[i].Class()).Letter
		}
		if !strings.Contains(s, ">"+want+"</text>") {
			t.Errorf("no label %q", want)
		}
	}
}

// Shade darkens by dots over the ground, and only where it is known and in shade.
func TestShadeDrawsDots(t *testing.T) {
	r := quillmoor.Result()
	sums := export.Sums(r)
	dots := func(shade Shade) (n int) {
		for _, x := range Field(r, &sums[0], Options{Shade: shade}).Items {
			if d, ok := x.(Dot); ok && d.Color == grey() {
				n++
			}
		}
		return n
	}
	dark := dots(func(orb.Point) (float64, bool) { return 0.1, true })
	west := dots(func(p orb.Point) (float64, bool) { return 0.1, p[0] < r.Fields[0].Shape.Bound().Center()[0] })
	if dark < 100 || west < dark*4/10 || west > dark*6/10 {
		t.Errorf("%d dots in all, %d in the western half", dark, west)
	}
	if dots(nil)+dots(func(orb.Point) (float64, bool) { return 0.9, true })+dots(func(orb.Point) (float64, bool) { return 0, false }) > 0 {
		t.Error("dots where there is no shade")
	}
}
