package unit

// Content is how much of something dry soil holds by mass, in mg/kg. The trade writes it ppm.
type Content float64

// VolumeContent is how much of something a volume of soil holds, in mg/dm³. Laboratories that scoop soil instead of
// weighing it report this. It becomes [Content] only with the density of the scooped soil.
type VolumeContent float64

// ByMass returns the content by mass of soil that weighs density in the scoop.
func (v VolumeContent) ByMass(density BulkDensity) Content {
	return Content(float64(v) / float64(density))
}

// ContentFromPercent returns the content of p percent by mass.
func ContentFromPercent(p float64) Content { return Content(p * 1e4) }

// ContentFromGramsPerKilogram returns the content of g grams in a kilogram of soil.
func ContentFromGramsPerKilogram(g float64) Content { return Content(g * 1e3) }

// ContentFromPoundsPerAcre returns the content that a laboratory printed as lb/ac of a slice of soil that weighs
// slice pounds on an acre: 2e6 makes lb/ac twice the ppm. The slice is the laboratory's to state.
func ContentFromPoundsPerAcre(lb, slice float64) Content { return Content(lb * 1e6 / slice) }

// ContentFromKilogramsPerHectare is the same for kg/ha of a slice that weighs slice kilograms on a hectare.
func ContentFromKilogramsPerHectare(kg, slice float64) Content { return Content(kg * 1e6 / slice) }

// Over returns what a content amounts to over the ground: mg/kg is not a rate until somebody says how much soil.
func (c Content) Over(soil AreaRate) AreaRate { return AreaRate(float64(c) * 1e-6 * float64(soil)) }

// The factors between an element and the oxide that fertilizer is sold by.
// Source: handbook factors P × 2.2914 = P2O5 and K × 1.2046 = K2O.
const (
	PhosphateOfPhosphorus = 2.2914 // P2O5 per P by mass
	PotashOfPotassium     = 1.2046 // K2O per K by mass
)
