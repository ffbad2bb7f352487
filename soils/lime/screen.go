package lime

import (
	"math"

	"rootworthy/soils/unit"
)

// Screening is the lime that a texture and a pH ask for, from the table alone.
type Screening struct {
	Rate    unit.Opt[unit.AreaRate] // calcium carbonate; missing = no figure
	Column  Texture                 // column of the table: SandyLoam, Loam or ClayLoam; TextureUnknown when none was used
	Bound   string                  // AtLeast, AtMost, or "" where the table holds
	Why     string                  // why the rate is missing or zero: AtTarget, AboveTable, OrganicSurface, AcidSand, NoTexture
	Caveats []string                // BelowTable, TargetAbove, OutsideTable, SandCeiling
}

// Stable codes of a screening.
const (
	AtLeast = "at least" // the figure is a floor
	AtMost  = "at most"  // the figure is a ceiling

	AtTarget       = "at target"            // zero
	AboveTable     = "above the table"      // zero at least: between 6.5 and a higher target
	OrganicSurface = "organic surface"      // no figure
	AcidSand       = "sand below pH 5.0"    // no figure
	NoTexture      = "texture not recorded" // no figure

	BelowTable   = "value at pH 5.0"   // more acid than the table: its value at 5.0, a floor
	TargetAbove  = "floor above 6.5"   // the table ends at 6.5
	OutsideTable = "outside the table" // clays: the clay loam column, a floor
	SandCeiling  = "ceiling for sands" // the sandy loam column, a ceiling
)

// column is one texture of the table: pounds of calcium carbonate on 100 ft² to raise the soil from pH 5.0, 5.5 and
// 6.0 to 6.5.
type column struct{ from50, from55, from60 float64 }

// table is the screening table.
// Source: lb of limestone per 100 ft² to pH 6.5 by texture, a gardening reference page (agroconection.com, "Raising pH
// with limestone"); read. Its origin, its depth and the quality of its lime are not known: 100 % CCE is assumed and
// nothing is scaled by depth.
// Range: pH 5.0 to 6.5.
var table = map[Texture]column{
	SandyLoam: {8, 6, 3},
	Loam:      {10.5, 8, 4},
	ClayLoam:  {15, 10.5, 5.5},
}

const (
	tableFrom   = 5.0
	tableTarget = 6.5
)

// columnFor returns the column that a texture is read from. Silts go with loam, the loams with clay by proposal.
func columnFor(t Texture) (column Texture, caveat string) {
	switch t {
	case Sand, LoamySand:
		return SandyLoam, SandCeiling
	case SandyLoam:
		return SandyLoam, ""
	case Loam, SiltLoam, Silt:
		return Loam, ""
	case SandyClayLoam, ClayLoam, SiltyClayLoam:
		return ClayLoam, ""
	case SandyClay, SiltyClay, Clay:
		return ClayLoam, OutsideTable
	}
	return TextureUnknown, ""
}

// to65 returns lb per 100 ft² from pH to 6.5: straight between the three columns, straight to nothing at 6.5, and the
// value at 5.0 below.
// Source: the last stretch is a proposal.
func (c column) to65(pH float64) float64 {
	between := func(at, a, b float64) float64 { return a + (b-a)*(pH-at)/0.5 }
	switch {
	case pH >= tableTarget:
		return 0
	case pH >= 6:
		return between(6, c.from60, 0)
	case pH >= 5.5:
		return between(5.5, c.from55, c.from60)
	case pH >= tableFrom:
		return between(tableFrom, c.from50, c.from55)
	}
	return c.from50
}

// Screen returns the screening figure for a soil of texture t at a surface pH, to be limed to target.
//
//	rate = table(pH → 6.5) − table(target → 6.5)    zero at the target or above
//
// A target under 6.5 takes off what the table asks for between it and 6.5 (proposal); above 6.5, where the table ends,
// the figure to 6.5 is a floor. Below pH 5.0 it is the value at 5.0, a floor; sands have no figure there.
// Source: see table. Range: pH 5.0 to 6.5; beyond, Bound says which way the figure errs.
func Screen(t Texture, pH, target unit.PH) Screening {
	now, to := math.Round(float64(pH)*1e6)/1e6, float64(target) // binary noise must not ask for lime
	col, caveat := columnFor(t)
	switch {
	// first: soil at its target needs none, of whatever texture
	case now >= to:
		return Screening{Rate: unit.Some(unit.AreaRate(0)), Column: col, Why: AtTarget}
	case t == Organic:
		return Screening{Why: OrganicSurface}
	case col == TextureUnknown:
		return Screening{Why: NoTexture}
	case now < tableFrom && caveat == SandCeiling:
		return Screening{Why: AcidSand, Caveats: []string{SandCeiling}}
	}
	s := Screening{Column: col}
	lb := table[col].to65(now) - table[col].to65(to)
	s.Rate = unit.Some(unit.AreaRate(lb) * poundPer100ft2)
	// three ways to be beyond the table, each of which makes the figure too small if anything
	floor := to > tableTarget || now < tableFrom || caveat == OutsideTable
	switch {
	case floor && caveat == SandCeiling: // neither way holds
	case floor:
		s.Bound = AtLeast
	case caveat == SandCeiling:
		s.Bound = AtMost
	}
	if now < tableFrom {
		s.Caveats = append(s.Caveats, BelowTable)
	}
	if to > tableTarget {
		s.Caveats = append(s.Caveats, TargetAbove)
	}
	if caveat != "" {
		s.Caveats = append(s.Caveats, caveat)
	}
	// not at the target, or it would have left above; so the table has nothing to say between 6.5 and a higher target
	if lb == 0 {
		s.Why = AboveTable
	}
	return s
}

// poundPer100ft2 is one pound on a hundred square feet: 435.6 lb/ac, 0.2178 short tons/ac.
const poundPer100ft2 = unit.AreaRate(float64(unit.Pound) / (100 * float64(unit.SquareFoot)))
