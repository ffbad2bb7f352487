package unit

// Soil tests and plants are counted in elements, fertilizer is sold by oxides. The four functions keep the quantity they
// are given: mass, rate or content.

// Phosphate returns the P2O5 that holds so much phosphorus.
func Phosphate[T ~float64](phosphorus T) T { return phosphorus * PhosphateOfPhosphorus }

// Phosphorus returns the phosphorus in so much P2O5.
func Phosphorus[T ~float64](phosphate T) T { return phosphate / PhosphateOfPhosphorus }

// Potash returns the K2O that holds so much potassium.
func Potash[T ~float64](potassium T) T { return potassium * PotashOfPotassium }

// Potassium returns the potassium in so much K2O.
func Potassium[T ~float64](potash T) T { return potash / PotashOfPotassium }
