package mapdraw

import (
	"math"
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

// On a narrow map of scattered fields no label lies on another, and those without room are counted.
func TestOverviewLabelsStayApart(t *testing.T) {
	r := quillmoor.Result()
	for i := range r.Fields { // long names, which have little room
		r.Fields[i].ID += strings.Repeat("-long", 3)
		r.Fields[i].Zones = nil
	}
	sums := export.Sums(r)
	for _, width := range []float64{200, 260, 340, 660} {
		for _, kind := range Kinds() {
			d := Overview(r, sums, Options{Kind: kind, Width: width})
			var boxes []rect
			for _, x := range d.Items {
				if l, ok := x.(Text); ok && l.Bold && strings.Contains(l.Text, "long") {
					w, h := boxSize(l.Text, l.Size)
					boxes = append(boxes, around(Point{l.At.X, l.At.Y - textDrop*l.Size}, w, h))
				}
			}
			for i := range boxes {
				for k := range i {
					if boxes[i].meets(boxes[k]) {
						t.Errorf("%v wide, %s: two labels overlap: %v, %v", width, kind, boxes[i], boxes[k])
					}
				}
			}
			if hidden := strings.Contains(svgOf(t, d, "m"), "too small to number"); hidden != (len(boxes) < len(sums)) {
				t.Errorf("%v wide, %s: %d labels of %d, and the rest is not counted", width, kind, len(boxes), len(sums))
			}
		}
	}
}

// Shade darkens by strokes over the ground, of one field and of many, and only where it is known and in shade: longer
// where it is darker, never out of the frame.
func TestShadeDrawsStrokes(t *testing.T) {
	r := quillmoor.Result()
	sums := export.Sums(r)
	strokes := func(draw func(Options) *Drawing, shade Shade) (n int, long float64) {
		for _, x := range draw(Options{Shade: shade}).Items {
			if l, ok := x.(Line); ok && l.Width == reliefWidth {
				n = len(l.Paths)
				for _, p := range l.Paths {
					if p[1].X < p[0].X || p[1].Y < p[0].Y {
						t.Fatalf("a stroke %v that does not fall to the right", p)
					}
					long = math.Max(long, math.Hypot(p[1].X-p[0].X, p[1].Y-p[0].Y))
				}
			}
		}
		return n, long
	}
	one := func(o Options) *Drawing { return Field(r, &sums[0], o) }
	all := func(o Options) *Drawing { return Overview(r, sums, o) }
	even := func(light float64) Shade { return func(orb.Point) (float64, bool) { return light, true } }
	for name, draw := range map[string]func(Options) *Drawing{"one field": one, "many": all} {
		dark, long := strokes(draw, even(0))
		dim, short := strokes(draw, even(0.4))
		if dark < 100 || dim != dark || math.Abs(long-reliefLong*reliefStep) > 1e-9 || math.Abs(short-long/3) > 1e-9 {
			t.Errorf("%s: %d strokes of %v in the dark, %d of %v where it is dim", name, dark, long, dim, short)
		}
		for _, shade := range []Shade{nil, even(0.9), even(math.Sqrt2 / 2), func(orb.Point) (float64, bool) { return 0, false }} {
			if n, _ := strokes(draw, shade); n > 0 {
				t.Errorf("%s: %d strokes where there is no shade", name, n)
			}
		}
	}
	dark, _ := strokes(one, even(0.1))
	middle := r.Fields[0].Shape.Bound().Center()[0]
	west, _ := strokes(one, func(p orb.Point) (float64, bool) { return 0.1, p[0] < middle })
	if west < dark*4/10 || west > dark*6/10 {
		t.Errorf("%d strokes in all, %d in the western half", dark, west)
	}
}
