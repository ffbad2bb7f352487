package soils

import (
	"testing"

	"rootworthy/soils/unit"
)

// doniphan is the component Doniphan of map unit 994562, Ripley County, Missouri: woodland soil under 2 cm of litter.
// Source: SSURGO MO181, version 22.
func doniphan(t *testing.T) Component {
	h := horizonsOf(t, "0-2 4.3/-/-/-; 2-13 5.8/16.4/-/-; 13-33 4.9/16.9/-/-; 33-79 4.8/68.6/-/-; 79-200 4.8/72.7/-/-")
	for i, name := range []string{"Oi", "A", "BE", "2Bt1", "2Bt2"} {
		h[i].Name = name
	}
	return Component{Name: "Doniphan", Order: "Ultisols", Horizons: h}
}

// The three values were computed from the export by a separately written program: 5.335 with the litter, 5.450 without it in the same window,
// 5.395 in 20 cm from the mineral surface.
func TestDoniphanFromTheMineralSurface(t *testing.T) {
	c := doniphan(t)
	top := Window{0, 20}
	ph, _ := WindowMean(c.Horizons, top, PHOf)
	near(t, "with litter", ph, 5.335, 1e-9)
	ph, _ = WindowMean(c.Horizons[1:], top, PHOf)
	near(t, "litter dropped, same window", ph, 5.450, 1e-9)

	mineral, skipped := c.MineralSurface()
	ph, covered := WindowMean(mineral.Horizons, top, PHOf)
	near(t, "20 cm from the mineral surface", ph, 5.395, 1e-9)
	if skipped != 2 || covered != 20 {
		t.Errorf("skipped %v cm, covered %v cm, want 2, 20", skipped, covered)
	}
	near(t, "first mineral horizon below 5.5", FirstBelow(mineral.Horizons, 5.5, PHOf), 11, 0)
	near(t, "with litter it answers the litter", FirstBelow(c.Horizons, 5.5, PHOf), 0, 0)
	near(t, "the given component keeps its depths", c.Horizons[1].Top, 2, 0)
}

// Depths of three tables are counted from the top of the litter, and all of them have to move by the same centimetres.
func TestMineralSurfaceMovesAllDepths(t *testing.T) {
	c := doniphan(t)
	c.Restrictions = []Restriction{{Kind: "Fragipan", Top: unit.Some[unit.Depth](60), Bottom: unit.None[unit.Depth]()}}
	c.Months = []Month{{Month: 3, Layers: []MoistureLayer{layer(0, 2, "Moist"), layer(0, 30, "Moist"), layer(30, 90, "Wet")}}}
	m, _ := c.MineralSurface()
	near(t, "restriction", m.Restrictions[0].Top, 58, 0)
	if m.Restrictions[0].Bottom.Has() {
		t.Error("a bottom appeared from nothing")
	}
	wet, known := m.ShallowestWet(AllMonths)
	near(t, "wet layer", wet, 28, 0)
	if !known || len(m.Months[0].Layers) != 2 {
		t.Errorf("layers %v, want the one of the litter gone", m.Months[0].Layers)
	}
	near(t, "a layer that began in the litter begins at the surface", m.Months[0].Layers[0].Top, 0, 0)
	near(t, "the given component keeps its wet layer", c.Months[0].Layers[2].Top, 30, 0)
}

// layer is a layer of one month's moisture.
func layer(top, bottom float64, status string) MoistureLayer {
	return MoistureLayer{Top: unit.Some(unit.Depth(top)), Bottom: unit.Some(unit.Depth(bottom)), Status: status}
}

// Litter on mineral ground is skipped; a soil that is organic itself has nothing below to begin at.
func TestOrganicSoilKeepsItsSurface(t *testing.T) {
	litter := func(cm float64) Component {
		c := doniphan(t)
		c.Horizons[0].Bottom = unit.Some(unit.Depth(cm))
		c.Horizons[1].Top = unit.Some(unit.Depth(cm))
		return c
	}
	histosol := litter(2)
	histosol.Order = "Histosols"
	only := litter(2)
	only.Horizons = only.Horizons[:1]
	master := litter(5)
	master.Horizons[0].Name, master.Horizons[0].Master = "H1", "O"
	noBottom := litter(4)
	noBottom.Horizons[0].Bottom = unit.None[unit.Depth]()
	for _, c := range []struct {
		name string
		c    Component
		want unit.Depth
	}{
		{"Histosols", histosol, 0}, {"20 cm of litter", litter(20), 20}, {"over 20 cm", litter(21), 0},
		{"nothing but litter", only, 0}, {"by master horizon", master, 5}, {"bottom not recorded", noBottom, 4},
		{"no horizons", Component{}, 0},
	} {
		if m, skipped := c.c.MineralSurface(); skipped != c.want || (skipped == 0 && len(m.Horizons) != len(c.c.Horizons)) {
			t.Errorf("%s: skipped %v cm, want %v", c.name, skipped, c.want)
		}
	}
}
