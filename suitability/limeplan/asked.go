package limeplan

import (
	"strconv"
	"strings"
	"time"

	"rootworthy/soils/lime"
	"rootworthy/soils/unit"
	"rootworthy/suitability"
)

// Asked is the lime that a run asks of a zone, pass by pass.
type Asked struct {
	Passes  []unit.AreaRate // of the product as spread, the first one first; 0 for each where the run does not say how much
	Product lime.Product    // that the rates are of
	AsSold  bool            // the rates are lime as sold, whose quality nobody states: pure lime cannot be held against them
	Seen    time.Time       // the newest soil test that the rates rest on has seen the lime of all days before; the zero time without one
}

// AskedOf returns what a run asks of one of its zones. The product and the cap are those that the run was made with.
func AskedOf(r *suitability.Result, z *suitability.Zone) Asked {
	a := Asked{Product: lime.Product{ECCE: unit.Percent(optionOf(r, "lime-ecce")), Moisture: unit.Percent(optionOf(r, "lime-moisture"))}, AsSold: z.Lime.AsSold}
	if t := z.Rating.Tested.Surface; t != nil {
		// A sample without a day says nothing of what was there before: the zero time then stays.
		a.Seen, _ = time.Parse(time.DateOnly, t.Newest)
	}
	product, cap := z.Lime.Product.Or(0), CapOf(r)
	for pass := 1; pass <= z.Lime.Passes; pass++ {
		a.Passes = append(a.Passes, OfPass(product, z.Lime.Passes, cap, pass))
	}
	return a
}

// OfPass returns what of a product goes on in one yearly pass, counted from 1. The passes of a zone add up to its product; a zone that needs
// fewer passes gets nothing in the later ones. most is the cap of a year, as [CapOf] has it.
func OfPass(product unit.AreaRate, passes int, most unit.AreaRate, pass int) unit.AreaRate {
	if pass > passes {
		return 0
	}
	if split := lime.Passes(product, most); len(split) == passes {
		return split[pass-1]
	}
	return product / unit.AreaRate(passes) // the run was capped otherwise than it says; equal passes are under any cap
}

// CapOf returns the most of a product that a run allowed in a year: the user's figure, or else the profile's; 0 when neither is known.
func CapOf(r *suitability.Result) unit.AreaRate {
	if x := optionOf(r, "lime-cap"); x > 0 {
		return unit.ShortTonsPerAcre(x)
	}
	if r.Profile != nil {
		return unit.ShortTonsPerAcre(r.Profile.Lime.Cap.Value)
	}
	return 0
}

// optionOf returns a figure that a run was made with; 0 where it was left as it usually is, which is how such options read 0.
func optionOf(r *suitability.Result, name string) float64 {
	// Only the number counts, should a unit stand behind it.
	number, _, _ := strings.Cut(r.Provenance.Option(name), " ")
	if x, err := strconv.ParseFloat(number, 64); err == nil && x > 0 {
		return x
	}
	return 0
}
