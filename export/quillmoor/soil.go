package quillmoor

import (
	"rootworthy/soils/unit"
	"rootworthy/suitability"
)

// code is short for a criterion.
type code = suitability.Code

// measured is a finding with a value.
func measured(c code, value float64, in string, score float64, class suitability.Class, limit float64, source string, status suitability.Status) suitability.Finding {
	return suitability.Finding{Criterion: c, Value: unit.Some(value), Unit: in, Score: unit.Some(score), Class: class,
		Limit: unit.Some(limit), Source: source, Status: string(status)}
}

// named is a finding with a word of the survey.
func named(c code, word string, score float64, class suitability.Class, limit, source string, status suitability.Status) suitability.Finding {
	return suitability.Finding{Criterion: c, Word: word, Score: unit.Some(score), Class: class, LimitWord: limit, Source: source, Status: string(status)}
}

const (
	handbook = "invented handbook, table 3"
	ours     = "our own judgement"
)

// ground returns findings of well-drained, deep, level ground; each of changed takes the place of its criterion.
func ground(changed ...suitability.Finding) []suitability.Finding {
	out := []suitability.Finding{
		named(suitability.Drainage, "Well drained", 100, suitability.Suited, "Well drained", handbook, suitability.Published),
		{Criterion: suitability.Depth, Value: unit.Some(150.0), Unit: "cm", Score: unit.Some(100.0), Class: suitability.Suited,
			Limit: unit.Some(100.0), Source: ours, Status: string(suitability.Proposal), AtLeast: true},
		{Criterion: suitability.WaterTable, Unit: "cm", Score: unit.Some(100.0), Class: suitability.Suited, Limit: unit.Some(100.0),
			Source: ours, Status: string(suitability.Proposal), Note: suitability.NoteNoneDescribed},
		named(suitability.Ponding, "None", 100, suitability.Suited, "None", ours, suitability.Proposal),
		named(suitability.Flooding, "None", 100, suitability.Suited, "Rare", ours, suitability.Proposal),
		measured(suitability.SubsoilPH, 5.6, "pH", 76, suitability.Suited, 5.5, handbook, suitability.Published),
		measured(suitability.SurfacePH, 5.45, "pH", 22.3529, suitability.Unsuited, 6.2, "", suitability.Practice),
		measured(suitability.Salinity, 0, "dS/m", 100, suitability.Suited, 2, handbook, suitability.Published),
		{Criterion: suitability.Sodicity, Limit: unit.Some(8.0), Source: ours, Status: string(suitability.Memory)},
		measured(suitability.AvailableWater, 210, "mm", 100, suitability.Suited, 152, handbook, suitability.Published),
		measured(suitability.Slope, 3, "%", 88.75, suitability.Suited, 8, ours, suitability.Proposal),
	}
	for _, c := range changed {
		for i := range out {
			if out[i].Criterion == c.Criterion {
				out[i] = c
			}
		}
	}
	for i := range out { // windows of the averaged values are wholly covered
		switch out[i].Criterion {
		case suitability.SurfacePH:
			out[i].Covered = unit.Some(20.0)
		case suitability.SubsoilPH:
			out[i].Covered = unit.Some(70.0)
		}
	}
	return out
}

// layer is a horizon with half a unit of pH to either side.
func layer(name string, top, bottom unit.Depth, ph unit.PH, texture string) suitability.HorizonUsed {
	return suitability.HorizonUsed{Name: name, Top: top, Bottom: bottom, PH: unit.Some(ph), PHLow: unit.Some(ph - 0.5), PHHigh: unit.Some(ph + 0.5),
		AWC: unit.Some(0.14), Texture: texture}
}

// loam is deep sandy loam over clay loam: suited once limed. 1.3504 short tons an acre by the table.
func loam(percent unit.Percent) suitability.ComponentRating {
	return suitability.ComponentRating{Name: "Quillmoor", Percent: unit.Some(percent), Kind: "Series",
		Horizons: []suitability.HorizonUsed{layer("Ap", 0, 15, 5.4, "SL"), layer("Bt", 15, 150, 5.6, "SCL")},
		Findings: ground(), Class: suitability.Suited, ClassToday: suitability.Unsuited,
		Score: unit.Some(76.0), ScoreToday: unit.Some(22.3529), ScoreMean: unit.Some(95.719), LimitingToday: suitability.SurfacePH,
		Missing: []code{suitability.Sodicity},
		Lime:    suitability.ComponentLime{Figure: unit.Some(unit.ShortTonsPerAcre(1.35036)), Texture: "sandy loam"}}
}

// wet is somewhat poorly drained loam with a wet layer.
func wet(percent unit.Percent) suitability.ComponentRating {
	c := loam(percent)
	c.Name = "Rushlade"
	c.Horizons = []suitability.HorizonUsed{layer("A", 0, 25, 5.45, "L"), layer("Bg", 25, 150, 5.6, "CL")}
	c.Findings = ground(
		named(suitability.Drainage, "Somewhat poorly drained", 25, suitability.Unsuited, "Moderately well drained", ours, suitability.Proposal),
		suitability.Finding{Criterion: suitability.WaterTable, Value: unit.Some(38.0), Unit: "cm", Score: unit.Some(30.4), Class: suitability.Unsuited,
			Limit: unit.Some(50.0), Source: ours, Status: string(suitability.Proposal), Note: suitability.NoteWitnesses})
	c.Class, c.Score, c.Limiting, c.ScoreMean = suitability.Unsuited, unit.Some(25.0), suitability.Drainage, unit.None[float64]()
	c.Lime = suitability.ComponentLime{Figure: unit.Some(unit.ShortTonsPerAcre(1.79685)), Texture: "loam"}
	return c
}

// shallow has rock at 28 cm.
func shallow(percent unit.Percent) suitability.ComponentRating {
	c := loam(percent)
	c.Name = "Ledgewick"
	c.Horizons = []suitability.HorizonUsed{layer("A", 0, 28, 6.8, "CL")}
	depth := measured(suitability.Depth, 28, "cm", 18.6667, suitability.Unsuited, 60, ours, suitability.Proposal)
	depth.Word = "Lithic bedrock"
	c.Findings = ground(depth,
		suitability.Finding{Criterion: suitability.SubsoilPH, NotApplicable: true, Limit: unit.Some(5.5), Source: handbook,
			Status: string(suitability.Published), Note: suitability.NoteAboveWindow},
		measured(suitability.SurfacePH, 6.8, "pH", 100, suitability.Suited, 6.5, handbook, suitability.Published))
	c.Class, c.Score, c.Limiting, c.ScoreMean = suitability.Unsuited, unit.Some(18.6667), suitability.Depth, unit.None[float64]()
	c.ScoreToday, c.LimitingToday = c.Score, suitability.Depth
	c.Lime = suitability.ComponentLime{Figure: unit.Some(unit.AreaRate(0)), Texture: "clay loam", Why: suitability.WhyAtTarget}
	return c
}

// acid has an acid subsoil under forest litter.
func acid(percent unit.Percent) suitability.ComponentRating {
	c := loam(percent)
	c.Name, c.OrganicSkipped = "Bramblehithe", 3
	c.Horizons = []suitability.HorizonUsed{layer("A", 0, 15, 5.8, "L"), layer("Bt1", 15, 52, 5.7, "CL"), layer("Bt2", 52, 150, 5.4, "CL")}
	c.Findings = ground(
		measured(suitability.SubsoilPH, 5.4943, "pH", 69.6571, suitability.Marginal, 5.5, handbook, suitability.Published),
		measured(suitability.SurfacePH, 5.775, "pH", 30, suitability.Unsuited, 6.2, "", suitability.Practice))
	c.Class, c.Score, c.Limiting, c.ScoreMean = suitability.Marginal, unit.Some(69.6571), suitability.SubsoilPH, unit.None[float64]()
	c.ScoreToday, c.LimitDepth = unit.Some(30.0), unit.Some(unit.Depth(52))
	c.Lime = suitability.ComponentLime{Figure: unit.Some(unit.ShortTonsPerAcre(1.26324)), Texture: "loam"}
	return c
}

// unknown is a minor component of which the survey says little.
func unknown(percent unit.Percent) suitability.ComponentRating {
	return suitability.ComponentRating{Name: "Minor soils, \"unnamed\"", Percent: unit.Some(percent), WhyNotRated: suitability.WhyCoreMissing,
		Missing: []code{suitability.Drainage, suitability.SurfacePH, suitability.SubsoilPH}, Findings: []suitability.Finding{
			{Criterion: suitability.Drainage, LimitWord: "Well drained", Source: handbook, Status: string(suitability.Published)}},
		Lime: suitability.ComponentLime{Why: suitability.WhyNoSurfacePH}}
}
