package samplesheet

import (
	"math"
	"slices"
	"strconv"

	"github.com/paulmach/orb"
	"github.com/paulmach/orb/planar"

	"rootworthy/export/mapdraw"
	"rootworthy/suitability/sampling"
)

// The map of a field: zones in outline, cores as numbered dots, the way between them.
const (
	mapWidth  = 700.0 // pixels
	mapMost   = 900.0 // height
	mapMargin = 26.0
	metresDeg = 111320 // in a degree of latitude; near enough to draw
)

// The colours: black on white, with one blue for the way, which prints as grey.
func black() mapdraw.Color { return mapdraw.Color{R: 26, G: 26, B: 26} }
func blue() mapdraw.Color  { return mapdraw.Color{R: 44, G: 127, B: 184} }
func grey() mapdraw.Color  { return mapdraw.Color{R: 120, G: 120, B: 120} }

// view puts degrees on the sheet.
type view struct {
	box    orb.Bound
	east   float64 // metres in a degree of longitude
	scale  float64 // pixels in a metre
	height float64
}

// viewOf scales a box so that it fits into the picture both ways, north up. A field is so small that degrees count as equal over it.
func viewOf(box orb.Bound) view {
	v := view{box: box, east: metresDeg * math.Cos(box.Center()[1]*math.Pi/180)}
	w, h := (box.Max[0]-box.Min[0])*v.east, (box.Max[1]-box.Min[1])*metresDeg
	// A metre at least either way, so that a single stop does not divide by nothing.
	v.scale = min((mapWidth-2*mapMargin)/max(w, 1), (mapMost-3*mapMargin)/max(h, 1))
	v.height = h*v.scale + 3*mapMargin
	return v
}

// at is where a place lies on the sheet, whose y goes down.
func (v view) at(p orb.Point) mapdraw.Point {
	return mapdraw.Point{X: mapMargin + (p[0]-v.box.Min[0])*v.east*v.scale, Y: mapMargin + (v.box.Max[1]-p[1])*metresDeg*v.scale}
}

// paths turns the rings of a shape into lines; a ring's last point repeats its first.
func (v view) paths(shape orb.MultiPolygon) (out [][]mapdraw.Point) {
	for _, polygon := range shape {
		for _, ring := range polygon {
			var path []mapdraw.Point
			for _, p := range ring[:max(0, len(ring)-1)] {
				path = append(path, v.at(p))
			}
			out = append(out, path)
		}
	}
	return out
}

// closeUp is the share of a field's width and height under which the stops get a map of their own.
const closeUp = 0.4

// maps draws a field: the whole, and the ground around the stops where that is a small part of it.
// Both sides have to be small: a row of stops along one edge is seen well enough on the whole map.
func maps(p *sampling.Plan, f *sampling.Field) []*mapdraw.Drawing {
	whole := f.Field.Shape.Bound()
	out := []*mapdraw.Drawing{draw(p, f, whole)}
	var at orb.MultiPoint
	for _, s := range f.Stops {
		at = append(at, s.At)
	}
	near := at.Bound()
	w, h := near.Max[0]-near.Min[0], near.Max[1]-near.Min[1]
	if w < closeUp*(whole.Max[0]-whole.Min[0]) && h < closeUp*(whole.Max[1]-whole.Min[1]) {
		// Half their span on every side and 20 m more, so that a single stop has something around it too.
		pad := max(w, h)/2 + 20.0/metresDeg
		out = append(out, draw(p, f, near.Pad(pad)))
	}
	return out
}

// draw draws the part of a field within a box.
func draw(p *sampling.Plan, f *sampling.Field, box orb.Bound) *mapdraw.Drawing {
	v := viewOf(box)
	d := &mapdraw.Drawing{Width: mapWidth, Height: v.height, Style: mapdraw.Screen(), Title: "Where to sample in " + fieldName(f.Field),
		Desc: strconv.Itoa(len(f.Stops)) + " numbered stops in the field, in the order of the table below"}
	add := func(x mapdraw.Item) { d.Items = append(d.Items, x) }
	for _, i := range f.Field.Zones {
		if i >= 0 && i < len(p.Result.Zones) {
			add(mapdraw.Line{Paths: v.paths(p.Result.Zones[i].Shape), Closed: true, Width: 1, Color: grey()})
		}
	}
	add(mapdraw.Line{Paths: v.paths(f.Field.Shape), Closed: true, Width: 2.2, Color: black()})
	var way []mapdraw.Point
	for _, s := range f.Stops {
		way = append(way, v.at(s.At))
	}
	add(mapdraw.Line{Paths: [][]mapdraw.Point{way}, Width: 1.2, Color: blue()})
	for i := range f.Stops {
		add(mapdraw.Dot{At: way[i], Radius: 3.4, Color: black()})
	}
	// Numbers come first and names of zones take what room is left: the driver walks by the numbers.
	taken := number(f, way, add)
	zoneNames(p, f, v, taken, add)
	scaleBar(v, add)
	return d
}

// barFeet is the length of the scale bar: the longest of 10 ft, 20, 50, 100, 200 … that stays under 200 pixels, and 10 ft at least. On the
// close-up of a plot a hundred feet would run off the sheet.
func barFeet(v view) float64 {
	feet := 10.0
	for tens := 10.0; tens*0.3048*v.scale < 200; tens *= 10 {
		for _, k := range []float64{1, 2, 5} {
			if k*tens*0.3048*v.scale < 200 {
				feet = k * tens
			}
		}
	}
	return feet
}

// scaleBar draws a length on the ground and where north is, on white: in a close-up the edges of field and zones run on below it.
func scaleBar(v view, add func(mapdraw.Item)) {
	feet := barFeet(v)
	y, w := v.height-mapMargin/2, feet*0.3048*v.scale
	text := strconv.Itoa(int(feet)) + " ft (" + strconv.Itoa(int(feet*0.3048+0.5)) + " m). North is up."
	right := mapMargin + w + 14 + mapdraw.TextWidth(text, 12, false)
	add(mapdraw.Area{Rings: [][]mapdraw.Point{{{X: mapMargin - 6, Y: y - 14}, {X: right, Y: y - 14}, {X: right, Y: y + 6}, {X: mapMargin - 6, Y: y + 6}}}, Fill: mapdraw.Color{R: 255, G: 255, B: 255}})
	add(mapdraw.Line{Paths: [][]mapdraw.Point{{{X: mapMargin, Y: y - 5}, {X: mapMargin, Y: y}, {X: mapMargin + w, Y: y}, {X: mapMargin + w, Y: y - 5}}}, Width: 1.5, Color: black()})
	add(mapdraw.Text{At: mapdraw.Point{X: mapMargin + w + 8, Y: y}, Text: text, Size: 12, Color: black()})
}

// number writes the numbers of the stops beside their dots. One that would lie on another or on a dot is left out: the stops
// before and after it, the way between and the table tell which it is.
func number(f *sampling.Field, way []mapdraw.Point, add func(mapdraw.Item)) (taken []orb.Bound) {
	const size = 12.0
	// Dots are in the way of every number, those of stops still to come too.
	for _, q := range way {
		taken = append(taken, orb.Bound{Min: orb.Point{q.X - 3.4, q.Y - 3.4}, Max: orb.Point{q.X + 3.4, q.Y + 3.4}})
	}
	for i, s := range f.Stops {
		text := strconv.Itoa(s.Number)
		w := mapdraw.TextWidth(text, size, true)
		// To the right of the dot, else to its left.
		for _, left := range []float64{way[i].X + 5, way[i].X - 5 - w} {
			box := orb.Bound{Min: orb.Point{left, way[i].Y - 5}, Max: orb.Point{left + w, way[i].Y + 5}}
			if slices.ContainsFunc(taken, box.Intersects) {
				continue
			}
			add(mapdraw.Text{At: mapdraw.Point{X: left, Y: way[i].Y + 4}, Text: text, Size: size, Bold: true, Color: black()})
			taken = append(taken, box)
			break
		}
	}
	return taken
}

// zoneNames writes "zone 2" in the middle of every zone, where the middle lies in it and nothing else is written there.
func zoneNames(p *sampling.Plan, f *sampling.Field, v view, taken []orb.Bound, add func(mapdraw.Item)) {
	const size = 12.0
	for _, i := range f.Field.Zones {
		if i < 0 || i >= len(p.Result.Zones) {
			continue
		}
		z := &p.Result.Zones[i]
		middle, _ := planar.CentroidArea(z.Shape)
		// The middle of a bent or holed zone may lie in another one, which the name would then seem to mean.
		if !v.box.Contains(middle) || !planar.MultiPolygonContains(z.Shape, middle) {
			continue
		}
		at, text := v.at(middle), "zone "+strconv.Itoa(z.Number)
		w := mapdraw.TextWidth(text, size, false)
		box := orb.Bound{Min: orb.Point{at.X - w/2, at.Y - 6}, Max: orb.Point{at.X + w/2, at.Y + 6}}
		if slices.ContainsFunc(taken, box.Intersects) {
			continue
		}
		taken = append(taken, box)
		add(mapdraw.Text{At: mapdraw.Point{X: at.X, Y: at.Y + 4}, Text: text, Size: size, Anchor: mapdraw.Middle, Color: grey()})
	}
}
