package sampling

import (
	"fmt"
	"math"

	"rootworthy/soils/unit"
)

// Options tunes [New]; the zero value plans every bag that is worth its while.
type Options struct {
	Seed      uint64      // of the draws; the same seed gives the same plan
	Samples   int         // bags at most; 0 means no limit
	Money     float64     // to spend at most, in any currency; 0 means no limit
	Price     float64     // of a topsoil bag, taken and analysed; needed with Money
	DeepPrice float64     // of a subsoil bag; 0 means Price
	SetBack   unit.Length // least distance of a core from the field's edge; 0 means 20 m
	Headland  unit.Length // width of the strip where machines turn; 0 means none is known
	Cores     int         // in a topsoil bag; 0 means 10
	DeepCores int         // in a subsoil bag; 0 means half of Cores
	Tons      float64     // short tons of lime in the wrong place that weigh as much as an acre of wrong class; 0 means 4
	Fields    []string    // ids of the only fields to sample; none means all
}

// The values behind the zeros.
// Source: cores: common practice, no source (10 to 20 a bag); all else: proposal.
const (
	usualSetBack = 20
	usualCores   = 10
	usualTons    = 4
)

// Check says what in the options is out of range, and what is allowed.
func (o Options) Check() error {
	// NaN is no amount either
	bad := func(x float64) bool { return !(x >= 0) || math.IsInf(x, 0) }
	switch {
	case o.Samples < 0:
		return fmt.Errorf("%d samples are not possible; give one or more", o.Samples)
	case bad(o.Money) || bad(o.Price) || bad(o.DeepPrice):
		return fmt.Errorf("a budget of %g at %g (subsoil %g) a bag is not possible; give amounts above zero", o.Money, o.Price, o.DeepPrice)
	// without a price every bag would be free, and a budget without meaning
	case o.Money > 0 && o.Price == 0:
		return fmt.Errorf("a budget needs the price of a bag, taken and analysed")
	case o.Money > 0 && o.Money < o.Price:
		return fmt.Errorf("a budget of %g does not pay for one bag at %g", o.Money, o.Price)
	case bad(float64(o.SetBack)) || o.SetBack > mostSetBack:
		return fmt.Errorf("a set-back of %.0f ft (%.0f m) is not possible; give at most %d m", o.SetBack.Feet(), float64(o.SetBack), mostSetBack)
	case bad(float64(o.Headland)) || o.Headland > mostSetBack:
		return fmt.Errorf("a headland of %.0f ft (%.0f m) is not possible; give at most %d m", o.Headland.Feet(), float64(o.Headland), mostSetBack)
	case o.Cores < 0 || o.Cores > mostCores || o.DeepCores < 0 || o.DeepCores > mostCores:
		return fmt.Errorf("%d cores (subsoil %d) in a bag are not possible; give from 1 to %d", o.Cores, o.DeepCores, mostCores)
	case bad(o.Tons):
		return fmt.Errorf("%g tons for an acre are not possible; give a number above zero", o.Tons)
	}
	return nil
}

const (
	mostSetBack = 1000 // metres: no field is left beyond
	mostCores   = 50   // a bucket is full
)

// filled puts the usual values in the place of zeros.
func (o Options) filled() Options {
	if o.DeepPrice == 0 {
		o.DeepPrice = o.Price
	}
	if o.SetBack == 0 {
		o.SetBack = usualSetBack
	}
	if o.Cores == 0 {
		o.Cores = usualCores
	}
	if o.DeepCores == 0 {
		o.DeepCores = (o.Cores + 1) / 2
	}
	// a subsoil core is taken where a topsoil core is, so there cannot be more of them
	o.DeepCores = min(o.DeepCores, o.Cores)
	if o.Tons == 0 {
		o.Tons = usualTons
	}
	return o
}

// Clear is how far from the field's edge every core lies: beyond the set-back, and beyond where machines turn.
func (o Options) Clear() unit.Length {
	o = o.filled()
	return max(o.SetBack, o.Headland)
}
