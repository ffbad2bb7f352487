package suitability

import (
	"math"
	"slices"
	"testing"

	"rootworthy/soils"
	"rootworthy/soils/unit"
)

// The list of criteria, the list of codes and the order of findings are one and the same.
func TestCriteriaFollowCodes(t *testing.T) {
	r := rate1()
	for i, code := range Codes() {
		if Criteria()[i].Code != code || r.Findings[i].Criterion != code {
			t.Errorf("place %d: criterion %s, finding %s, code %s", i, Criteria()[i].Code, r.Findings[i].Criterion, code)
		}
	}
	if len(Criteria()) != 11 || len(Codes()) != 11 {
		t.Errorf("%d criteria, %d codes, want 11", len(Criteria()), len(Codes()))
	}
	core := []Code{}
	for _, c := range Criteria() {
		if c.Core {
			core = append(core, c.Code)
		}
	}
	if want := []Code{Drainage, Depth, SubsoilPH, SurfacePH}; !slices.Equal(core, want) {
		t.Errorf("core criteria %v, want %v", core, want)
	}
}

// One case a rule: what the survey says, and what the criterion makes of it.
func TestFindings(t *testing.T) {
	none := -1.0 // no value, or no score
	for name, c := range map[string]struct {
		change func(*soils.Component)
		code   Code
		value  float64
		score  float64
		class  Class
		note   string
	}{
		"well drained":                   {func(*soils.Component) {}, Drainage, none, 100, Suited, ""},
		"drainage not recorded":          {drains(soils.DrainageUnknown), Drainage, none, none, NotRated, ""},
		"no restriction, deep":           {func(*soils.Component) {}, Depth, 155, 100, Suited, ""},
		"no restriction, seen to 90 cm":  {func(c *soils.Component) { c.Horizons[1].Bottom = depth(90) }, Depth, none, none, NotRated, NoteShallow},
		"no restriction, seen to 100 cm": {func(c *soils.Component) { c.Horizons[1].Bottom = depth(100) }, Depth, 100, 70, Suited, ""},
		"fragipan":                       {stops("Fragipan", 53), Depth, 53, 40 * 53 / 60.0, Unsuited, ""},
		"bedrock on the limit":           {stops("Lithic bedrock", 60), Depth, 60, 40, Marginal, ""},
		"clay under sand is soft":        {stops("Abrupt textural change", 30), Depth, 30, 40, Marginal, ""},
		"soft, but deep":                 {stops("Plinthite", 120), Depth, 120, 82, Suited, ""},
		"hard below soft":                {func(c *soils.Component) { stops("Plinthite", 30)(c); stops("Fragipan", 50)(c) }, Depth, 50, 40 * 50 / 60.0, Unsuited, ""},
		"soft above deep rock":           {func(c *soils.Component) { stops("Plinthite", 30)(c); stops("Lithic bedrock", 120)(c) }, Depth, 30, 40, Marginal, ""},
		"rock horizon without a row": {func(c *soils.Component) {
			c.Horizons = append(c.Horizons[:1], soils.Horizon{Name: "2Cr", Top: depth(20), Bottom: depth(60)})
		}, Depth, 20, 40 * 20 / 60.0, Unsuited, NoteRockHorizon},
		"restriction of unknown depth": {func(c *soils.Component) { c.Restrictions = []soils.Restriction{{Kind: "Fragipan"}} }, Depth, none, none, NotRated, NoteShallow},
		"wet in February":              {wetFrom(60, 2), WaterTable, 60, 46, Marginal, ""},
		"wet in June":                  {wetFrom(60, 6), WaterTable, 60, 46, Marginal, ""},
		"wet in summer only":           {wetFrom(20, 8), WaterTable, none, 100, Suited, NoteNoneDescribed},
		"wet at the surface":           {wetFrom(0, 1), WaterTable, 0, 0, Unsuited, NoteWitnesses},
		"no moisture rows":             {func(c *soils.Component) { c.Months = nil }, WaterTable, none, none, NotRated, ""},
		"flooding not recorded":        {func(c *soils.Component) { c.Months = nil }, Flooding, none, none, NotRated, ""},
		"no floods":                    {func(*soils.Component) {}, Flooding, none, 100, Suited, ""},
		"rare floods":                  {floods(soils.Rare, ""), Flooding, none, 80, Suited, ""},
		"rare but long":                {floods(soils.Rare, "Long"), Flooding, none, 80, Suited, ""},
		"occasional, brief":            {floods(soils.Occasional, "Brief"), Flooding, none, 50, Marginal, ""},
		"occasional, long":             {floods(soils.Occasional, "Long"), Flooding, none, 30, Unsuited, NoteLongFloods},
		"occasional, very long":        {floods(soils.Occasional, "Very long"), Flooding, none, 30, Unsuited, NoteLongFloods},
		"common, the obsolete class":   {floods(soils.Common, "Brief"), Flooding, none, 50, Marginal, NoteObsolete},
		"common and long":              {floods(soils.Common, "Long"), Flooding, none, 30, Unsuited, NoteLongFloods},
		"no pH at all":                 {noPH, SurfacePH, none, none, NotRated, ""},
		"no number":                    {acid(math.NaN(), 6.9), SurfacePH, none, none, NotRated, ""},
		"frequent and long":            {floods(soils.Frequent, "Long"), Flooding, none, 10, Unsuited, ""},
		"ponds rarely":                 {func(c *soils.Component) { c.Months[0].Ponding = soils.Rare }, Ponding, none, 50, Marginal, ""},
		"ponds, common":                {func(c *soils.Component) { c.Months[0].Ponding = soils.Common }, Ponding, none, 10, Unsuited, NoteObsolete},
		"subsoil on the limit":         {acid(6.9, 5.0), SubsoilPH, 5.0, 40, Marginal, ""},
		"no subsoil above rock at 30":  {stops("Lithic bedrock", 30), SubsoilPH, none, none, NotRated, NoteAboveWindow},
		"subsoil above rock at 31":     {stops("Lithic bedrock", 31), SubsoilPH, 6.9, 100, Suited, ""},
		"soft layers cut no window":    {stops("Plinthite", 30), SubsoilPH, 6.9, 100, Suited, ""},
		"calcareous surface":           {acid(7.9, 7.9), SurfacePH, 7.9, 95, Suited, NoteMicronutrients},
		"up to 7.5 no note":            {acid(7.5, 7.9), SurfacePH, 7.5, 100, Suited, ""},
		"half covered is enough": {func(c *soils.Component) {
			c.Horizons = []soils.Horizon{layer(0, 10, "SL", 6.5), layer(10, 155, "CL", 0)}
			c.Horizons[1].PH = soils.Range[unit.PH]{}
		}, SurfacePH, 6.5, 70, Suited, ""},
		"less than half is not": {func(c *soils.Component) {
			c.Horizons = []soils.Horizon{layer(0, 9, "SL", 6.5), layer(9, 155, "CL", 0)}
			c.Horizons[1].PH = soils.Range[unit.PH]{}
		}, SurfacePH, none, none, NotRated, NoteCovered},
		"calcium chloride is not water": {func(c *soils.Component) {
			for i := range c.Horizons {
				c.Horizons[i].PH = soils.Range[unit.PH]{}
				c.Horizons[i].PHCaCl2.Value = unit.Some(unit.PHCaCl2(6.0))
			}
		}, SurfacePH, none, none, NotRated, NoteCaCl2},
		"water to 150 cm":   {func(*soils.Component) {}, AvailableWater, 210, 100, Suited, ""},
		"water to the rock": {stops("Lithic bedrock", 100), AvailableWater, 140, 40 + 30*65/77.0, Marginal, ""},
		"droughty on the mark": {func(c *soils.Component) {
			c.Horizons[0].AWC, c.Horizons[1].AWC = unit.Some(0.11), unit.Some(0.1)
		}, AvailableWater, 152, 70, Suited, ""},
		"no capacity recorded": {func(c *soils.Component) {
			c.Horizons[0].AWC, c.Horizons[1].AWC = unit.None[float64](), unit.None[float64]()
		},
			AvailableWater, none, none, NotRated, ""},
		"salt": {func(c *soils.Component) {
			c.Horizons[0].EC, c.Horizons[1].EC = unit.Some(unit.Conductivity(6)), unit.Some(unit.Conductivity(6))
		}, Salinity, 6, 40, Marginal, ""},
		"sodium":           {func(c *soils.Component) { c.Horizons[0].SAR, c.Horizons[1].SAR = unit.Some(13.5), unit.Some(13.5) }, Sodicity, 13.5, 40 - 40*0.5/17, Unsuited, ""},
		"gentle":           {func(c *soils.Component) { c.Slope.Value = unit.Some(8.0) }, Slope, 8, 70, Suited, ""},
		"steep":            {func(c *soils.Component) { c.Slope.Value = unit.Some(20.0) }, Slope, 20, 40 - 40*5/15.0, Unsuited, NoteMachines},
		"slope unrecorded": {func(c *soils.Component) { c.Slope.Value = unit.None[float64]() }, Slope, none, none, NotRated, ""},
	} {
		r := rate1(c.change)
		f := r.finding(c.code)
		if !equalish(f.Value.Or(none), c.value) || !equalish(f.Score.Or(none), c.score) || f.Class != c.class || f.Note != c.note {
			t.Errorf("%s: value %v, score %v, %v, note %q; want %v, %v, %v, %q", name,
				f.Value.Or(none), f.Score.Or(none), f.Class, f.Note, c.value, c.score, c.class, c.note)
		}
	}
}

// equalish lets the last digits of a quotient differ; every other score is exact.
func equalish(a, b float64) bool { return a-b < 1e-9 && b-a < 1e-9 }

// Every limit and every score that is shown says how well it is founded, and every note is one of the list.
func TestFindingsNameTheirSource(t *testing.T) {
	p := DefaultProfile()
	u := madeUnit()
	// alkaline, soft and wet ground, which madeUnit has not
	u.Components = append(u.Components, good(5, acid(9.3, 8.7)), good(5, stops("Plinthite", 20)), good(5, wetFrom(30, 1)))
	for _, drained := range []bool{false, true} {
		for _, c := range p.RateUnit(u, RateOptions{Drained: drained}).Components {
			for _, f := range c.Findings {
				if f.Score.Has() && !slices.Contains(Statuses(), Status(f.Status)) {
					t.Errorf("%s %s: status %q", c.Name, f.Criterion, f.Status)
				}
				if f.Status == string(Published) && f.Source == "" {
					t.Errorf("%s: published without a source", f.Criterion)
				}
				if f.Score.Has() && !f.Limit.Has() && f.LimitWord == "" {
					t.Errorf("%s: no limit beside %v", f.Criterion, f.Value)
				}
				if f.Note != "" && !slices.Contains(FindingNotes(), f.Note) {
					t.Errorf("%s: note %q is not in the list", f.Criterion, f.Note)
				}
			}
		}
	}
}

// Litter is taken off before depths count; restrictions and wet layers move with the horizons.
func TestLitterIsTakenOff(t *testing.T) {
	r := rate1(func(c *soils.Component) {
		litter := layer(0, 5, "SPM", 4.3)
		litter.Name, litter.Master = "Oi", "O"
		for i := range c.Horizons {
			h := &c.Horizons[i]
			h.Top, h.Bottom = unit.Some(h.Top.Or(0)+5), unit.Some(h.Bottom.Or(0)+5)
		}
		c.Horizons = append([]soils.Horizon{litter}, c.Horizons...)
		// given from the top of the litter, as the survey does: 60 and 50 cm are what must come out
		stops("Fragipan", 65)(c)
		wetFrom(55, 2)(c)
	})
	if r.OrganicSkipped != 5 || r.Horizons[0].Top != 0 || r.finding(Depth).Value.Or(0) != 60 || r.finding(WaterTable).Value.Or(0) != 50 ||
		r.finding(SurfacePH).Value.Or(0) != 6.9 {
		t.Errorf("skipped %v; findings %+v", r.OrganicSkipped, r.Findings)
	}
}

// Water of a profile that is described less deep than the root zone is a lower bound, and so is its depth.
func TestLowerBounds(t *testing.T) {
	short := func(c *soils.Component) { c.Horizons[1].Bottom = depth(120) }
	if r := rate1(short); !r.finding(AvailableWater).AtLeast || !r.finding(Depth).AtLeast {
		t.Errorf("described to 120 cm: %+v, %+v", r.finding(AvailableWater), r.finding(Depth))
	}
	if r := rate1(stops("Lithic bedrock", 110)); r.finding(AvailableWater).AtLeast || r.finding(Depth).AtLeast {
		t.Errorf("rock at 110 cm: %+v, %+v", r.finding(AvailableWater), r.finding(Depth))
	}
	if v := DefaultProfile().RateUnit(unitOf(good(100)), RateOptions{}).Values; v.Depth.Has() || v.Restriction != "" {
		t.Errorf("no restriction is described, yet %v %q is shown", v.Depth, v.Restriction)
	}
}

// Where no works help, the wet layer is not lifted either.
func TestVeryPoorlyDrainedIsNotLifted(t *testing.T) {
	p := DefaultProfile()
	c := p.RateUnit(unitOf(good(100, drains(soils.VeryPoorlyDrained), wetFrom(10, 2))), RateOptions{Drained: true}).Components[0]
	if f := c.finding(WaterTable); f.Class != Unsuited || f.Note == NoteDeclared {
		t.Errorf("%+v", f)
	}
}

// Subsoil that does not exist is not missing: a profile that takes 25 cm of soil rates it.
func TestSubsoilThatIsNotThere(t *testing.T) {
	p := DefaultProfile()
	p.Depth.Points = []Point{{Value: 0, Score: 0}, {Value: 10, Score: 40}, {Value: 20, Score: 70}}
	// else the little water that 25 cm hold would be what limits
	p.AvailableWater = p.Depth
	if c := p.RateUnit(unitOf(good(100, stops("Lithic bedrock", 25))), RateOptions{}).Components[0]; c.Class != Suited || len(c.Missing) > 0 {
		t.Errorf("%v, missing %v", c.Class, c.Missing)
	}
}

// What a component asks for in lime, where no figure of the table answers.
func TestComponentLimeReasons(t *testing.T) {
	for name, c := range map[string]struct {
		change func(*soils.Component)
		why    string
	}{
		"no pH": {noPH, WhyNoSurfacePH},
		"organic, pH only in CaCl2": {func(c *soils.Component) {
			noPH(c)
			c.Order, c.Horizons[0].Name, c.Horizons[0].Master = "Histosols", "Oa", "O"
		}, WhyOrganic},
		"carbonates over the target": {func(c *soils.Component) { c.Horizons[0].Carbonate = unit.Some(unit.Percent(5)) }, WhyAtTarget},
		"water":                      {func(c *soils.Component) { c.Kind = "Miscellaneous area" }, WhyNotSoil},
	} {
		if got := rate1(c.change).Lime.Why; got != c.why {
			t.Errorf("%s: %q, want %q", name, got, c.why)
		}
	}
}
