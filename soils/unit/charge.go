package unit

// Charge is exchangeable charge by mass in cmolc/kg, which is the same figure as meq/100 g.
type Charge float64

// VolumeCharge is exchangeable charge by volume in meq/100 cm³ (cmolc/dm³), as laboratories that scoop soil report
// acidity and exchange capacity. It becomes [Charge] only with the density of the scooped soil.
type VolumeCharge float64

// ByMass returns the charge by mass of soil that weighs density in the scoop.
func (v VolumeCharge) ByMass(density BulkDensity) Charge {
	return Charge(float64(v) / float64(density))
}

// Equivalent is the mass in milligrams that carries one milliequivalent of charge.
type Equivalent float64

// The equivalents that laboratories compute with, in whole milligrams: atomic weight ÷ charge, rounded. The exact
// weights differ by 1.3 % for Mg (12.15), 0.2 % for Ca and K and 0.1 % for CaCO3 and Al; turning a laboratory's
// meq back into its own ppm needs the laboratory's figure.
// Source: Spectrum Analytic, "CEC, buffer pH and percent saturation" (K/780, Mg/240, Ca/400 lb/ac per meq/100 g);
// CaCO3: 1 meq/100 g of acidity is 500 mg/kg (Brady & Weil 2008, quoted). Na, Al and H by the same rounding.
const (
	CalciumEquivalent   Equivalent = 20
	MagnesiumEquivalent Equivalent = 12
	PotassiumEquivalent Equivalent = 39
	SodiumEquivalent    Equivalent = 23
	AluminumEquivalent  Equivalent = 9
	HydrogenEquivalent  Equivalent = 1
	CarbonateEquivalent Equivalent = 50 // CaCO3
)

// Content returns the mass that carries the charge: 1 meq/100 g of Ca is 200 mg/kg.
func (c Charge) Content(e Equivalent) Content { return Content(float64(c) * 10 * float64(e)) }

// Content returns the mass that carries the charge, by volume: 1 meq/100 cm³ of Ca is 200 mg/dm³.
func (v VolumeCharge) Content(e Equivalent) VolumeContent {
	return VolumeContent(float64(v) * 10 * float64(e))
}

// Charge returns the charge that a content carries.
func (c Content) Charge(e Equivalent) Charge { return Charge(float64(c) / (10 * float64(e))) }
