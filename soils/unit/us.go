package unit

// The customary units, exact from the 1959 international yard (0.9144 m) and pound (0.45359237 kg).
// "Acre" is the international acre; the US survey acre is 4 parts in a million larger.
const (
	Acre     Area = 4840 * 0.9144 * 0.9144
	Hectare  Area = 10000
	Pound    Mass = 0.45359237
	ShortTon Mass = 2000 * 0.45359237
	Tonne    Mass = 1000

	ShortTonPerAcre AreaRate = AreaRate(float64(ShortTon) / float64(Acre))
	PoundPerAcre    AreaRate = AreaRate(float64(Pound) / float64(Acre))
	TonnePerHectare AreaRate = 0.1
	SquareFoot      Area     = 0.3048 * 0.3048
)

// Acres returns the area of n acres.
func Acres(n float64) Area { return Area(n * float64(Acre)) }

// Hectares returns the area of n hectares.
func Hectares(n float64) Area { return Area(n) * Hectare }

// Acres returns the area in acres.
func (a Area) Acres() float64 { return float64(a) / float64(Acre) }

// Hectares returns the area in hectares.
func (a Area) Hectares() float64 { return float64(a) / float64(Hectare) }

// ShortTonsPerAcre returns the rate of n short tons (2,000 lb) an acre.
func ShortTonsPerAcre(n float64) AreaRate { return AreaRate(n * float64(ShortTonPerAcre)) }

// ShortTonsPerAcre returns the rate in short tons an acre.
func (r AreaRate) ShortTonsPerAcre() float64 { return float64(r) / float64(ShortTonPerAcre) }

// TonnesPerHectare returns the rate in metric tons a hectare.
func (r AreaRate) TonnesPerHectare() float64 { return float64(r) / float64(TonnePerHectare) }

// ShortTons returns the mass in short tons of 2,000 lb.
func (m Mass) ShortTons() float64 { return float64(m) / float64(ShortTon) }

// Pounds returns the mass in pounds.
func (m Mass) Pounds() float64 { return float64(m) / float64(Pound) }
