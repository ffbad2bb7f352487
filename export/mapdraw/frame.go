package mapdraw

import (
	"math"
	"strconv"

	"rootworthy/export"
)

// frame draws the frame with ticks of longitude and latitude, three to five on a side.
func (m *sheet) frame(v view, f frame) {
	s := m.o.Style
	m.d.add(Line{Paths: [][]Point{rectangle(f.x, f.y, f.w, f.h)}, Closed: true, Width: s.Core, Color: ink()})
	// The south-west and the north-east corner, in degrees.
	low, high := v.back(Point{f.x, f.y + f.h}), v.back(Point{f.x + f.w, f.y})
	tick := s.Text * 0.4
	var marks [][]Point
	step, decimals := degreeStep(low[0], high[0], f.w, s.Text)
	for k := math.Ceil(low[0] / step); k*step <= high[0]; k++ {
		lon := k * step
		x := v.at([2]float64{lon, low[1]}).X
		marks = append(marks, []Point{{x, f.y}, {x, f.y + tick}}, []Point{{x, f.y + f.h}, {x, f.y + f.h - tick}})
		text := degrees(lon, decimals, "E", "W")
		half := TextWidth(text, s.Text, false) / 2
		// A label cut off at the edge of the sheet says less than none.
		if x-half > 0 && x+half < m.o.Width {
			m.d.add(Text{At: Point{x, f.y + f.h + s.Text*1.1}, Text: text, Size: s.Text, Anchor: Middle, Color: ink()})
		}
	}
	step, decimals = degreeStep(low[1], high[1], f.h, s.Text)
	for k := math.Ceil(low[1] / step); k*step <= high[1]; k++ {
		lat := k * step
		y := v.at([2]float64{low[0], lat}).Y
		marks = append(marks, []Point{{f.x, y}, {f.x + tick, y}}, []Point{{f.x + f.w, y}, {f.x + f.w - tick, y}})
		text := degrees(lat, decimals, "N", "S")
		half := TextWidth(text, s.Text, false) / 2
		if at := min(max(y, f.y+half), f.y+f.h-half); math.Abs(at-y) < half { // near a corner a label is moved along
			m.d.add(Text{At: Point{f.x - s.Text*0.35, at}, Text: text, Size: s.Text, Anchor: Middle, Up: true, Color: ink()})
		}
	}
	m.d.add(Line{Paths: marks, Width: s.Core, Color: ink()})
}

// degreeStep chooses the distance of ticks: round, and so that three to five fit, fewer where their labels would not.
func degreeStep(low, high, length, text float64) (step float64, decimals int) {
	// Seven times the height of the text is a label such as "91.225° W" with some room beside it.
	most := max(2, min(5, int(length/(text*7))))
	fits := func(step float64) bool { return int(math.Floor(high/step)-math.Ceil(low/step))+1 <= most }
	for decimals = 6; decimals > 0; decimals-- {
		unit := math.Pow(10, -float64(decimals))
		for _, k := range []float64{1, 2, 2.5, 5} {
			step = k * unit
			if !fits(step) {
				continue
			}
			// Two and a half has a decimal more than its power of ten.
			if k == 2.5 {
				decimals++
			}
			return step, decimals
		}
	}
	// Beyond a few degrees the powers of ten are too far apart.
	for _, step = range []float64{1, 2, 5, 10, 15} {
		if fits(step) {
			return step, 0
		}
	}
	return 30, 0
}

// degrees prints a longitude or latitude: "91.225° W".
func degrees(x float64, decimals int, plus, minus string) string {
	side := plus
	if x < 0 {
		x, side = -x, minus
	}
	return strconv.FormatFloat(x, 'f', decimals, 64) + "° " + side
}

// Feet and metres of the scale bar. Source: the international foot, 0.3048 m exactly.
const foot = 0.3048

// scaleRow draws the scale bar, feet above and metres below, and the north arrow beside it.
func (m *sheet) scaleRow(v view, f frame) {
	s := m.o.Style
	t := s.Text
	y := m.y + t*1.7
	// A good third of the frame: the north arrow and its words stand beside the bars.
	most := f.w * 0.36
	// Two bars of round lengths rather than one with a crooked number on its other side.
	feet, metres := roundLength(most/v.scale/foot), roundLength(most/v.scale)
	m.bar(f.x, y, feet*foot*v.scale, export.Thousands(int(feet))+" ft", -t*0.45)
	m.bar(f.x, y+t*0.35, metres*v.scale, export.Thousands(int(metres))+" m", t*1.1+t*0.35)
	north := f.x + f.w - t*1.1
	m.d.add(Area{Rings: [][]Point{{{north, y - t*1.1}, {north + t*0.55, y + t*0.9}, {north, y + t*0.45}, {north - t*0.55, y + t*0.9}}}, Fill: ink()},
		Text{At: Point{north - t*0.9, y + t*0.3}, Text: "True north is up", Size: t, Anchor: End, Color: ink()})
	m.y = y + t*2.1
}

// bar draws one scale: four boxes, dark and light by turns, and its length at the end.
func (m *sheet) bar(x, y, length float64, text string, drop float64) {
	s := m.o.Style
	h := s.Text * 0.35
	for i := range 4 {
		fill := ink()
		if i%2 == 1 {
			fill = white()
		}
		m.d.box(x+length*float64(i)/4, y, length/4, h, fill, Plain, s.Core*0.6)
	}
	size := s.Text
	// A negative drop writes above the bar, where the zero has room as well.
	if drop < 0 {
		m.d.add(Text{At: Point{x + length, y + drop}, Text: text, Size: size, Anchor: End, Color: ink()}, Text{At: Point{x, y + drop}, Text: "0", Size: size, Color: ink()})
		return
	}
	m.d.add(Text{At: Point{x + length, y + drop}, Text: text, Size: size, Anchor: End, Color: ink()})
}

// roundLength returns the largest of 1, 2, 4 or 5 times a power of ten that is no longer than most, and at least 1.
func roundLength(most float64) float64 {
	best := 1.0
	for unit := 1.0; unit <= most; unit *= 10 {
		for _, k := range []float64{1, 2, 4, 5} {
			if k*unit <= most {
				best = k * unit
			}
		}
	}
	return best
}
