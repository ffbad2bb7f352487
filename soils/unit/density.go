package unit

// PerArea counts things on the ground, per square metre: seeds, plants, stems, insects.
type PerArea float64

// PerLength counts things along a row, per metre.
type PerLength float64

// PerMass counts things in a mass, per kilogram: seeds.
type PerMass float64

// The customary units. Source: exact, from the foot of 0.3048 m and the pound of 0.45359237 kg.
const (
	Foot          Length    = 0.3048
	PerSquareFoot PerArea   = PerArea(1 / float64(SquareFoot))
	PerFoot       PerLength = PerLength(1 / float64(Foot))
	PerPound      PerMass   = PerMass(1 / float64(Pound))
)

// PerSquareFoot returns the count per square foot.
func (d PerArea) PerSquareFoot() float64 { return float64(d) * float64(SquareFoot) }

// PerFoot returns the count per foot of row.
func (d PerLength) PerFoot() float64 { return float64(d) * float64(Foot) }

// Along returns how many lie on a length of row when rows stand so far apart.
func (d PerArea) Along(spacing Length) PerLength { return PerLength(float64(d) * float64(spacing)) }

// Over returns how many lie on an area when so much mass of them is put there.
func (n PerMass) Over(rate AreaRate) PerArea { return PerArea(float64(n) * float64(rate)) }

// Inches returns the length of n inches (exactly 2.54 cm each).
func Inches(n float64) Length { return Length(n * 0.0254) }

// Inches returns the length in inches.
func (l Length) Inches() float64 { return float64(l) / 0.0254 }

// Feet returns the length in feet.
func (l Length) Feet() float64 { return float64(l) / float64(Foot) }
