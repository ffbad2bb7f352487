package mapdraw

import (
	"math"
	"strings"
	"testing"

	"rootworthy/export"
	"rootworthy/export/quillmoor"
	"rootworthy/suitability"
)

// The legend of an overview of any kind holds all the ground, and the shares are of all of it.
func TestOverviewLegendHoldsAllGround(t *testing.T) {
	r := quillmoor.Result()
	sums := export.Sums(r)
	whole := 0.0
	for i := range sums {
		whole += float64(sums[i].Field.Area)
	}
	for _, k := range Kinds() {
		area, share := 0.0, 0.0
		for _, row := range OverviewRows(sums, k) {
			area, share = area+row.Area, share+row.Share
			// A field counts as a whole for its largest part, and the words own up to it.
			if (k == Class || k == Today) && row.Letter != OutsideLook().Letter && !strings.HasPrefix(row.Word, "Mostly ") {
				t.Errorf("%s: whole fields are called %q", k, row.Word)
			}
		}
		if math.Abs(area-whole) > 1e-6*whole || math.Abs(share-1) > 1e-9 {
			t.Errorf("%s: the legend holds %v of %v m², shares %v", k, area, whole, share)
		}
		d := Overview(r, sums, Options{Kind: k, Parts: Whole})
		if !strings.Contains(d.Title, overviewTitle(k)) || !strings.Contains(d.Desc, "5 fields") {
			t.Errorf("%s: %q, %q", k, d.Title, d.Desc)
		}
	}
}

// A field's mean is over the zones that have a value, by area; by hand: Q3 has rocky ground without a figure and woods with
// 1.26324 short tons an acre, Q4 has nothing.
func TestMeanZone(t *testing.T) {
	sums := export.Sums(quillmoor.Result())
	if x, ok := meanZone(&sums[2]).Lime.Likely.Get(); !ok || math.Abs(x.ShortTonsPerAcre()-1.26324) > 1e-9 {
		t.Errorf("Q3: lime %v, %v", x.ShortTonsPerAcre(), ok)
	}
	z := meanZone(&sums[3])
	if z.Lime.Likely.Has() || z.Rating.Values.PHSurface.Has() || z.Rating.Values.PHSubsoil.Has() {
		t.Error("Q4 has figures out of nothing")
	}
	for i := range sums {
		sum, area := 0.0, 0.0
		for _, z := range sums[i].Zones {
			if x, ok := z.Rating.Values.PHSurface.Get(); ok {
				sum, area = sum+float64(x)*float64(z.Area), area+float64(z.Area)
			}
		}
		x, ok := meanZone(&sums[i]).Rating.Values.PHSurface.Get()
		if ok != (area > 0) || ok && math.Abs(float64(x)-sum/area) > 1e-9 {
			t.Errorf("%s: pH %v, want %v", sums[i].Field.ID, x, sum/area)
		}
		if z := meanZone(&sums[i]); z.Rating.Class != sums[i].Class() {
			t.Errorf("%s: %v, want %v", sums[i].Field.ID, z.Rating.Class, sums[i].Class())
		}
	}
}

// Bars are as wide as their shares, patterned as on the maps, and nothing leaves the sheet, not even a long name.
func TestBars(t *testing.T) {
	part := func(c suitability.Class, share float64) BarPart { return BarPart{ClassLook(c), share} }
	bars := []Bar{
		{"1. A", []BarPart{part(suitability.Suited, 0.6), part(suitability.Marginal, 0.3), part(suitability.Unsuited, 0.1), part(suitability.NotRated, 0)}},
		{"2. " + strings.Repeat("a very long name of a field ", 5), []BarPart{part(suitability.Unsuited, 1)}},
	}
	for _, width := range []float64{300, 700} {
		d := Bars("Chance of each class by field", bars, Options{Width: width})
		wide := map[Pattern]float64{}
		for i, x := range d.Items {
			switch x := x.(type) {
			case Area:
				low, high := bounds(x.Rings)
				if low.X < 0 || high.X > d.Width+1e-9 || low.Y < 0 || high.Y > d.Height+1e-9 {
					t.Errorf("%v wide: an area leaves the sheet: %v %v", width, low, high)
				}
				if i > 0 && x.Fill != white() {
					wide[x.Pattern] += high.X - low.X
				}
			case Text:
				w := TextWidth(x.Text, x.Size, x.Bold)
				left := x.At.X - w*[...]float64{0, 0.5, 1}[x.Anchor]
				if left < -0.01 || left+w > d.Width+0.01 {
					t.Errorf("%v wide: %q leaves the sheet", width, x.Text)
				}
			}
		}
		if full := wide[Plain] / 0.6; full < width/2 || math.Abs(wide[Dotted]-0.3*full) > 1e-6 || math.Abs(wide[Lined]-1.1*full) > 1e-6 || wide[Dashed] != 0 {
			t.Errorf("%v wide: parts are %v wide", width, wide)
		}
		if s := svgOf(t, d, "b"); !strings.Contains(s, "1. A: suited, 6 chances in 10") || !strings.Contains(s, ">S</text>") {
			t.Errorf("%v wide: no description or no letter", width)
		}
	}
}
