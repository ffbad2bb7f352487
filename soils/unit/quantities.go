package unit

// Depth is a distance below the soil surface in centimetres, the survey's own unit: whole centimetres stay exact
// in window sums, which metres as binary fractions would not.
type Depth float64

// Metres returns the depth in metres.
func (d Depth) Metres() float64 { return float64(d) / 100 }

// Inches returns the depth in inches (exactly 2.54 cm).
func (d Depth) Inches() float64 { return float64(d) / 2.54 }

// Percent is a share out of 100.
type Percent float64

// Fraction is a share out of 1.
type Fraction float64

// PH is the reaction of soil in water, 1:1 by mass, as the survey and most laboratories report it.
type PH float64

// PHCaCl2 is the reaction of soil in 0.01 M calcium chloride; it reads about half a unit below PH and is never
// converted to it silently.
type PHCaCl2 float64

// Length is a length in metres.
type Length float64

// Area is an area in square metres.
type Area float64

// Mass is a mass in kilograms.
type Mass float64

// AreaRate is a mass over an area in kilograms per square metre.
type AreaRate float64

// Over returns the mass that the rate puts on an area.
func (r AreaRate) Over(a Area) Mass { return Mass(float64(r) * float64(a)) }

// Water is a height of water in millimetres.
type Water float64

// Conductivity is electrical conductivity of a saturation extract in dS/m.
type Conductivity float64
