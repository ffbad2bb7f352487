package suitability

import (
	"slices"
	"testing"

	"rootworthy/soils"
	"rootworthy/soils/unit"
)

// The class of a unit from those of its components: shares, ties and percents that do not sum to a hundred.
func TestUnitClass(t *testing.T) {
	p := DefaultProfile()
	water := soils.Component{Name: "Water", Percent: unit.Some(unit.Percent(100)), Kind: "Miscellaneous area"}
	for name, c := range map[string]struct {
		unit  soils.MapUnit
		class Class
		why   string
		rated float64
	}{
		"no components, as in a survey not completed": {unitOf(), NotRated, WhyNoComponents, 0},
		"water":                  {unitOf(water), NotRated, WhyMiscellaneous, 0},
		"under half is rated":    {unitOf(good(40), bare(60)), NotRated, WhyUnderHalf, 40},
		"half is enough":         {unitOf(good(50), bare(50)), Suited, "", 50},
		"half of a sum over 100": {unitOf(good(50), bare(60)), NotRated, WhyUnderHalf, 100 * 50 / 110.0},
		"percents under 100: the rest is not rated":        {unitOf(good(49)), NotRated, WhyUnderHalf, 49},
		"a tie goes to the worse":                          {unitOf(good(50), good(50, drains(soils.PoorlyDrained))), Unsuited, "", 100},
		"the largest share wins":                           {unitOf(good(40), good(35, drains(soils.ModeratelyWellDrained)), good(25, drains(soils.PoorlyDrained))), Suited, "", 100},
		"percents over 100 are shares of their sum":        {unitOf(good(80), good(80, drains(soils.PoorlyDrained))), Unsuited, "", 100},
		"a component without a percent counts for nothing": {unitOf(good(60), soils.Component{Name: "x", Drainage: soils.PoorlyDrained}), Suited, "", 60},
	} {
		r := p.RateUnit(c.unit, RateOptions{})
		if r.Class != c.class || r.WhyNotRated != c.why || !near(r.Shares.Rated, c.rated) {
			t.Errorf("%s: %v, %q, rated %v; want %v, %q, %v", name, r.Class, r.WhyNotRated, r.Shares.Rated, c.class, c.why, c.rated)
		}
	}
}

// bare is a component of which nothing but the name is recorded.
func bare(percent float64) soils.Component {
	return soils.Component{Name: "bare", Percent: unit.Some(unit.Percent(percent))}
}

// near is equal but for sums of percents.
func near(a, b float64) bool { return a-b < 1e-6 && b-a < 1e-6 }

// A limiting factor comes from the winning class alone, by the largest percent, and a tie by the order of the codes.
func TestUnitLimitingFactor(t *testing.T) {
	p := DefaultProfile()
	for name, c := range map[string]struct {
		unit soils.MapUnit
		want Code
	}{
		"largest percent":            {unitOf(good(30, stops("Fragipan", 40)), good(40, floods(soils.Frequent, "")), good(30)), Flooding},
		"a tie, depth before floods": {unitOf(good(40, floods(soils.Frequent, "")), good(40, stops("Fragipan", 40)), good(20)), Depth},
		"two of a kind add up":       {unitOf(good(30, stops("Fragipan", 40)), good(20, stops("Lithic bedrock", 50)), good(45, floods(soils.Frequent, ""))), Depth},
		"suited has none":            {unitOf(good(100)), ""},
	} {
		if r := p.RateUnit(c.unit, RateOptions{}); r.Limiting != c.want {
			t.Errorf("%s: limited by %q, want %q", name, r.Limiting, c.want)
		}
	}
}

// What lime, years or nothing at all can do about the factor that limits, once corrected and today.
func TestCorrectable(t *testing.T) {
	p := DefaultProfile()
	for name, c := range map[string]struct {
		change     func(*soils.Component)
		now, today Correctable
	}{
		"surface acidity":      {acid(5.4, 6.9), NotLimited, Yes},
		"surface below 4.5":    {acid(4.2, 6.9), No, No},
		"subsoil acidity":      {acid(6.9, 5.2), Partly, Partly},
		"subsoil alkalinity":   {acid(6.9, 8.8), No, No},
		"drainage":             {drains(soils.PoorlyDrained), No, No},
		"depth":                {stops("Fragipan", 40), No, No},
		"nothing to correct":   {func(*soils.Component) {}, NotLimited, NotLimited},
		"acid above and below": {acid(5.0, 4.55), Partly, Partly},
	} {
		r := p.RateUnit(unitOf(good(100, c.change)), RateOptions{})
		if r.Correctable != c.now || r.CorrectableToday != c.today {
			t.Errorf("%s: correctable %q, today %q; want %q, %q", name, r.Correctable, r.CorrectableToday, c.now, c.today)
		}
	}
}

// Of two components limited by one factor in equal parts, the lesser hope counts.
func TestCorrectableOfEqualParts(t *testing.T) {
	r := DefaultProfile().RateUnit(unitOf(good(50, acid(5.0, 6.9)), good(50, acid(4.4, 6.9))), RateOptions{})
	if r.LimitingToday != SurfacePH || r.CorrectableToday != No {
		t.Errorf("limited by %q, correctable %q", r.LimitingToday, r.CorrectableToday)
	}
}

// Neither pH alone moves the class, both together do: both are named.
func TestHingesOnBoth(t *testing.T) {
	r := DefaultProfile().RateUnit(unitOf(good(30, acid(6.9, 5.6), ends(4.8, 6, 1)), good(30, acid(4.6, 6.9), ends(4.2, 5, 0)), good(40)), RateOptions{})
	if want := []Code{SubsoilPH, SurfacePH}; r.Class != Suited || !slices.Equal(r.HingesOn, want) {
		t.Errorf("%v hinges on %v, want %v", r.Class, r.HingesOn, want)
	}
}

// Of two words in equal parts the worse is shown.
func TestDominantWordTie(t *testing.T) {
	r := DefaultProfile().RateUnit(unitOf(good(50), good(50, drains(soils.PoorlyDrained))), RateOptions{})
	if r.Values.Drainage != "Poorly drained" {
		t.Errorf("half well, half poorly: %q shown, want the worse", r.Values.Drainage)
	}
}

// ends gives one horizon a range of pH.
func ends(low, high float64, horizon int) func(*soils.Component) {
	return func(c *soils.Component) {
		c.Horizons[horizon].PH.Low, c.Horizons[horizon].PH.High = unit.Some(unit.PH(low)), unit.Some(unit.PH(high))
	}
}

// A class hangs on survey pH when the other end of the survey's range would change it: one way in or out a case.
func TestHinges(t *testing.T) {
	p := DefaultProfile()
	for name, c := range map[string]struct {
		change []func(*soils.Component)
		want   []Code
	}{
		"no range recorded":               {[]func(*soils.Component){acid(6.9, 5.6)}, nil},
		"subsoil falls out of suited":     {[]func(*soils.Component){acid(6.9, 5.6), ends(5.1, 6.0, 1)}, []Code{SubsoilPH}},
		"subsoil rises into suited":       {[]func(*soils.Component){acid(6.9, 5.4), ends(5.1, 6.0, 1)}, []Code{SubsoilPH}},
		"the range stays in the class":    {[]func(*soils.Component){acid(6.9, 5.6), ends(5.5, 6.5, 1)}, nil},
		"surface acidity is correctable":  {[]func(*soils.Component){acid(5.4, 6.9), ends(4.5, 6.5, 0)}, nil},
		"surface may be beyond lime":      {[]func(*soils.Component){acid(4.8, 6.9), ends(4.3, 5.5, 0)}, []Code{SurfacePH}},
		"something else is as bad anyway": {[]func(*soils.Component){drains(soils.PoorlyDrained), acid(6.9, 5.6), ends(4.5, 6.0, 1)}, nil},
	} {
		r := p.RateUnit(unitOf(good(100, c.change...)), RateOptions{})
		if !slices.Equal(r.HingesOn, c.want) || slices.Contains(r.Confidence.Reasons, ReasonHinges) != (c.want != nil) {
			t.Errorf("%s: hinges on %v, %+v; want %v", name, r.HingesOn, r.Confidence, c.want)
		}
	}
}

// Each reason alone, and the two limits of shares from their good side.
func TestConfidence(t *testing.T) {
	p := DefaultProfile()
	for name, c := range map[string]struct {
		unit    soils.MapUnit
		opt     RateOptions
		level   string
		reasons []string
	}{
		"as good as a survey gets":       {unitOf(good(85), bare(15)), RateOptions{Scale: unit.Some(24000)}, Medium, []string{ReasonNoTest}},
		"winning share":                  {unitOf(good(45), good(30, drains(soils.PoorlyDrained)), bare(25)), RateOptions{}, Low, []string{ReasonWinning, ReasonNoTest}},
		"rated share":                    {unitOf(good(65), bare(35)), RateOptions{}, Low, []string{ReasonRated, ReasonNoTest}},
		"on both limits":                 {unitOf(good(50), good(20, drains(soils.PoorlyDrained)), bare(30)), RateOptions{}, Medium, []string{ReasonNoTest}},
		"witnesses":                      {unitOf(good(100, wetFrom(30, 2))), RateOptions{}, Low, []string{ReasonWitnesses, ReasonNoTest}},
		"witnesses in a class that lost": {unitOf(good(80), good(20, wetFrom(30, 2))), RateOptions{}, Medium, []string{ReasonNoTest}},
		"coarse":                         {unitOf(good(100)), RateOptions{Scale: unit.Some(63360)}, Low, []string{ReasonCoarse, ReasonNoTest}},
		"general soil map":               {unitOf(good(100)), RateOptions{General: true}, Low, []string{ReasonCoarse, ReasonNoTest}},
		"not rated":                      {unitOf(), RateOptions{}, Low, []string{ReasonNothingRated, ReasonRated, ReasonNoTest}},
	} {
		r := p.RateUnit(c.unit, c.opt)
		if r.Confidence.Level != c.level || !slices.Equal(r.Confidence.Reasons, c.reasons) {
			t.Errorf("%s: %+v, want %s %v", name, r.Confidence, c.level, c.reasons)
		}
		for _, reason := range r.Confidence.Reasons {
			if !slices.Contains(ConfidenceReasons(), reason) {
				t.Errorf("reason %q is not in the list", reason)
			}
		}
	}
}

// 0.4 cm² on the map is 4 acres at 1:20,000 (3.95 exactly computed; the rule of thumb is from memory, not checked).
func TestSmallZones(t *testing.T) {
	p := DefaultProfile()
	if got := p.SmallestZone(20000); got < unit.Acres(3.9) || got > unit.Acres(4) {
		t.Errorf("smallest zone at 1:20,000 = %v acres, want 4", got.Acres())
	}
	r := p.RateUnit(unitOf(good(100, wetFrom(30, 2))), RateOptions{})
	before := slices.Clone(r.Confidence.Reasons)
	small := p.ForZone(r, unit.Acres(1), unit.Some(20000))
	if want := []string{ReasonWitnesses, ReasonSmallZone, ReasonNoTest}; !slices.Equal(small.Confidence.Reasons, want) || small.Confidence.Level != Low {
		t.Errorf("an acre at 1:20,000: %+v, want %v", small.Confidence, want)
	}
	if !slices.Equal(r.Confidence.Reasons, before) {
		t.Errorf("the rating of the unit changed: %v", r.Confidence.Reasons)
	}
	for name, same := range map[string]UnitRating{
		"large":         p.ForZone(r, unit.Acres(5), unit.Some(20000)),
		"scale unknown": p.ForZone(r, unit.Acres(1), unit.None[int]()),
	} {
		if !slices.Equal(same.Confidence.Reasons, before) {
			t.Errorf("%s: %+v", name, same.Confidence)
		}
	}
}

// Values shown: means by percent over the components that have one; words by dominant condition.
// 40 % well, 35 % and 25 % somewhat poorly drained: the dominant condition is somewhat poorly at 60 % (check value
// agg-09, computed from the method text of USDA-NRCS Web Soil Survey).
func TestValuesShown(t *testing.T) {
	p := DefaultProfile()
	noSlope := func(c *soils.Component) { c.Slope = soils.Range[float64]{} }
	r := p.RateUnit(unitOf(good(40, acid(5.0, 5.0), stops("Fragipan", 50)), good(35, drains(soils.SomewhatPoorlyDrained), noSlope),
		good(25, drains(soils.SomewhatPoorlyDrained), wetFrom(40, 1))), RateOptions{})
	v := r.Values
	if v.Drainage != "Somewhat poorly drained" || v.Depth.Or(0) != 50 || v.Restriction != "Fragipan" || v.Flooding != "None" {
		t.Errorf("values %+v", v)
	}
	if !near(float64(v.PHSurface.Or(0)), 0.4*5.0+0.6*6.9) || v.Slope.Or(0) != 2 || v.WaterTable.Or(0) != 40 || v.PHLimitDepth.Or(-1) != 0 {
		t.Errorf("values %+v", v)
	}
}

// Every class and code goes through its text and back.
func TestClassesAndCodes(t *testing.T) {
	for _, c := range Classes() {
		b, err := c.MarshalText()
		var back Class
		if err != nil || back.UnmarshalText(b) != nil || back != c {
			t.Errorf("%v goes through %q to %v", c, b, back)
		}
	}
	var c Class
	if err := c.UnmarshalText([]byte("fine")); err == nil {
		t.Error(`"fine" was taken for a class`)
	}
	for _, list := range [][]string{FindingNotes(), ConfidenceReasons(), WhyNotRatedCodes(), LimeWhys(), LimeNotes()} {
		sorted := slices.Clone(list)
		slices.Sort(sorted)
		if len(slices.Compact(sorted)) != len(list) || slices.Contains(list, "") {
			t.Errorf("a code stands twice or is empty in %q", list)
		}
	}
}
