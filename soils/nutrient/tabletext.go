package nutrient

// tableText is a table as TOML has it. See [ReadTable] for what the keys mean.
type tableText struct {
	Name    string       `toml:"name"`
	State   string       `toml:"state"`
	Region  string       `toml:"region"`
	Edition string       `toml:"edition"`
	Source  string       `toml:"source"`
	Seen    string       `toml:"seen"`
	Only    string       `toml:"only"`
	Rating  []ratingText `toml:"rating"`
	Rate    []rateText   `toml:"rate"`
	Fixed   []fixedText  `toml:"fixed"`
	Hold    []holdText   `toml:"hold"`
	Split   []splitText  `toml:"split"`
	Extra   []extraText  `toml:"extra"`
	Seed    *struct {
		Mo        float64 `toml:"mo_oz"`
		Molybdate float64 `toml:"molybdate_oz"`
		Seed      float64 `toml:"seed_lb"`
	} `toml:"seed_molybdenum"`
	Spray *struct {
		Mo         float64 `toml:"mo_oz_ac"`
		Molybdate  float64 `toml:"molybdate_oz_ac"`
		Water      float64 `toml:"water_gal_ac"`
		EveryYears int     `toml:"every_years"`
		When       string  `toml:"when"`
	} `toml:"spray_molybdenum"`
}

// ratingText is a [[rating]] as it stands in the file: the classes of one nutrient.
type ratingText struct {
	Nutrient       string    `toml:"nutrient"`
	Extractant     string    `toml:"extractant"`
	ExtractantSeen string    `toml:"extractant_seen"`
	Unit           string    `toml:"unit"`
	Slice          float64   `toml:"slice_lb_ac"`
	Classes        []string  `toml:"classes"`
	To             []float64 `toml:"to"`
}

// rateText is a [[rate]]: what a pair of classes asks for.
type rateText struct {
	P    string  `toml:"p"`
	K    string  `toml:"k"`
	P2O5 float64 `toml:"p2o5"`
	K2O  float64 `toml:"k2o"`
	Flag string  `toml:"flag"`
}

// fixedText is a [[fixed]]. Below is a pointer because a limit of 0 and no limit differ.
type fixedText struct {
	Nutrient    string   `toml:"nutrient"`
	Stage       string   `toml:"stage"`
	Class       string   `toml:"class"`
	WithoutLime bool     `toml:"without_lime"`
	Below       *float64 `toml:"below_lb_ac"`
	Amount      float64  `toml:"lb_ac"`
	EveryYears  int      `toml:"every_years"`
}

// holdText is a [[hold]].
type holdText struct {
	Nutrient string  `toml:"nutrient"`
	Least    float64 `toml:"least_lb_ac"`
	Most     float64 `toml:"most_lb_ac"`
}

// splitText is a [[split]]: parts and when each is spread, in step.
type splitText struct {
	Nutrient string    `toml:"nutrient"`
	Stage    string    `toml:"stage"`
	Parts    []float64 `toml:"parts"`
	When     []string  `toml:"when"`
}

// extraText is an [[extra]], which is split like the rates.
type extraText struct {
	splitText
	Amount float64 `toml:"lb_ac"`
	For    string  `toml:"for"`
}
