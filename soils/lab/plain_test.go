package lab

import (
	"bytes"
	"math"
	"reflect"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/paulmach/orb"
	"pgregory.net/rapid"

	"rootworthy/internal/diag"
	"rootworthy/soils/unit"
)

// maybe draws a value or none.
func maybe[T any](t *rapid.T, g *rapid.Generator[T], label string) (o unit.Opt[T]) {
	if rapid.Bool().Draw(t, "has "+label) {
		return unit.Some(g.Draw(t, label))
	}
	return o
}

// figureIn draws a value in a range, or none.
func figureIn[T ~float64](t *rapid.T, lo, hi float64, label string) unit.Opt[T] {
	return maybe(t, rapid.Map(rapid.Float64Range(lo, hi), func(v float64) T { return T(v) }), label)
}

// readingIn draws every kind of reading that the plain form can write: exact, limited, not detected, not measured.
func readingIn[T ~float64](t *rapid.T, hi float64, label string) Reading[T] {
	r := Reading[T]{Value: figureIn[T](t, 0, hi, label)}
	switch {
	case r.Value.Has():
		r.Bound = rapid.SampledFrom([]Bound{Exactly, Below, Above}).Draw(t, label+" bound")
	case rapid.Bool().Draw(t, label+" not detected"):
		r.Bound = Below
	}
	return r
}

// word draws text as cells keep it: no blanks at the ends or in a row.
var word = rapid.Map(rapid.StringMatching(`[A-Za-zäß"';,|\-/ ]{0,12}[A-Za-z]`), squeeze)

// drawSample fills every field that the plain form has, within what the reader takes as possible.
func drawSample(t *rapid.T) Sample {
	day := rapid.Map(rapid.IntRange(0, 80000), func(n int) time.Time { return time.Date(1990, 1, 1+n/2, 0, 0, 0, 0, time.UTC) })
	s := Sample{ID: word.Draw(t, "id"), Lab: "L " + word.Draw(t, "lab"), LabNumber: word.Draw(t, "number"),
		Place:   Place{Field: word.Draw(t, "field"), Zone: word.Draw(t, "zone"), MapUnit: "u" + word.Draw(t, "unit")},
		Cores:   maybe(t, rapid.IntRange(1, 40), "cores"),
		Taken:   maybe(t, day, "taken"),
		PH:      unit.Some(unit.PH(rapid.Float64Range(2, 12).Draw(t, "pH"))), // a result that keeps the row
		PHCaCl2: figureIn[unit.PHCaCl2](t, 2, 12, "pH CaCl2"),
		Buffer: Buffers{figureIn[unit.PHMehlich](t, 3, 9, "mehlich"), figureIn[unit.PHAdamsEvans](t, 3, 9, "ae"), figureIn[unit.PHMooreSikora](t, 3, 9, "ms"),
			figureIn[unit.PHSMP](t, 3, 9, "smp"), figureIn[unit.PHSikora](t, 3, 9, "sikora"), figureIn[unit.PHWoodruff](t, 3, 9, "woodruff")},
		LBC: figureIn[unit.LimeBuffering](t, 1, 5000, "lbc"), LBCeq: figureIn[unit.LimeBufferingEq](t, 1, 5000, "lbceq"),
		CEC: figureIn[unit.Charge](t, 0, 60, "cec"), CECByVolume: figureIn[unit.VolumeCharge](t, 0, 60, "cec by volume"),
		OrganicMatter: readingIn[unit.Percent](t, 100, "om"), Clay: figureIn[unit.Percent](t, 0, 100, "clay"),
		Density: figureIn[unit.BulkDensity](t, 0.05, 3, "density"), BulkDensity: figureIn[unit.BulkDensity](t, 0.05, 3, "bulk density"), EC: figureIn[unit.Conductivity](t, 0, 50, "ec"),
	}
	s.PHAssumed = rapid.Bool().Draw(t, "assumed")
	if rapid.Bool().Draw(t, "reported") {
		s.Reported = unit.Some(day.Draw(t, "reported"))
	}
	if top := figureIn[unit.Depth](t, 0, 400, "top"); top.Has() {
		s.Top, s.Bottom = top, unit.Some(top.Or(0)+unit.Depth(rapid.Float64Range(0.5, 500).Draw(t, "thickness")))
	}
	s.Place.Point = maybe(t, rapid.Custom(func(t *rapid.T) orb.Point {
		return orb.Point{rapid.Float64Range(-180, 180).Draw(t, "lon"), rapid.Float64Range(1, 90).Draw(t, "lat")}
	}), "point")
	for _, m := range append([]AcidityMethod{0}, AcidityMethods()...) {
		a := Acidity{Method: m}
		if rapid.Bool().Draw(t, "by volume") {
			a.ByVolume = readingIn[unit.VolumeCharge](t, 60, "acidity")
		} else {
			a.ByMass = readingIn[unit.Charge](t, 60, "acidity")
		}
		if a.ByMass.Measured() || a.ByVolume.Measured() {
			s.Acidity = append(s.Acidity, a)
		}
	}
	drawNutrients(t, &s)
	for range rapid.IntRange(0, 2).Draw(t, "advice") {
		s.Lime = append(s.Lime, Recommendation{Crop: word.Draw(t, "crop"), Text: word.Draw(t, "text"), Rate: figureIn[unit.AreaRate](t, 0, 20, "lime")})
	}
	return s
}

// drawNutrients gives an element one extractant at most, by mass or by volume.
func drawNutrients(t *rapid.T, s *Sample) {
	for _, e := range Elements() {
		if x := rapid.IntRange(0, 6).Draw(t, "nutrient"); x < 2 {
			n := Nutrient{Element: e, Extractant: rapid.SampledFrom(append([]Extractant{0}, Extractants()...)).Draw(t, "extractant")}
			if x == 0 {
				n.ByMass = readingIn[unit.Content](t, 1e6, "content")
			} else {
				n.ByVolume = readingIn[unit.VolumeContent](t, 3e6, "content")
			}
			if e != Hydrogen && (n.ByMass.Measured() || n.ByVolume.Measured()) {
				s.Nutrients = append(s.Nutrients, n)
			}
		} else if x == 2 {
			s.Saturation = append(s.Saturation, Saturation{e, unit.Percent(rapid.Float64Range(0, 110).Draw(t, "saturation"))})
		}
	}
}

// What is written plainly reads back as it was, whatever the samples hold.
func TestPlainRoundTrip(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		samples := rapid.SliceOfN(rapid.Custom(drawSample), 1, 4).Draw(t, "samples")
		var b bytes.Buffer
		if err := WritePlain(&b, samples); err != nil {
			t.Fatal(err)
		}
		var faults diag.List
		r, err := Read("plain.csv", bytes.NewReader(b.Bytes()), int64(b.Len()), nil, &faults)
		if err != nil || faults.Faults() != 0 {
			t.Fatalf("%v, %s\n%s", err, faults.String(), b.String())
		}
		if why := differs(samples, r.Samples); why != "" {
			t.Fatalf("%s\n%s", why, b.String())
		}
	})
}

// differs compares samples but for what says where they were read; empty means equal.
func differs(a, b []Sample) string {
	if len(a) != len(b) {
		return "the number of samples"
	}
	for i := range a {
		x, y := bare(a[i]), bare(b[i])
		if len(x.Lime) != len(y.Lime) {
			return "the number of recommendations"
		}
		for j := range x.Lime {
			p, q := float64(x.Lime[j].Rate.Or(-1)), float64(y.Lime[j].Rate.Or(-1))
			if math.Abs(p-q) > 1e-12*math.Abs(p) { // kg/m² to tons/ac and back: two roundings
				return "a lime rate"
			}
			x.Lime[j].Rate, y.Lime[j].Rate = unit.None[unit.AreaRate](), unit.None[unit.AreaRate]()
		}
		vx, vy := reflect.ValueOf(x), reflect.ValueOf(y)
		for f := range vx.NumField() {
			if !reflect.DeepEqual(vx.Field(f).Interface(), vy.Field(f).Interface()) {
				return vx.Type().Field(f).Name
			}
		}
	}
	return ""
}

// bare drops where a sample was read and in which words, which writing anew changes.
func bare(s Sample) Sample {
	s.File, s.Sheet, s.Line = "", "", 0
	s.Nutrients = slices.Clone(s.Nutrients)
	for i := range s.Nutrients {
		s.Nutrients[i].Given = ""
	}
	s.Lime = slices.Clone(s.Lime)
	for i := range s.Lime {
		s.Lime[i].Given = ""
	}
	return s
}

// The order of columns changes nothing.
func TestColumnOrderChangesNothing(t *testing.T) {
	rows := [][]string{{"sample_id", "ph_water", "buffer", "buffer_ph", "extractant", "p_ppm", "lon", "lat"}, {"A", "5.5", "smp", "6.4", "m3", "<5", "-83.1", "32.5"}}
	join := func(order []int) string {
		var b strings.Builder
		for _, row := range rows {
			for i, j := range order {
				if i > 0 {
					b.WriteByte(',')
				}
				b.WriteString(row[j])
			}
			b.WriteByte('\n')
		}
		return b.String()
	}
	straight, _ := readString(t, join([]int{0, 1, 2, 3, 4, 5, 6, 7}), nil)
	rapid.Check(t, func(rt *rapid.T) {
		r, faults := readString(t, join(rapid.Permutation([]int{0, 1, 2, 3, 4, 5, 6, 7}).Draw(rt, "order")), nil)
		if why := differs(straight.Samples, r.Samples); why != "" || faults.Faults() != 0 {
			rt.Fatalf("%s differs; %s", why, faults)
		}
	})
}

// BenchmarkReadText reads a table as a cooperative would send: 10,000 samples of 25 columns.
func BenchmarkReadText(b *testing.B) {
	header := "sample_id,field_id,top_cm,bottom_cm,date,ph_water,buffer_ph_mehlich,cec_meq,om_pct,p_m3_ppm,k_m3_ppm,ca_m3_ppm,mg_m3_ppm,s_m3_ppm,b_m3_ppm,zn_m3_ppm,mn_m3_ppm,cu_m3_ppm,lon,lat,lab_lime_st_ac\n"
	text := header + strings.Repeat("A1,home,0,15,2026-03-14,5.4,6.2,8.1,2.4,38,91,\"1,150\",140,7,<0.3,1.2,33,0.9,-83.51234,32.51234,1.5\n", 10000)
	b.SetBytes(int64(len(text)))
	for b.Loop() {
		var faults diag.List
		if r, err := Read("b.csv", strings.NewReader(text), int64(len(text)), nil, &faults); err != nil || len(r.Samples) != 10000 {
			b.Fatal(err, len(r.Samples))
		}
	}
}
