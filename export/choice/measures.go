package choice

import (
	"fmt"
	"math"

	"rootworthy/export/words"
	"rootworthy/soils/unit"
	"rootworthy/suitability/ranking"
	"rootworthy/suitability/season"
)

// unknown is what stands where a value is missing.
const unknown = "not known"

// perAcre turns the cost of a suited square metre into that of an acre: money, or short tons of lime.
func (c *Choice) perAcre(x float64) float64 {
	if c.Basis == ranking.ByMoney {
		return x * float64(unit.Acre)
	}
	return unit.AreaRate(x).ShortTonsPerAcre()
}

// costUnit is the unit of that.
func (c *Choice) costUnit() string {
	if c.Basis == ranking.ByMoney {
		return c.Currency
	}
	return "tons of lime"
}

// cost says what a suited acre costs: "1.4 (0.7 to 2.8)".
func (c *Choice) cost(f *ranking.Field) string {
	m := f.Measures[ranking.Cost]
	if m.State != ranking.Known {
		return state(m)
	}
	likely := c.amount(m.Likely)
	if m.Low == m.High {
		return likely
	}
	return fmt.Sprintf("%s (%s to %s)", likely, c.amount(m.Low), c.amount(m.High))
}

// amount prints a cost of an acre: tons to tenths, money to whole units.
func (c *Choice) amount(x float64) string {
	if c.Basis == ranking.ByMoney {
		return words.Decimal(c.perAcre(x), 0)
	}
	return words.Tons(c.perAcre(x))
}

// suited says how much ground is suited: "40.1 (21.0 to 44.2)".
// Measures of ground come in square metres.
func suited(f *ranking.Field) string {
	m := f.Measures[ranking.Suited]
	if m.State != ranking.Known {
		return state(m)
	}
	low, likely, high := words.Acres(unit.Area(m.Low)), words.Acres(unit.Area(m.Likely)), words.Acres(unit.Area(m.High))
	if low == high {
		return likely
	}
	return fmt.Sprintf("%s (%s to %s)", likely, low, high)
}

// state says why there is no value.
func state(m ranking.Measure) string {
	// Known, and nothing: that is told apart from not known.
	if m.State == ranking.Hopeless {
		return "none suited"
	}
	return unknown
}

// ready says when at least half of the suited ground can be sown.
func (c *Choice) ready(f *ranking.Field) string {
	m := f.Measures[ranking.Ready]
	switch {
	case m.State != ranking.Known:
		return state(m)
	case c.Start == ranking.ByWindow:
		return words.Date(season.Day(f.Facts.Sow.First))
	}
	return words.WaitDays(m.Likely)
}

// Sure is the chance that the field is suited enough.
func Sure(f *ranking.Field) string {
	if p, ok := chance(f); ok {
		return words.Chance(p)
	}
	return unknown
}

// chance is that chance as words may say it: what was drawn is never sure and never without hope.
func chance(f *ranking.Field) (p float64, ok bool) {
	if p, ok = f.Measures[ranking.Sure].Value().Get(); ok && f.Facts.ChanceOff > 0 {
		p = min(max(p, 0.001), 0.999)
	}
	return p, ok
}

// risk is the share of the suited ground that may prove worse.
func risk(f *ranking.Field) string {
	m := f.Measures[ranking.Risk]
	if m.State != ranking.Known {
		return state(m)
	}
	return percent(m.Likely)
}

// percent prints a share; what is there never reads as nothing, and what is not all never as all.
func percent(x float64) string {
	switch {
	case x > 0 && x < 0.005:
		return "<1 %"
	case x < 1 && x >= 0.995:
		return ">99 %"
	}
	return words.Decimal(100*x, 0) + " %"
}

// tenth says a share as people do: "3 acres in 10".
// The bounds are those of chances in words: beyond them tenths would hide how little or how much it is.
func tenth(x float64) string {
	switch {
	case x < 0.005:
		return "hardly any of it"
	case x >= 0.995:
		return "all of it"
	case x < 0.095 || x > 0.905:
		return words.Count(int(math.Round(100*x)), "acre", "acres") + " in 100"
	}
	return words.Count(int(math.Round(10*x)), "acre", "acres") + " in 10"
}

// score prints marks or a score out of 100.
func score(x float64) string { return words.Fixed(100*x, 0) }

// SuitedAcres is the ground that is suited once limed, in acres, for reading.
func SuitedAcres(f *ranking.Field) string {
	if m := f.Measures[ranking.Suited]; m.State == ranking.Known {
		return words.Acres(unit.Area(m.Likely))
	}
	return unknown
}
