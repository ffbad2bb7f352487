package export

import (
	"io"

	"rootworthy/soils"
	"rootworthy/soils/unit"
	"rootworthy/suitability"
)

// UnitRow is one map unit of a survey, rated before any boundary is drawn.
type UnitRow struct {
	Unit      *soils.MapUnit
	Rating    suitability.UnitRating
	Aggregate soils.UnitAggregate
}

// UnitColumns lists the columns of the map unit list. From slope_dom_pct on they are the agency's own aggregated
// figures: its units, its rounding, empty where it has none.
func UnitColumns() []Column { return columns(unitEntries()) }

// WriteUnitsCSV writes a row for each map unit, in the order given.
func WriteUnitsCSV(w io.Writer, units []UnitRow) error {
	entries := unitEntries()
	t := newListing(w, columns(entries))
	for i := range units {
		t.row(row(entries, &units[i]))
	}
	return t.Close()
}

// unitEntries is the one list of columns of the map unit list.
func unitEntries() []entry[*UnitRow] {
	return concat(unitNameEntries(), unitRatingEntries(), unitAggregateEntries(), unitValueEntries())
}

// unitNameEntries name the unit.
func unitNameEntries() []entry[*UnitRow] {
	return []entry[*UnitRow]{
		textual("mukey", "the survey's key of the map unit", func(u *UnitRow) Value { return text(u.Unit.Key) }),
		textual("musym", "the survey's symbol", func(u *UnitRow) Value { return text(u.Unit.Symbol) }),
		textual("map_unit", "the survey's name", func(u *UnitRow) Value { return text(u.Unit.Name) }),
	}
}

// unitRatingEntries are the rating of the unit as if a zone lay on it.
func unitRatingEntries() []entry[*UnitRow] {
	return []entry[*UnitRow]{
		textual("class", "class once corrected", func(u *UnitRow) Value { return text(u.Rating.Class.String()) }),
		textual("class_today", "class with the ground as it is", func(u *UnitRow) Value { return text(u.Rating.ClassToday.String()) }),
		textual("limiting", "the criterion that limits class", func(u *UnitRow) Value { return text(u.Rating.Limiting) }),
		numeric("rated_pct", "percent", "share with enough data to be rated", func(u *UnitRow) Value { return figure(u.Rating.Shares.Rated) }),
		textual("drainage", "natural drainage class, by dominant condition", func(u *UnitRow) Value { return text(u.Aggregate.Drainage.String()) }),
	}
}

// unitAggregateEntries are the agency's own figures, to be compared with its muaggatt table.
func unitAggregateEntries() []entry[*UnitRow] {
	// Their meaning is the agency's own (muaggatt), so that the two tables can be laid side by side.
	type aggregate = soils.UnitAggregate
	n := func(name, in, meaning string, of func(*aggregate) Value) entry[*UnitRow] {
		return numeric(name, in, meaning, func(u *UnitRow) Value { return of(&u.Aggregate) })
	}
	w := func(name, meaning string, of func(*aggregate) string) entry[*UnitRow] {
		return textual(name, meaning, func(u *UnitRow) Value { return text(of(&u.Aggregate)) })
	}
	out := []entry[*UnitRow]{
		n("slope_dom_pct", "percent", "slope of the dominant component", func(a *aggregate) Value { return maybe(a.SlopeDominant) }),
		n("slope_mean_pct", "percent", "slope, mean by percent", func(a *aggregate) Value { return maybe(a.SlopeMean) }),
		n("bedrock_min_cm", "cm", "shallowest bedrock", func(a *aggregate) Value { return maybe(a.BedrockMin) }),
		n("wet_min_cm", "cm", "shallowest free water of the year", func(a *aggregate) Value { return maybe(a.WetMin) }),
		n("wet_min_aprjun_cm", "cm", "shallowest free water of April to June", func(a *aggregate) Value { return maybe(a.WetMinAprilToJune) }),
		w("flooding_dom", "flooding frequency, dominant condition", func(a *aggregate) string { return a.FloodingDominant.String() }),
	}
	// The agency calls these by their depths; the figure is centimetres of water to that depth. Ours are millimetres.
	for i, name := range [...]string{"aws_25_cm", "aws_50_cm", "aws_100_cm", "aws_150_cm"} {
		out = append(out, n(name, "cm", "available water to that depth in centimetres, mean by percent", func(a *aggregate) Value {
			return maybeAs(a.Water[i], func(w unit.Water) float64 { return float64(w) / 10 })
		}))
	}
	return append(out,
		w("drainage_wettest", "wettest natural drainage class", func(a *aggregate) string { return a.DrainageWettest.String() }),
		w("hydrologic_group", "hydrologic group, dominant condition", func(a *aggregate) string { return a.HydrologicGroup }),
		n("hydric_pct", "percent", "share that is hydric", func(a *aggregate) Value { return maybe(a.HydricPercent) }))
}

// unitValueEntries are the values that the rating shows, with those it is made of beyond the agency's figures.
func unitValueEntries() []entry[*UnitRow] {
	n := func(name, in, meaning string, of func(*suitability.Values) Value) entry[*UnitRow] {
		return numeric(name, in, meaning, func(u *UnitRow) Value { return of(&u.Rating.Values) })
	}
	// Behind the agency's, since columns are only ever added at the end: sheets of users point at them by number.
	type values = suitability.Values
	return []entry[*UnitRow]{
		textual("survey_area", "symbol of the survey area", func(u *UnitRow) Value { return text(u.Unit.Area) }),
		textual("limiting_today", "the criterion that limits class_today", func(u *UnitRow) Value { return text(u.Rating.LimitingToday) }),
		numeric("score", "of 100", "score once corrected", func(u *UnitRow) Value { return maybe(u.Rating.Score) }),
		n("depth_cm", "cm", "depth to the layer that stops roots in the main soil", func(v *values) Value { return maybe(v.Depth) }),
		textual("restriction", "what that layer is", func(u *UnitRow) Value { return text(u.Rating.Values.Restriction) }),
		n("ph_surface", "pH", "pH in water of 0 to 20 cm", func(v *values) Value { return maybe(v.PHSurface) }),
		n("ph_subsoil", "pH", "pH in water of 30 to 100 cm", func(v *values) Value { return maybe(v.PHSubsoil) }),
		n("awc_mm", "mm", "water the soil can hold for roots", func(v *values) Value { return maybe(v.AWC) }),
	}
}
