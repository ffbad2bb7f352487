package economics

import (
	"rootworthy/soils/nutrient"
	"rootworthy/soils/unit"
	"rootworthy/suitability"
	"rootworthy/suitability/nutrientplan"
)

// Options tunes [Of]; the zero value draws nothing and takes fertilizer from the prices alone.
type Options struct {
	Nutrients *nutrientplan.Plan // what each zone is to get; nil means the prices' cost per area, or left out
	Draws     int                // for [Figures.Spread]; 0 means none
	Seed      uint64             // of the draws
}

// Study is the money of a run. Equal results, prices and options give equal studies.
type Study struct {
	Prices *Prices
	Zones  []Zone  // in the order of the result
	Fields []Field // in the order of the result
	Farm   Figures // of all ground worth sowing
	Bars   []Bar   // how far each input alone moves the farm's value, the widest first; none without a value
	Left   []Item  // in no sum though most stands cost or gain it, because no price was given; in the order of [Items]
	Wants  []Item  // without which there is no value; none where there is one
}

// Figures is the money of some ground. All are sums over its zones.
type Figures struct {
	Area      unit.Area              // ground that the figures are of
	Once      unit.Opt[Range[Money]] // to lime and establish it, in today's money and undiscounted; missing without ground or without any price of a cost
	Gain      unit.Opt[Range[Money]] // over the sod, in a year of the stand; may be negative
	Value     unit.Opt[Range[Money]] // net present value: low and high are extremes; may be negative
	Spread    unit.Opt[Spread]       // of the value, by draws
	BreakEven BreakEven              // at likely values of all else
	Lead      unit.Opt[Range[Years]] // until it is sown
}

// OncePerArea returns the cost of establishing an area of the ground.
func (f Figures) OncePerArea() unit.Opt[Range[PerArea]] { return perArea(f.Once, f.Area) }

// ValuePerArea returns the net present value of an area of the ground.
func (f Figures) ValuePerArea() unit.Opt[Range[PerArea]] { return perArea(f.Value, f.Area) }

// GainPerArea returns the yearly gain over the sod of an area of the ground.
func (f Figures) GainPerArea() unit.Opt[Range[PerArea]] { return perArea(f.Gain, f.Area) }

func perArea(m unit.Opt[Range[Money]], a unit.Area) (out unit.Opt[Range[PerArea]]) {
	if x, has := m.Get(); has {
		if p, ok := over(x, a); ok {
			out = unit.Some(p)
		}
	}
	return out
}

// Spread is where the value lies in draws of all inputs, each from a triangle over its range.
type Spread struct {
	P10, P50, P90 Money   // a tenth, half and nine tenths of the draws lie under these
	Above         float64 // share of draws over zero, 0…1
	Draws         int
}

// BreakEven is what pays the costs and no more, all else at its likely value. Missing where nothing does, or where there is no value.
type BreakEven struct {
	Yield unit.Opt[unit.AreaRate] // hay in a year, on all of the ground alike
	Hay   unit.Opt[PerMass]       // price of hay
	Life  unit.Opt[Years]         // of the stand, on all of the ground alike
}

// Field is the money of a field. Its Figures are of the zones that are worth sowing together.
type Field struct {
	ID string
	Figures
	Suited    unit.Area                // ground of class suited with a cost figure
	PerSuited unit.Opt[Range[PerArea]] // cost to lime and establish an area of Suited, with the cost per field; missing without any
	// ValueSuited is what all suited ground would bring, sown at once, with the cost per field; missing where some of it has no value. It is the
	// field's Value where that is the ground worth sowing, and says what the field lacks where none is.
	ValueSuited unit.Opt[Range[Money]]
	Unpriced    unit.Area // suited ground without a cost figure: lime would have to mend it, and nobody knows how much
	Why         string    // why no ground of it is worth sowing, of [Whys]; "" where some is
}

// Zone is the money of a zone, as if it were sown alone and without what its field costs as a whole.
type Zone struct {
	ID, FieldID string
	Class       suitability.Class
	Figures
	Sow    bool                     // worth sowing, in its field; where there is no value, that it may be sown
	Why    string                   // why not, of [Whys]; "" where it is
	Floor  bool                     // its lime is a floor: it may take more, and so cost more
	NoLime bool                     // unsuited ground that the plan limes not: its sums hold no lime
	ByYear unit.Opt[Range[PerArea]] // what it costs once, paid back with interest in each year of its stand; missing without a discount rate
	Unfed  []nutrient.Nutrient      // that its nutrient plan has no rate of, so that its sums hold none
	Lines  []Line                   // what the sums are made of, in the order of [Items]
	Life   Range[Years]             // of the stand
}

// Line is one item of a zone.
type Line struct {
	Item    Item
	Money   Range[PerArea]           // of costs as of gains, positive
	Amount  unit.Opt[Range[float64]] // SI, that the price is multiplied by: kg/m², passes, points times kg/m²; missing where the price is by the ground
	Planned bool                     // fertilizer by a nutrient plan, not by the price for an area
}

// Bar says how far one input alone moves the value of an area of the farm's ground.
type Bar struct {
	Input     Item
	Low, High PerArea // the value with the input at its low and at its high, all else likely
}
