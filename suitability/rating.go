package suitability

import "rootworthy/soils/unit"

// Finding is one criterion of one component: what was found, how it scores, which limit decided. It is data; the
// words come last, in export/words.
type Finding struct {
	Criterion     Code              `json:"criterion"`
	Value         unit.Opt[float64] `json:"value"`          // in Unit; missing when not recorded or when the value is a word
	Word          string            `json:"word,omitempty"` // class word of the survey (drainage, flooding, ponding), restriction kind
	Low           unit.Opt[float64] `json:"low,omitzero"`   // the survey's range of Value where it gives one for this value; pH has its range in the horizons
	High          unit.Opt[float64] `json:"high,omitzero"`  //
	Unit          string            `json:"unit,omitempty"` // "cm", "pH", "mm", "%", "dS/m", ""
	Score         unit.Opt[float64] `json:"score"`          // 0…100; missing when the value is
	Class         Class             `json:"class"`          // NotRated when missing or not applicable
	Limit         unit.Opt[float64] `json:"limit"`          // the breakpoint that separates the value's class from the next better one (from suited: the suited limit), in Unit
	LimitWord     string            `json:"limit_word,omitempty"`
	Source        string            `json:"source"`               // of the limit
	Status        string            `json:"status"`               // published, common practice, proposal, memory
	Covered       unit.Opt[float64] `json:"covered_cm,omitempty"` // cm of the window that have data (pH, EC, SAR, AWC)
	AtLeast       bool              `json:"at_least,omitempty"`   // the value is a lower bound: described to there, no restriction seen
	Soft          bool              `json:"soft,omitempty"`       // depth: a soft restriction, at worst marginal
	NotApplicable bool              `json:"not_applicable,omitempty"`
	Note          string            `json:"note,omitempty"`         // stable note code, e.g. "witnesses disagree", "micronutrients"
	Tested        bool              `json:"tested,omitempty"`       // Value is of laboratory tests, described in [UnitRating].Tested
	Survey        unit.Opt[float64] `json:"survey_value,omitzero"`  // what the survey says in its place; missing where Tested is false or the survey is silent
	SurveyClass   Class             `json:"survey_class,omitempty"` // the class of that
	Elevation     bool              `json:"by_elevation,omitempty"` // slope: Value is measured on an elevation raster; Survey is the survey's
}

// NoneDescribed says that the survey described the soil's moisture and saw no wet layer: a class without a value. Its own note may have
// given way to [NoteWitnesses].
func (f *Finding) NoneDescribed() bool {
	return f.Criterion == WaterTable && !f.Value.Has() && f.Class != NotRated && !f.NotApplicable
}

// ComponentRating is the rating of one component, with everything a specialist needs to check it by hand. Class is once correctable
// acidity of the surface is corrected, ClassToday as the ground is; Score, Limiting and their kin likewise.
type ComponentRating struct {
	Name           string                 `json:"name"`
	Percent        unit.Opt[unit.Percent] `json:"percent"`
	Kind           string                 `json:"kind,omitempty"`
	Miscellaneous  bool                   `json:"miscellaneous,omitempty"`
	OrganicSkipped unit.Depth             `json:"organic_skipped_cm,omitempty"` // litter taken off the top
	Horizons       []HorizonUsed          `json:"horizons"`
	Findings       []Finding              `json:"findings"` // in the order of Codes
	Class          Class                  `json:"class"`
	ClassToday     Class                  `json:"class_today"`
	Score          unit.Opt[float64]      `json:"score"`
	ScoreToday     unit.Opt[float64]      `json:"score_today"`
	ScoreMean      unit.Opt[float64]      `json:"score_mean"` // geometric mean of the criteria used
	Limiting       Code                   `json:"limiting"`
	LimitingToday  Code                   `json:"limiting_today"`
	Missing        []Code                 `json:"missing,omitempty"`
	WhyNotRated    string                 `json:"why_not_rated,omitempty"` // stable code
	LimitDepth     unit.Opt[unit.Depth]   `json:"ph_limit_depth_cm"`       // shallowest depth with pH under the subsoil limit
	Lime           ComponentLime          `json:"lime"`
}

// HorizonUsed is one horizon as it entered the rating, depths from the mineral surface.
type HorizonUsed struct {
	Name     string            `json:"name"`
	Top      unit.Depth        `json:"top_cm"`
	Bottom   unit.Depth        `json:"bottom_cm"`
	PH       unit.Opt[unit.PH] `json:"ph"`
	PHLow    unit.Opt[unit.PH] `json:"ph_low"`
	PHHigh   unit.Opt[unit.PH] `json:"ph_high"`
	AWC      unit.Opt[float64] `json:"awc"`
	Texture  string            `json:"texture,omitempty"`
	Reckoned bool              `json:"texture_reckoned,omitempty"` // Texture is by sand, silt and clay: the survey names none
}

// ComponentLime is a component's share in the screening band: before weighting.
type ComponentLime struct {
	Figure  unit.Opt[unit.AreaRate] `json:"figure_kg_m2"`      // CaCO3 of 100 % CCE; missing = no figure
	Texture string                  `json:"texture,omitempty"` // class thickest in the surface
	Column  string                  `json:"column,omitempty"`  // column of the table used
	Bound   string                  `json:"bound,omitempty"`   // "at least", "at most", ""
	Why     string                  `json:"why,omitempty"`     // stable code of [LimeWhys] when the figure is missing or zero
	Caveats []string                `json:"caveats,omitempty"` // stable codes of [LimeNotes]
}

// Shares are percents of a zone's components. They are percents of the whole zone: what is not rated is what lacks to 100.
type Shares struct {
	Suited   float64 `json:"suited_pct"`
	Marginal float64 `json:"marginal_pct"`
	Unsuited float64 `json:"unsuited_pct"`
	Rated    float64 `json:"rated_pct"`
}

// Of returns the share of a class (not rated: the rest of 100).
func (s Shares) Of(c Class) float64 {
	switch c {
	case Suited:
		return s.Suited
	case Marginal:
		return s.Marginal
	case Unsuited:
		return s.Unsuited
	}
	return 100 - s.Rated
}

// UnitRating is the rating of a map unit, and so of every zone that lies on it. Components come by falling percent. Class, Limiting and
// Score are those of the winning class, so that they fit together.
type UnitRating struct {
	Components       []ComponentRating `json:"components"`
	Class            Class             `json:"class"`
	ClassToday       Class             `json:"class_today"`
	Score            unit.Opt[float64] `json:"score"`
	ScoreToday       unit.Opt[float64] `json:"score_today"`
	ScoreMean        unit.Opt[float64] `json:"score_mean"`
	Limiting         Code              `json:"limiting"`
	LimitingToday    Code              `json:"limiting_today"`
	Correctable      Correctable       `json:"correctable"`
	CorrectableToday Correctable       `json:"correctable_today"`
	Shares           Shares            `json:"shares"`
	SharesToday      Shares            `json:"shares_today"`
	HingesOn         []Code            `json:"hinges_on,omitempty"`
	Confidence       Confidence        `json:"confidence"`
	WhyNotRated      string            `json:"why_not_rated,omitempty"`
	Target           Target            `json:"target"` // surface pH that the components' lime figures are for
	Values           Values            `json:"values"`
	Tested           Tested            `json:"tested,omitzero"`  // laboratory tests that took the place of survey values
	Terrain          Terrain           `json:"terrain,omitzero"` // shape of the ground by an elevation raster
}

// Confidence says how sure the class is, with every reason that lowered it (stable codes).
type Confidence struct {
	Level   string   `json:"level"` // high, medium, low
	Reasons []string `json:"reasons,omitempty"`
}

// Values are what is shown for a zone: percent-weighted means over the components that have the value, words by
// dominant condition. Shown only; nothing is decided from them.
type Values struct {
	Drainage     string                      `json:"drainage"`
	Depth        unit.Opt[unit.Depth]        `json:"depth_cm"` // to the restriction of the dominant rated component; missing = none described
	Restriction  string                      `json:"restriction"`
	PHSurface    unit.Opt[unit.PH]           `json:"ph_surface"`
	PHSubsoil    unit.Opt[unit.PH]           `json:"ph_subsoil"`
	PHLimitDepth unit.Opt[unit.Depth]        `json:"ph_limit_depth_cm"`
	Slope        unit.Opt[float64]           `json:"slope_pct"`
	Flooding     string                      `json:"flooding"`
	Ponding      string                      `json:"ponding"`
	WaterTable   unit.Opt[unit.Depth]        `json:"water_table_cm"`
	AWC          unit.Opt[unit.Water]        `json:"awc_mm"`
	EC           unit.Opt[unit.Conductivity] `json:"ec_ds_m"`
	SAR          unit.Opt[float64]           `json:"sar"`
}
