package export

import (
	"rootworthy/soils/unit"
	"rootworthy/suitability"
)

// sayable is a zone with the words for it.
type sayable struct {
	*suitability.Zone
	say Sentences
}

// ZoneColumns lists the properties of a zone, in the order in which every format writes them.
func ZoneColumns() []Column { return columns(zoneEntries()) }

// ZoneRow returns the values of a zone, in the order of [ZoneColumns].
func ZoneRow(z *suitability.Zone, say Sentences) []Value { return row(zoneEntries(), sayable{z, say}) }

// zoneEntries is the one list of zone properties.
func zoneEntries() []entry[sayable] {
	// The order is that of the files. What is new stands behind what there was: sheets and scripts of users count
	// columns.
	return concat(placeEntries(), classEntries(), valueEntries(), sureEntries(), limeEntries(), extraEntries(), testEntries())
}

// concat joins parts of a list that is too long to read in one piece.
func concat[T any](lists ...[]entry[T]) []entry[T] {
	var out []entry[T]
	for _, l := range lists {
		out = append(out, l...)
	}
	return out
}

// placeEntries say where a zone lies and how large it is.
func placeEntries() []entry[sayable] {
	return []entry[sayable]{
		textual("zone_id", "field_id, a stroke, zone", func(z sayable) Value { return text(z.ID) }),
		textual("field_id", "the field's id, as given or counted", func(z sayable) Value { return text(z.FieldID) }),
		textual("field_name", "the field's name", func(z sayable) Value { return text(z.FieldName) }),
		// A number of its own beside zone_id, because maps and people say "zone 2".
		counted("zone", "", "number of the zone in its field, by falling area", func(z sayable) Value { return whole(z.Number) }),
		numeric("area_ac", "acre", "area, in international acres", func(z sayable) Value { return figure(z.Area.Acres()) }),
		numeric("area_ha", "hectare", "area", func(z sayable) Value { return figure(z.Area.Hectares()) }),
		textual("survey_area", "symbol of the soil survey area", func(z sayable) Value { return text(z.SurveyArea) }),
		// Text and not a number: keys are names made of digits, and some programs would print them with a separator.
		textual("mukey", "the survey's key of the map unit", func(z sayable) Value { return text(z.MapUnitKey) }),
		textual("musym", "the survey's symbol of the map unit", func(z sayable) Value { return text(z.Symbol) }),
		textual("map_unit", "the survey's name of the map unit", func(z sayable) Value { return text(z.MapUnit) }),
	}
}

// classEntries say what the ground can carry, and what stops it.
func classEntries() []entry[sayable] {
	return []entry[sayable]{
		textual("class", "suited, marginal, unsuited or not rated, once what can be corrected is corrected",
			func(z sayable) Value { return text(z.Rating.Class.String()) }),
		textual("class_today", "the same with the ground as it is", func(z sayable) Value { return text(z.Rating.ClassToday.String()) }),
		textual("limiting", "the criterion that limits class; empty when none does", func(z sayable) Value { return text(z.Rating.Limiting) }),
		textual("limiting_today", "the criterion that limits class_today", func(z sayable) Value { return text(z.Rating.LimitingToday) }),
		textual("reason", "why, in one plain sentence", func(z sayable) Value { return say(z.say.Reason, z.Zone) }),
		textual("correctable", "whether limiting can be corrected: yes, in part, no, as declared",
			func(z sayable) Value { return text(z.Rating.Correctable) }),
		numeric("score", "of 100", "how well the ground does once corrected: 70 and more is suited, 40 and more marginal",
			func(z sayable) Value { return maybe(z.Rating.Score) }),
	}
}

// valueEntries show what the survey, or a laboratory in its place, says of the ground. Nothing is decided from these means; the rating looks at each
// component on its own.
func valueEntries() []entry[sayable] {
	v := func(name, unit, meaning string, of func(*suitability.Values) Value) entry[sayable] {
		return numeric(name, unit, meaning, func(z sayable) Value { return of(&z.Rating.Values) })
	}
	// Text and figures in one list, so that the file shows them in the order in which an agronomist reads a soil.
	w := func(name, meaning string, of func(*suitability.Values) string) entry[sayable] {
		return textual(name, meaning, func(z sayable) Value { return text(of(&z.Rating.Values)) })
	}
	type values = suitability.Values
	return []entry[sayable]{
		w("drainage", "natural drainage class, the survey's words, by dominant condition", func(v *values) string { return v.Drainage }),
		v("depth_cm", "cm", "depth to the layer that stops roots in the main soil; empty when none is described", func(v *values) Value { return maybe(v.Depth) }),
		w("restriction", "what that layer is, the survey's words", func(v *values) string { return v.Restriction }),
		v("ph_surface", "pH", "pH in water of 0 to 20 cm: of laboratory tests, else of the survey, mean by percent; see ph_basis", func(v *values) Value { return maybe(v.PHSurface) }),
		v("ph_subsoil", "pH", "pH in water of 30 to 100 cm, likewise", func(v *values) Value { return maybe(v.PHSubsoil) }),
		v("ph_limit_depth_cm", "cm", "shallowest depth with pH under the subsoil limit", func(v *values) Value { return maybe(v.PHLimitDepth) }),
		v("slope_pct", "percent", "slope, mean by percent", func(v *values) Value { return maybe(v.Slope) }),
		w("flooding", "flooding frequency class", func(v *values) string { return v.Flooding }),
		w("ponding", "ponding frequency class", func(v *values) string { return v.Ponding }),
		v("water_table_cm", "cm", "shallowest free water of November to June, mean by percent; empty when none or not recorded", func(v *values) Value { return maybe(v.WaterTable) }),
		v("awc_mm", "mm", "water the soil can hold for roots to 150 cm or rock, mean by percent", func(v *values) Value { return maybe(v.AWC) }),
		v("ec_ds_m", "dS/m", "salinity of 0 to 100 cm, mean by percent", func(v *values) Value { return maybe(v.EC) }),
	}
}

// sureEntries say how far the class can be trusted.
func sureEntries() []entry[sayable] {
	share := func(name, meaning string, of func(suitability.Shares) float64) entry[sayable] {
		return numeric(name, "percent", meaning, func(z sayable) Value { return figure(of(z.Rating.Shares)) })
	}
	return []entry[sayable]{
		share("suited_pct", "share of the soils in the zone that are suited", func(s suitability.Shares) float64 { return s.Suited }),
		share("marginal_pct", "share that are marginal", func(s suitability.Shares) float64 { return s.Marginal }),
		share("unsuited_pct", "share that are unsuited", func(s suitability.Shares) float64 { return s.Unsuited }),
		share("rated_pct", "share with enough data to be rated", func(s suitability.Shares) float64 { return s.Rated }),
		numeric("score_mean", "of 100", "geometric mean of all criteria, to rank zones of equal score", func(z sayable) Value { return maybe(z.Rating.ScoreMean) }),
		numeric("sar", "", "sodium adsorption ratio of 0 to 100 cm, mean by percent", func(z sayable) Value { return maybe(z.Rating.Values.SAR) }),
		textual("confidence", "high, medium or low", func(z sayable) Value { return text(z.Rating.Confidence.Level) }),
		textual("hinges_on", "criteria whose range in the survey is wide enough to move the class; a test settles it",
			func(z sayable) Value { return text(joined(z.Rating.HingesOn)) }),
		numeric("score_today", "of 100", "score with the ground as it is", func(z sayable) Value { return maybe(z.Rating.ScoreToday) }),
	}
}

// limeEntries give the requirement as calcium carbonate, but for methods whose lime is as sold. It is never rounded to steps of a spreader: rounding comes with the
// product, in the lime list.
func limeEntries() []entry[sayable] {
	rate := func(name, meaning string, of func(*suitability.Lime) unit.Opt[unit.AreaRate]) entry[sayable] {
		return numeric(name, "short ton per acre", meaning, func(z sayable) Value {
			return maybeAs(of(&z.Lime), unit.AreaRate.ShortTonsPerAcre)
		})
	}
	return []entry[sayable]{
		textual("lime_basis", "what the lime figure rests on: survey screening, or test and the method", func(z sayable) Value { return text(z.Lime.Basis) }),
		rate("lime_low_st_ac", "low end of the lime requirement; by test the figure less its error, empty where the error is not known", func(l *suitability.Lime) unit.Opt[unit.AreaRate] { return l.Low }),
		rate("lime_st_ac", "lime requirement at 100 % CCE, or as sold where lime_quality says so; not rounded to steps of a spreader; 0 is no need, empty is no figure", func(l *suitability.Lime) unit.Opt[unit.AreaRate] { return l.Likely }),
		rate("lime_high_st_ac", "high end", func(l *suitability.Lime) unit.Opt[unit.AreaRate] { return l.High }),
		textual("lime_bound", "at least or at most, when the figure is a floor or a ceiling", func(z sayable) Value { return text(z.Lime.Bound) }),
		numeric("lime_t_ha", "tonne per hectare", "lime_st_ac in metric tons", func(z sayable) Value { return maybeAs(z.Lime.Likely, unit.AreaRate.TonnesPerHectare) }),
		numeric("ph_target", "pH", "surface pH that the lime aims at", func(z sayable) Value {
			// No target was set for the zone; pH 0 would be a remarkable one.
			if z.Lime.Target == 0 {
				return Value{}
			}
			return figure(float64(z.Lime.Target))
		}),
	}
}

// extraEntries are what the core list has no room for; the unrounded area lets a reader check sums.
func extraEntries() []entry[sayable] {
	return []entry[sayable]{
		textual("today_correctable", "whether limiting_today can be corrected", func(z sayable) Value { return text(z.Rating.CorrectableToday) }),
		counted("pieces", "", "parts of the zone on the map", func(z sayable) Value { return whole(z.Pieces) }),
		numeric("m2", "square metre", "area as measured in the equal-area plane, unrounded", func(z sayable) Value { return number(float64(z.Area), Exact) }),
	}
}
