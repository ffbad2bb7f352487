package lime

import "rootworthy/soils/unit"

// Product is a liming material as it comes.
type Product struct {
	ECCE     unit.Percent // effective calcium carbonate equivalent of the dry material: CCE × fineness; 0 means 100
	Moisture unit.Percent // water, percent of the mass as spread
}

// AsSpread returns how much of the product goes over the ground for a recommendation given as calcium carbonate.
//
//	product = recommendation / (ECCE/100) / (1 - moisture/100)
//
// A recommendation that already assumes a state's certified lime is not calcium carbonate: dividing it again by ECCE
// would count the quality twice.
// Source: the first division from the definition of ECCE (as in 2 Miss. Code R. 1-3-04-100.01 for relative neutralising value); the second, for
// moisture, from memory, not checked.
// Range: ECCE over 0; moisture from 0 to under 100.
func (p Product) AsSpread(recommendation unit.AreaRate) unit.AreaRate {
	ecce := p.ECCE
	if ecce == 0 {
		ecce = 100
	}
	return recommendation / unit.AreaRate(ecce/100) / unit.AreaRate(1-p.Moisture/100)
}

// ECCE returns the effective calcium carbonate equivalent.
//
//	ECCE = CCE × fineness / 100
//
// Source: British Columbia Ministry of Agriculture, factsheet 637.200-2 (2015).
// Range: both over 0; CCE up to about 180 for burned lime, fineness up to 100.
func ECCE(cce, fineness unit.Percent) unit.Percent { return cce * fineness / 100 }

// Sieved is what a sieve test says: percent of the material in each size, by US mesh. The rest is coarser than 8.
type Sieved struct{ Finer60, From20To60, From8To20 unit.Percent }

// Fineness returns the percent of the material that works, by size.
//
//	fineness = finer than 60 mesh × 1.0 + 20 to 60 × 0.6 + 8 to 20 × 0.2
//
// Source: British Columbia Ministry of Agriculture, factsheet 637.200-2 (2015). States use other sieves and factors:
// where the label gives the product's own figure, that one counts.
// Range: each from 0 to 100, together at most 100.
func (s Sieved) Fineness() unit.Percent { return s.Finer60 + 0.6*s.From20To60 + 0.2*s.From8To20 }

// RNV returns Mississippi's relative neutralising value, which takes the place of ECCE there.
//
//	RNV = CCE × (percent through 10 mesh + percent through 50 mesh) / 2 / 100
//
// Source: 2 Miss. Code R. 1-3-04-100.01.
// Range: pass50 up to pass10, both up to 100.
func RNV(cce, pass10, pass50 unit.Percent) unit.Percent { return cce * (pass10 + pass50) / 200 }

// CornellENV returns New York's effective neutralising value from cumulative passes.
//
//	ENV = CCE × (through 100 mesh × 1.0 + 60 to 100 × 0.8 + 20 to 60 × 0.4) / 100
//
// Source: Cornell University CCA study material, performance objective 41.
// Range: pass100 ≤ pass60 ≤ pass20 ≤ 100.
func CornellENV(cce, pass20, pass60, pass100 unit.Percent) unit.Percent {
	return cce * (pass100 + 0.8*(pass60-pass100) + 0.4*(pass20-pass60)) / 100
}
