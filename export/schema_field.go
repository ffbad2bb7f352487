package export

import (
	"strings"

	"rootworthy/soils/unit"
	"rootworthy/suitability"
)

// FieldColumns lists the properties of a field, in the order in which every format writes them.
func FieldColumns() []Column { return columns(fieldEntries()) }

// FieldRow returns the values of a field, in the order of [FieldColumns].
func FieldRow(s *Sum) []Value { return row(fieldEntries(), s) }

// fieldEntries is the one list of field properties.
func fieldEntries() []entry[*Sum] {
	return concat(ownerEntries(), classAreaEntries(), limitEntries(), fieldLimeEntries(), troubleEntries(), fieldTestEntries())
}

// acres is how the trade of the region counts ground.
func acres(a unit.Area) Value { return figure(a.Acres()) }

// answered returns the acres of a field that has zones; without any, nothing is known of its ground, which is not zero.
func answered(s *Sum, a unit.Area) Value {
	if len(s.Zones) == 0 {
		return Value{}
	}
	return acres(a)
}

// known returns the area of a field; a boundary beyond repair has none.
func known(a unit.Area, to func(unit.Area) float64) Value {
	if a == 0 {
		return Value{}
	}
	return figure(to(a))
}

// ownerEntries say whose field it is and how it compares with the others.
func ownerEntries() []entry[*Sum] {
	return []entry[*Sum]{
		textual("field_id", "the field's id, as given or counted", func(s *Sum) Value { return text(s.Field.ID) }),
		textual("field_name", "the field's name", func(s *Sum) Value { return text(s.Field.Name) }),
		textual("customer", "who owns or farms it, when the boundaries say", func(s *Sum) Value { return text(s.Field.Customer) }),
		textual("farm", "the farm, when the boundaries say", func(s *Sum) Value { return text(s.Field.Farm) }),
		counted("rank", "", "place by rank_score, then score, area and id; empty for a field without an answer", func(s *Sum) Value {
			if s.Rank == 0 {
				return Value{}
			}
			return whole(s.Rank)
		}),
		numeric("rank_score", "percent", "share of the whole field that is suited once corrected", func(s *Sum) Value {
			if s.Rank == 0 {
				return Value{}
			}
			return figure(100 * s.Suited())
		}),
		numeric("score", "of 100", "mean score of the rated zones by area", func(s *Sum) Value { return maybe(s.Score) }),
		numeric("area_ac", "acre", "area of the field as used, in international acres", func(s *Sum) Value { return known(s.Field.Area, unit.Area.Acres) }),
		numeric("area_ha", "hectare", "area of the field as used", func(s *Sum) Value { return known(s.Field.Area, unit.Area.Hectares) }),
	}
}

// classAreaEntries give the area of each class, once corrected and today: the difference is what lime is bought for.
func classAreaEntries() []entry[*Sum] {
	var out []entry[*Sum]
	for _, c := range suitability.Classes() {
		name := strings.ReplaceAll(c.String(), " ", "_")
		out = append(out, numeric(name+"_ac", "acre", "area that is "+c.String()+" once corrected", func(s *Sum) Value { return answered(s, s.ByClass.Of(c)) }))
	}
	for _, c := range suitability.Classes() {
		name := strings.ReplaceAll(c.String(), " ", "_")
		out = append(out, numeric("today_"+name+"_ac", "acre", "area that is "+c.String()+" today", func(s *Sum) Value { return answered(s, s.ByToday.Of(c)) }))
	}
	return append(out,
		numeric("first_lime_ac", "acre", "area that is worse today than it will be once limed", func(s *Sum) Value { return answered(s, s.LimeFirst) }))
}

// limitEntries say what stops the ground, by area.
func limitEntries() []entry[*Sum] {
	return []entry[*Sum]{
		textual("limiting", "the criterion that limits most ground, once corrected", func(s *Sum) Value { return text(first(s.Limits)) }),
		textual("limits_ac", "every criterion that limits, with its acres, once corrected", func(s *Sum) Value { return text(list(s.Limits)) }),
		textual("limits_today_ac", "the same today", func(s *Sum) Value { return text(list(s.LimitsToday)) }),
	}
}

// first is the criterion that limits most ground.
func first(limits []LimitArea) suitability.Code {
	if len(limits) == 0 {
		return ""
	}
	return limits[0].Code
}

// list prints limits as "drainage 12.4; depth 3.1", acres to four decimals as everywhere.
func list(limits []LimitArea) string {
	var parts []string
	for _, l := range limits {
		parts = append(parts, string(l.Code)+" "+acres(l.Area).digits())
	}
	return strings.Join(parts, "; ")
}

// fieldLimeEntries add up the lime of the zones that have a figure; ground without one is told beside them, so that a
// sum over part of a field is not taken for the whole.
func fieldLimeEntries() []entry[*Sum] {
	tons := func(name, meaning string, of func(*Sum) unit.Mass) entry[*Sum] {
		return numeric(name, "short ton", meaning, func(s *Sum) Value {
			if !s.HasLime {
				return Value{}
			}
			return figure(of(s).ShortTons())
		})
	}
	return []entry[*Sum]{
		tons("lime_low_st", "low end, over the zones that have a figure", func(s *Sum) unit.Mass { return s.Low }),
		tons("lime_st", "lime requirement at 100 % CCE, or as sold where a zone's method says so, over the zones that have a figure", func(s *Sum) unit.Mass { return s.Likely }),
		tons("lime_high_st", "high end", func(s *Sum) unit.Mass { return s.High }),
		textual("lime_bound", "at least or at most, when some zone's figure is a floor or a ceiling", func(s *Sum) Value { return text(bound(s)) }),
		numeric("product_kg", "kg", "product as spread", func(s *Sum) Value {
			if !s.HasProduct {
				return Value{}
			}
			return number(float64(s.Product), 0)
		}),
		numeric("no_figure_ac", "acre", "rated ground without a lime figure", func(s *Sum) Value { return answered(s, s.NoFigure) }),
	}
}

// bound of a sum with floors and ceilings is neither.
func bound(s *Sum) string {
	switch {
	case s.Floor && s.Ceiling:
		return "mixed"
	case s.Floor:
		return "at least"
	case s.Ceiling:
		return "at most"
	}
	return ""
}

// troubleEntries say what is odd about the boundary, and why a field has no answer.
func troubleEntries() []entry[*Sum] {
	return []entry[*Sum]{
		counted("zones", "", "number of zones", func(s *Sum) Value { return whole(len(s.Zones)) }),
		numeric("uncovered_ac", "acre", "area that the survey does not cover", func(s *Sum) Value { return acres(s.Field.Uncovered) }),
		numeric("doubled_ac", "acre", "area that two survey polygons cover at once", func(s *Sum) Value { return acres(s.Field.Doubled) }),
		numeric("excluded_ac", "acre", "area that was cut out before", func(s *Sum) Value { return acres(s.Field.Excluded) }),
		textual("drained", "yes when the user declares drainage works", func(s *Sum) Value { return yes(s.Field.Drained) }),
		textual("trouble", "why the field has no answer", func(s *Sum) Value { return text(s.Field.Trouble) }),
		textual("partly_outside", "yes when part of the field lies outside the survey", func(s *Sum) Value { return yes(s.Field.Partly) }),
		textual("repairs", "what was repaired in the boundary", func(s *Sum) Value { return text(strings.Join(s.Field.Repairs, "; ")) }),
	}
}

// yes is a word rather than a truth value: not every format has those, and spreadsheets translate them.
func yes(is bool) Value {
	if is {
		return text("yes")
	}
	return Value{}
}
