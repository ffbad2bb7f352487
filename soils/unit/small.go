package unit

// Small masses and thin sprays, exact from the pound and from the US gallon of 231 cubic inches.
// Source: NIST Special Publication 811, appendix B.
const (
	Ounce Mass = Pound / 16
	Gram  Mass = 1e-3

	// GallonPerAcre is a US gallon over an acre; a litre over a square metre stands one millimetre high.
	GallonPerAcre Water = 231 * 0.0254 * 0.0254 * 0.0254 * 1000 / Water(Acre)
)

// Ounces returns the mass in ounces.
func (m Mass) Ounces() float64 { return float64(m) / float64(Ounce) }

// Grams returns the mass in grams.
func (m Mass) Grams() float64 { return float64(m) / float64(Gram) }

// PoundsPerAcre returns the rate of n pounds an acre.
func PoundsPerAcre(n float64) AreaRate { return AreaRate(n * float64(PoundPerAcre)) }

// PoundsPerAcre returns the rate in pounds an acre.
func (r AreaRate) PoundsPerAcre() float64 { return float64(r) / float64(PoundPerAcre) }
