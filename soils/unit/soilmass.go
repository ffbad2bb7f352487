package unit

// BulkDensity is the dry mass of soil in its volume in g/cm³, the survey's and the laboratory's own unit.
type BulkDensity float64

// PlowSlice is the soil that North American laboratories mean when they print pounds per acre: 2,000,000 lb of it,
// which makes pounds per acre twice the parts per million.
// Source: Joines, UT fertility recommendations for Tennessee row crops; 2,400,000 lb for 8 inches in UC Davis
// Analytical Laboratory, lime requirement method 450, so a laboratory that says otherwise must be believed.
const PlowSlice = 2e6 * PoundPerAcre

// SoilOver returns the dry soil over an area for a thickness and a bulk density.
//
//	kg/m² = g/cm³ × 1000 × cm ÷ 100
//
// Source: definition.
func SoilOver(thickness Depth, bulk BulkDensity) AreaRate {
	return AreaRate(float64(bulk) * float64(thickness) * 10)
}

// InchesDeep returns the depth of n inches (exactly 2.54 cm each).
func InchesDeep(n float64) Depth { return Depth(n * 2.54) }
