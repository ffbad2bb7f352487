package lime

import (
	"math"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"rootworthy/soils"
	"rootworthy/soils/unit"
)

// A screen goes by texture and pH alone; where the table ends it gives a bound or a reason, and no figure drawn out beyond it.
func TestScreenBoundsAndReasons(t *testing.T) {
	none := -1.0
	for name, c := range map[string]struct {
		texture    Texture
		pH, target unit.PH
		lb         float64
		bound, why string
		caveats    []string
	}{
		"between the columns":           {SandyLoam, 5.45, 6.5, 6.2, "", "", nil},
		"six to six and a half":         {Loam, 6.25, 6.5, 2, "", "", nil},
		"at target":                     {Loam, 6.5, 6.5, 0, "", AtTarget, nil},
		"a rounding error under target": {Loam, 6.5 - 1e-9, 6.5, 0, "", AtTarget, nil},
		"above target":                  {Clay, 7.2, 6.5, 0, "", AtTarget, nil},
		"organic but at target":         {Organic, 6.8, 6.5, 0, "", AtTarget, nil},
		"below the table":               {ClayLoam, 4.2, 6.5, 15, AtLeast, "", []string{BelowTable}},
		"silt loam reads as loam":       {SiltLoam, 5.5, 6.5, 8, "", "", nil},
		"silt reads as loam":            {Silt, 5.5, 6.5, 8, "", "", nil},
		"sandy clay loam":               {SandyClayLoam, 5.5, 6.5, 10.5, "", "", nil},
		"silty clay loam":               {SiltyClayLoam, 5.5, 6.5, 10.5, "", "", nil},
		"clay is outside":               {Clay, 5.5, 6.5, 10.5, AtLeast, "", []string{OutsideTable}},
		"sandy clay, below and outside": {SandyClay, 4.8, 6.5, 15, AtLeast, "", []string{BelowTable, OutsideTable}},
		"sand":                          {Sand, 5.5, 6.5, 6, AtMost, "", []string{SandCeiling}},
		"sand at the end of the table":  {Sand, 5.0, 6.5, 8, AtMost, "", []string{SandCeiling}},
		"loamy sand below the table":    {LoamySand, 4.9, 6.5, none, "", AcidSand, []string{SandCeiling}},
		"organic":                       {Organic, 5.5, 6.5, none, "", OrganicSurface, nil},
		"texture not recorded":          {TextureUnknown, 5.5, 6.5, none, "", NoTexture, nil},
		"a higher target is a floor":    {Loam, 5.5, 6.8, 8, AtLeast, "", []string{TargetAbove}},
		"between the table and target":  {Loam, 6.6, 6.8, 0, AtLeast, AboveTable, []string{TargetAbove}},
		"sand to a higher target":       {Sand, 5.5, 6.8, 6, "", "", []string{TargetAbove, SandCeiling}},
		"a lower target takes off":      {Loam, 5.5, 6.25, 6, "", "", nil},
	} {
		s := Screen(c.texture, c.pH, c.target)
		lb := none
		if r, ok := s.Rate.Get(); ok {
			lb = float64(r) / float64(poundPer100ft2)
		}
		if math.Abs(lb-c.lb) > 1e-9 || s.Bound != c.bound || s.Why != c.why || !slices.Equal(s.Caveats, c.caveats) {
			t.Errorf("%s: %v lb, %q, %q, %q; want %v, %q, %q, %q", name, lb, s.Bound, s.Why, s.Caveats, c.lb, c.bound, c.why, c.caveats)
		}
	}
}

// More acid soil never needs less, and a higher target never less, whatever the texture.
func TestMoreAcidNeverNeedsLess(t *testing.T) {
	ph := rapid.Float64Range(3, 9)
	rapid.Check(t, func(t *rapid.T) {
		texture := rapid.SampledFrom(Textures()).Draw(t, "texture")
		a, b := ph.Draw(t, "pH"), ph.Draw(t, "other pH")
		x, y := rapid.Float64Range(6.2, 7).Draw(t, "target"), rapid.Float64Range(6.2, 7).Draw(t, "other target")
		need := func(pH, target float64) float64 {
			return float64(Screen(texture, unit.PH(pH), unit.PH(target)).Rate.Or(0))
		}
		if need(min(a, b), x) < need(max(a, b), x)-1e-12 && Screen(texture, unit.PH(min(a, b)), unit.PH(x)).Rate.Has() {
			t.Fatalf("%v at %v needs less than at %v", texture, min(a, b), max(a, b))
		}
		if need(a, max(x, y)) < need(a, min(x, y))-1e-12 && Screen(texture, unit.PH(a), unit.PH(max(x, y))).Rate.Has() {
			t.Fatalf("%v at %v needs less for %v than for %v", texture, a, max(x, y), min(x, y))
		}
	})
}

// To the nearest step, and a need that is not zero is never rounded to none.
func TestOnStep(t *testing.T) {
	for _, c := range []struct{ rate, step, want unit.AreaRate }{
		{1.3504, 0.25, 1.25}, {1.375, 0.25, 1.5}, {0.01, 0.25, 0.25}, {0, 0.25, 0}, {1.3504, 0, 1.3504}, {0.3, 0.1, 0.3}, {0.15, 0.1, 0.2},
	} {
		if got := OnStep(c.rate, c.step); math.Abs(float64(got-c.want)) > 1e-12 {
			t.Errorf("OnStep(%v, %v) = %v, want %v", c.rate, c.step, got, c.want)
		}
	}
}

// Passes add up to the rate, none over the most.
func TestPassesKeepTheMass(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		rate := unit.AreaRate(rapid.Float64Range(0.001, 20).Draw(t, "rate"))
		most := unit.AreaRate(rapid.Float64Range(0.3, 4).Draw(t, "most"))
		sum := unit.AreaRate(0)
		for _, p := range Passes(rate, most) {
			if p > most || p < 0 {
				t.Fatalf("a pass of %v over %v", p, most)
			}
			sum += p
		}
		if math.Abs(float64(sum-rate)) > 1e-8*float64(rate) {
			t.Fatalf("passes of %v at %v sum to %v", rate, most, sum)
		}
	})
}

// Every class goes through its words; every code of the survey has a class.
func TestTextures(t *testing.T) {
	for _, x := range Textures() {
		if got, ok := ParseTexture(x.String()); x != Organic && (!ok || got != x) {
			t.Errorf("ParseTexture(%q) = %v, %v", x.String(), got, ok)
		}
		if col, _ := columnFor(x); (col == TextureUnknown) != (x == Organic) {
			t.Errorf("%v is read from column %v", x, col)
		}
	}
	for _, code := range soils.TextureClasses() {
		if got, ok := ParseTexture(code); !ok || got == TextureUnknown {
			t.Errorf("code %q of the survey has no class", code)
		}
	}
	for s, want := range map[string]Texture{
		"": TextureUnknown, "BR": TextureUnknown, "VAR": TextureUnknown, "GRV-SIL": SiltLoam, "MK-L": Loam, "SR- FSL SICL": SiltyClayLoam,
		"Fine sandy loam": SandyLoam, "LVFS": LoamySand, "very fine sand": Sand, "SPM": Organic, "muck": Organic, "CEM-MAT": TextureUnknown,
	} {
		if got, ok := ParseTexture(s); got != want || ok != (want != TextureUnknown) {
			t.Errorf("ParseTexture(%q) = %v, %v, want %v", s, got, ok, want)
		}
	}
}

// By thickness within the window; of equals the finer, which asks for more lime.
func TestSurfaceTexture(t *testing.T) {
	h := func(top, bottom float64, texture, name string) soils.Horizon {
		return soils.Horizon{Name: name, Top: unit.Some(unit.Depth(top)), Bottom: unit.Some(unit.Depth(bottom)), Texture: texture}
	}
	for name, c := range map[string]struct {
		horizons []soils.Horizon
		want     Texture
	}{
		"thickest":                   {[]soils.Horizon{h(0, 15, "SL", "A"), h(15, 150, "SCL", "Bt")}, SandyLoam},
		"a tie goes to the finer":    {[]soils.Horizon{h(0, 10, "SL", "A"), h(10, 150, "CL", "Bt")}, ClayLoam},
		"layers of one class add up": {[]soils.Horizon{h(0, 6, "FSL", "A"), h(6, 14, "CL", "BA"), h(14, 20, "VFSL", "Bt")}, SandyLoam},
		"an organic surface":         {[]soils.Horizon{h(0, 30, "", "Oa")}, Organic},
		"nothing recorded":           {[]soils.Horizon{h(0, 20, "", "A")}, TextureUnknown},
	} {
		if got, _ := SurfaceTexture(c.horizons, soils.Window{From: 0, To: 20}); got != c.want {
			t.Errorf("%s: %v, want %v", name, got, c.want)
		}
	}
}
