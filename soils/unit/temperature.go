package unit

// Celsius is a temperature in degrees Celsius.
type Celsius float64

// Fahrenheit returns the temperature of so many degrees Fahrenheit. Source: exact, by definition of the scale.
func Fahrenheit(f float64) Celsius { return Celsius((f - 32) / 1.8) }

// Fahrenheit returns the temperature in degrees Fahrenheit.
func (c Celsius) Fahrenheit() float64 { return float64(c)*1.8 + 32 }
