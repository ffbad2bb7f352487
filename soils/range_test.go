package soils_test

import (
	"testing"

	"rootworthy/soils"
	"rootworthy/soils/unit"
)

// The wet layer that counts brings its own range; of several at one depth the widest.
func TestWetRange(t *testing.T) {
	cm := func(d float64) unit.Opt[unit.Depth] { return unit.Some(unit.Depth(d)) }
	wet := func(low, top, high unit.Opt[unit.Depth]) soils.MoistureLayer {
		return soils.MoistureLayer{TopLow: low, Top: top, TopHigh: high, Status: "Wet"}
	}
	none := unit.None[unit.Depth]()
	for _, tc := range []struct {
		name   string
		layers []soils.MoistureLayer
		want   soils.Range[unit.Depth]
	}{
		{"one", []soils.MoistureLayer{wet(cm(30), cm(46), cm(61))}, soils.Range[unit.Depth]{Low: cm(30), Value: cm(46), High: cm(61)}},
		{"the shallower of two", []soils.MoistureLayer{wet(cm(30), cm(46), cm(61)), wet(cm(10), cm(20), cm(25))}, soils.Range[unit.Depth]{Low: cm(10), Value: cm(20), High: cm(25)}},
		{"the deeper changes nothing", []soils.MoistureLayer{wet(cm(10), cm(20), cm(25)), wet(cm(5), cm(46), cm(90))}, soils.Range[unit.Depth]{Low: cm(10), Value: cm(20), High: cm(25)}},
		{"two at one depth", []soils.MoistureLayer{wet(cm(10), cm(20), none), wet(cm(15), cm(20), cm(40))}, soils.Range[unit.Depth]{Low: cm(10), Value: cm(20), High: cm(40)}},
		{"no range", []soils.MoistureLayer{wet(none, cm(20), none)}, soils.Range[unit.Depth]{Value: cm(20)}},
		{"no depth", []soils.MoistureLayer{wet(cm(1), none, cm(2))}, soils.Range[unit.Depth]{}},
	} {
		c := soils.Component{Months: []soils.Month{{Month: 2, Layers: tc.layers}}}
		if got, known := c.WetRange(soils.NovemberToJune); got != tc.want || !known {
			t.Errorf("%s: %+v, want %+v", tc.name, got, tc.want)
		}
	}
}

// By hand: 20 cm at 0.10 (0.08 to 0.14) and 80 cm at 0.15 without a range hold 20 + 120 mm, at the ends 16 + 120 and 28 + 120.
func TestWaterEnds(t *testing.T) {
	cm := func(d float64) unit.Opt[unit.Depth] { return unit.Some(unit.Depth(d)) }
	h := []soils.Horizon{{Top: cm(0), Bottom: cm(20), AWC: unit.Some(0.10), AWCLow: unit.Some(0.08), AWCHigh: unit.Some(0.14)},
		{Top: cm(20), Bottom: cm(100), AWC: unit.Some(0.15)}, {Top: cm(100), Bottom: cm(150), AWCLow: unit.Some(0.05), AWCHigh: unit.Some(0.1)}}
	low, high := soils.WaterEnds(h, 150)
	at, _ := soils.AvailableWater(h, 150)
	near := func(w unit.Opt[unit.Water], want unit.Water) bool {
		x, ok := w.Get()
		return ok && x > want-1e-9 && x < want+1e-9
	}
	if !near(low, 136) || !near(at, 140) || !near(high, 148) {
		t.Errorf("%v, %v, %v mm; want 136, 140, 148", low, at, high)
	}
}

// Litter is taken off the ends of ranges as off the depths.
func TestLitterIsTakenOffRanges(t *testing.T) {
	cm := func(d float64) unit.Opt[unit.Depth] { return unit.Some(unit.Depth(d)) }
	c := soils.Component{Horizons: []soils.Horizon{{Name: "Oi", Top: cm(0), Bottom: cm(5)}, {Name: "A", Top: cm(5), Bottom: cm(60)}},
		Restrictions: []soils.Restriction{{Kind: "Fragipan", TopLow: cm(45), Top: cm(55), TopHigh: cm(65)}},
		Months:       []soils.Month{{Month: 1, Layers: []soils.MoistureLayer{{TopLow: cm(35), Top: cm(45), TopHigh: cm(55), Status: "Wet"}}}}}
	m, skipped := c.MineralSurface()
	if r := m.Restrictions[0]; skipped != 5 || r.TopLow != cm(40) || r.TopHigh != cm(60) {
		t.Errorf("restriction %+v after %v cm", r, skipped)
	}
	if l := m.Months[0].Layers[0]; l.TopLow != cm(30) || l.TopHigh != cm(50) {
		t.Errorf("layer %+v", l)
	}
}
