package quillmoor

import (
	"rootworthy/soils/unit"
	"rootworthy/suitability"
)

// target is what lime aims at.
func target() suitability.Target {
	return suitability.Target{PH: 6.5, Source: handbook, Status: suitability.Published}
}

// shares adds up what is rated.
func shares(suited, marginal, unsuited float64) suitability.Shares {
	return suitability.Shares{Suited: suited, Marginal: marginal, Unsuited: unsuited, Rated: suited + marginal + unsuited}
}

// suitedUnit is suited once limed.
func suitedUnit() suitability.UnitRating {
	return suitability.UnitRating{Components: []suitability.ComponentRating{loam(85), unknown(15)}, Class: suitability.Suited,
		ClassToday: suitability.Unsuited, Score: unit.Some(76.0), ScoreToday: unit.Some(22.3529), ScoreMean: unit.Some(95.719),
		LimitingToday: suitability.SurfacePH, CorrectableToday: suitability.Yes, Shares: shares(85, 0, 0), SharesToday: shares(0, 0, 85),
		Confidence: suitability.Confidence{Level: suitability.Medium, Reasons: []string{suitability.ReasonNoTest}}, Target: target(),
		Values: suitability.Values{Drainage: "Well drained", PHSurface: unit.Some(unit.PH(5.45)), PHSubsoil: unit.Some(unit.PH(5.6)),
			Slope: unit.Some(3.0), Flooding: "None", Ponding: "None", AWC: unit.Some(unit.Water(210)), EC: unit.Some(unit.Conductivity(0))}}
}

// wetUnit is too wet, whatever is done to it.
func wetUnit() suitability.UnitRating {
	r := suitedUnit()
	r.Components = []suitability.ComponentRating{wet(60), loam(25), unknown(15)}
	r.Class, r.Score, r.Limiting, r.Correctable = suitability.Unsuited, unit.Some(25.0), suitability.Drainage, suitability.No
	r.Shares, r.SharesToday, r.ScoreMean = shares(25, 0, 60), shares(0, 0, 85), unit.None[float64]()
	r.Confidence = suitability.Confidence{Level: suitability.Low, Reasons: []string{suitability.ReasonWitnesses, suitability.ReasonNoTest}}
	r.Values.Drainage, r.Values.WaterTable = "Somewhat poorly drained", unit.Some(unit.Depth(38))
	return r
}

// shallowUnit has rock near the top and needs no lime there.
func shallowUnit() suitability.UnitRating {
	r := suitedUnit()
	r.Components = []suitability.ComponentRating{shallow(60), loam(40)}
	r.Class, r.Score, r.Limiting, r.Correctable = suitability.Unsuited, unit.Some(18.6667), suitability.Depth, suitability.No
	r.ScoreToday, r.LimitingToday, r.CorrectableToday = r.Score, suitability.Depth, suitability.No
	r.Shares, r.SharesToday, r.ScoreMean = shares(40, 0, 60), shares(0, 0, 100), unit.None[float64]()
	r.Values.Depth, r.Values.Restriction = unit.Some(unit.Depth(28)), "Lithic bedrock"
	return r
}

// acidUnit is marginal by its subsoil, which a test could settle.
func acidUnit() suitability.UnitRating {
	r := suitedUnit()
	r.Components = []suitability.ComponentRating{acid(85), unknown(15)}
	r.Class, r.Score, r.Limiting, r.Correctable = suitability.Marginal, unit.Some(69.6571), suitability.SubsoilPH, suitability.Partly
	r.Shares, r.ScoreToday, r.ScoreMean = shares(0, 85, 0), unit.Some(30.0), unit.None[float64]()
	r.HingesOn = []code{suitability.SubsoilPH}
	r.Confidence = suitability.Confidence{Level: suitability.Low, Reasons: []string{suitability.ReasonHinges, suitability.ReasonSmallZone, suitability.ReasonNoTest}}
	r.Values.PHSurface, r.Values.PHSubsoil, r.Values.PHLimitDepth = unit.Some(unit.PH(5.775)), unit.Some(unit.PH(5.4943)), unit.Some(unit.Depth(52))
	return r
}

// unratedUnit has nothing to rate.
func unratedUnit() suitability.UnitRating {
	return suitability.UnitRating{Components: []suitability.ComponentRating{unknown(100)}, WhyNotRated: suitability.WhyUnderHalf, Target: target(),
		Confidence: suitability.Confidence{Level: suitability.Low, Reasons: []string{suitability.ReasonNothingRated}}}
}

// limeOf returns the screening band of a zone: likely in short tons an acre.
func limeOf(likely float64, area unit.Area) suitability.Lime {
	product := unit.ShortTonsPerAcre(float64(int(likely*20+0.999)) / 20)
	return suitability.Lime{Basis: "survey screening", Low: unit.Some(unit.ShortTonsPerAcre(likely / 2)), Likely: unit.Some(unit.ShortTonsPerAcre(likely)),
		High: unit.Some(unit.ShortTonsPerAcre(2 * likely)), Target: 6.5, Product: unit.Some(product), ProductMass: unit.Some(product.Over(area)),
		Passes: 1, WaitMonths: 12, Ready: "2027-11-25", Window: "2028-09-15/2028-10-31",
		Notes: []string{suitability.LimeBudget, suitability.LimeTableOrigin, suitability.LimeSurfaceOnly, suitability.LimeRetest}}
}

// noLime is a zone without a figure.
func noLime(why string) suitability.Lime {
	return suitability.Lime{Basis: "survey screening", Target: 6.5, Why: why}
}
