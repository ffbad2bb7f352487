package lime

import (
	"fmt"

	"rootworthy/soils/unit"
)

// Quality is how effective the lime is that a rate is written in, percent of pure fine calcium carbonate (ECCE).
type Quality unit.Percent

// The two qualities with a name.
const (
	// AsSold is agricultural lime as its dealers sell it: the recommendation has its quality built in, and nobody says
	// which. It is spread as it stands.
	AsSold Quality = 0
	// Carbonate is pure fine calcium carbonate.
	Carbonate Quality = 100
)

// String returns the quality in words.
func (q Quality) String() string {
	switch q {
	case AsSold:
		return "agricultural lime as sold"
	case Carbonate:
		return "calcium carbonate (100 % effective)"
	}
	return fmt.Sprintf("lime of %g %% ECCE", float64(q))
}

// Rate is an amount of lime over the ground in the quality it is written in. [Product.AsSpread] alone turns it into
// product, and what that returns is no Rate: quality cannot be divided by twice.
type Rate struct {
	amount  unit.AreaRate
	quality Quality
}

// Of returns a rate of lime of a quality.
func Of(amount unit.AreaRate, q Quality) Rate { return Rate{amount, q} }

// Amount returns the rate in the quality it is written in, kg/m².
func (r Rate) Amount() unit.AreaRate { return r.amount }

// Quality returns the quality it is written in.
func (r Rate) Quality() Quality { return r.quality }

// Times returns the rate multiplied.
func (r Rate) Times(f float64) Rate { return Rate{r.amount * unit.AreaRate(f), r.quality} }

// Carbonate returns the same effect as calcium carbonate; ok is false for lime as sold, whose quality nobody states.
func (r Rate) Carbonate() (amount unit.AreaRate, ok bool) {
	return r.amount * unit.AreaRate(r.quality) / 100, r.quality != AsSold
}
