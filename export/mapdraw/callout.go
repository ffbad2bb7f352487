package mapdraw

import (
	"cmp"
	"slices"
)

// frame is the part of the sheet that shows ground.
type frame struct{ x, y, w, h float64 }

// calloutGap is the distance of labels in a column, in parts of their text.
const calloutGap = boxHeight * 1.15

// calledOut puts labels that found no room into columns at the left and right edge of the frame, each joined to its
// place by a line, with a light rim and a dot at its end where dots says so, and returns how many found no room there
// either: the last ones given, so give the largest zones first.
func (d *Drawing) calledOut(f frame, middle float64, labels []label, size float64, dots bool) (left int) {
	gap := size * calloutGap
	// How many labels one column holds.
	room := int((f.h - 2*size) / gap)
	if room < 1 {
		return len(labels)
	}
	if most := 2 * room; len(labels) > most {
		left = len(labels) - most
		labels = labels[:most]
	}
	sorted := slices.Clone(labels)
	slices.SortStableFunc(sorted, func(a, b label) int { return cmp.Compare(a.at.X, b.at.X) })
	west := 0 // as many on the left as lie in the left half, within the room of both columns
	for west < len(sorted) && sorted[west].at.X < middle {
		west++
	}
	west = min(max(west, len(sorted)-room), room)
	d.column(f, sorted[:west], true, gap, dots)
	d.column(f, sorted[west:], false, gap, dots)
	return left
}

// column writes labels one under the other, as near to the height of their places as they can be.
func (d *Drawing) column(f frame, labels []label, west bool, gap float64, dots bool) {
	slices.SortStableFunc(labels, func(a, b label) int { return cmp.Compare(a.at.Y, b.at.Y) })
	ys := spread(labels, f.y+gap, f.y+f.h-gap, gap)
	for i, l := range labels {
		w, h := boxSize(l.text, l.size)
		x := f.x + 4 + w/2
		edge := x + w/2
		if !west {
			x = f.x + f.w - 4 - w/2
			edge = x - w/2
		}
		to := []Point{{edge, ys[i]}, l.at}
		if dots {
			d.add(Line{Paths: [][]Point{to}, Width: d.Style.Core + 2, Color: white()})
		}
		d.add(Line{Paths: [][]Point{to}, Width: d.Style.Core * 0.8, Color: ink()})
		if dots {
			d.add(Dot{l.at, d.Style.Core*1.5 + 1, white()}, Dot{l.at, d.Style.Core * 1.5, ink()})
		}
		d.boxed(l.text, Point{x, ys[i]}, l.size, h)
	}
}

// spread moves heights apart to the gap, keeping their order and as near as may be to where they were.
// Downwards each is pushed below the one before, then upwards from the lower end; with no more labels than there is room for, none leaves
// the frame.
func spread(labels []label, low, high, gap float64) []float64 {
	ys := make([]float64, len(labels))
	for i, l := range labels {
		ys[i] = max(low, l.at.Y)
		if i > 0 {
			ys[i] = max(ys[i], ys[i-1]+gap)
		}
	}
	for i := len(ys) - 1; i >= 0; i-- {
		limit := high
		if i+1 < len(ys) {
			limit = ys[i+1] - gap
		}
		ys[i] = min(ys[i], limit)
	}
	return ys
}

// boxed writes a label in a white box with a thin dark rim: letters are never read off a fill.
func (d *Drawing) boxed(text string, at Point, size, h float64) {
	w, _ := boxSize(text, size)
	d.box(at.X-w/2, at.Y-h/2, w, h, white(), Plain, d.Style.Core*0.6)
	d.add(Text{At: Point{at.X, at.Y + textDrop*size}, Text: text, Size: size, Bold: true, Anchor: Middle, Color: ink()})
}
