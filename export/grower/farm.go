package grower

import (
	"slices"
	"strings"
	"time"

	"rootworthy/export/words"
	"rootworthy/soils/nutrient"
	"rootworthy/soils/unit"
	"rootworthy/suitability"
	"rootworthy/suitability/limeplan"
	"rootworthy/suitability/nutrientplan"
	"rootworthy/suitability/season"
	"rootworthy/suitability/seedplan"
	"rootworthy/suitability/stand"
	"rootworthy/suitability/variety"
)

// Farm is all that the plan is written from.
type Farm struct {
	Run       *suitability.Result // the fields that the plan is about
	Whole     *suitability.Result // the run that they were chosen from; nil where the plan is about all of it
	Date      time.Time           // today, midnight UTC
	Region    suitability.SowingWindow
	Zones     []Zone // all of the run, in its order
	Normals   *season.Normals
	Nutrients *nutrientplan.Plan
	Table     *nutrient.Table // nil where none was chosen
	Tested    bool            // soil tests were given to the plan
	Seed      *seedplan.Plan
	Tag       *seedplan.Tag // nil without a tag: then seed is counted as pure live seed alone
	Varieties []variety.Judged
	Diseases  []string      // columns of the table of varieties
	Record    []stand.Story // what was written down in the field
	Yield     unit.Opt[unit.AreaRate]
}

// Zone is a zone with its calendar.
type Zone struct {
	*suitability.Zone
	Why   string // why there is no calendar, of [Whys]; "" where there is one
	Plan  season.Plan
	Limed limeplan.Spread // what the record tells of its lime, pass by pass
}

// Why a zone has no calendar, stable codes.
const (
	WhyUnsuited = "unsuited"
	WhyUnrated  = "not rated"
	WhyUnmended = "no lime figure" // lime would have to mend it, and there is no figure to plan with
)

// Whys lists them.
func Whys() []string { return []string{WhyUnsuited, WhyUnrated, WhyUnmended} }

// WhyNone says why a zone gets no calendar: the same grounds as those that leave it without a sowing window in the run.
func WhyNone(z *suitability.Zone) string {
	switch {
	case z.Rating.Class == suitability.NotRated:
		return WhyUnrated
	case z.Rating.Class == suitability.Unsuited:
		return WhyUnsuited
	case z.Lime.Passes == 0 && z.Rating.ClassToday == suitability.Unsuited:
		return WhyUnmended
	}
	return ""
}

// whyText puts it into words.
func whyText(why string) string {
	switch why {
	case WhyUnsuited:
		return "left in grass: not fit for alfalfa"
	case WhyUnrated:
		return "no plan: the ground could not be rated; dig and test it first"
	case WhyUnmended:
		return "no plan: lime would have to mend it, and there is no figure; test the soil and screen again"
	}
	return why
}

// Sown says whether the zone carries a stand already, by the record.
// The zero Plan of a zone without a calendar has no steps, so such ground counts as not sown.
func (z *Zone) Sown() bool {
	return slices.ContainsFunc(z.Plan.Steps, func(s season.Step) bool { return s.Code == season.Sow && s.Done })
}

// limeLeft is how much lime is still to be spread, and in how many passes: none on a stand, less what the record tells of.
func (z *Zone) limeLeft() (left unit.AreaRate, passes int) {
	if z.Sown() {
		return 0, 0
	}
	return z.Limed.Left(), z.Limed.Open()
}

// NextSowing returns the first day on which some zone can be sown that is not sown yet; the zero time where there is none.
func (f *Farm) NextSowing() time.Time {
	var first time.Time
	for _, z := range f.Zones {
		for _, s := range z.Plan.Steps {
			if s.Code == season.Sow && !s.Done && (first.IsZero() || s.First.Before(first)) {
				first = s.First
			}
		}
	}
	return first
}

// yearAhead is how far the lists of the plan look into the years of production after the first.
const yearAhead = 1

// listed returns the steps of a zone that the lists of the plan show: those up to the last cutting of its first year, and of later years
// what lies within a year from today. The calendar file and the table of steps have all.
func (f *Farm) listed(z Zone) []season.Step {
	out := slices.Clone(z.Plan.Steps)
	for _, s := range z.Plan.Rounds {
		if s.Dated() && !s.Due.Before(f.Date) && s.First.Before(f.Date.AddDate(yearAhead, 0, 0)) {
			out = append(out, s)
		}
	}
	return out
}

// group is zones of a field with one and the same calendar.
type group struct {
	zones []Zone
	area  unit.Area
}

// groups puts zones of a field together that have the same steps on the same days, in the order of their first zone.
func (f *Farm) groups(field *suitability.Field) (planned []group, without []Zone) {
	for _, at := range field.Zones {
		z := f.Zones[at]
		switch {
		case z.Why != "":
			without = append(without, z)
		default:
			// A field has few calendars, however many zones.
			i := slices.IndexFunc(planned, func(g group) bool { return alike(g.zones[0].Plan, z.Plan) })
			if i < 0 {
				planned, i = append(planned, group{}), len(planned)
			}
			planned[i].zones = append(planned[i].zones, z)
			planned[i].area += z.Area
		}
	}
	return planned, without
}

// alike says whether two calendars are the same, days, marks and all.
func alike(a, b season.Plan) bool {
	return slices.EqualFunc(a.All(), b.All(), func(x, y season.Step) bool {
		return x.Key() == y.Key() && x.Passes == y.Passes && x.First.Equal(y.First) && x.Due.Equal(y.Due) && x.Last.Equal(y.Last) && x.Done == y.Done && x.Begun == y.Begun && x.Needs == y.Needs &&
			// What the days rest on is printed with them, so it has to be the same too.
			slices.Equal(x.Rules, y.Rules)
	})
}

// zoneList names the zones of a group: "zone 1", "zones 1, 2 and 4".
func (g group) zoneList() string {
	var names []string
	for _, z := range g.zones {
		names = append(names, words.Decimal(float64(z.Number), 0))
	}
	if len(names) == 1 {
		return "zone " + names[0]
	}
	return "zones " + words.Listed(names)
}

// shown makes text of somebody's file fit to be shown.
func shown(s string) string { return words.Shown(s, 60) }

// fieldName names a field with its id.
func fieldName(f *suitability.Field) string {
	if f.Name == "" || f.Name == f.ID {
		return "Field " + shown(f.ID)
	}
	return shown(f.Name) + " (" + shown(f.ID) + ")"
}

// whose names the farm when all fields are of one.
func (f *Farm) whose() string {
	name := ""
	for i := range f.Run.Fields {
		// Fields without an owner count as another's: a title must not give somebody ground of strangers.
		n := ownerOf(&f.Run.Fields[i])
		if i > 0 && n != name {
			return ""
		}
		name = n
	}
	return name
}

// ownerOf is the farm of a field, or its customer.
func ownerOf(f *suitability.Field) string {
	if f.Farm != "" {
		return shown(f.Farm)
	}
	return shown(f.Customer)
}

// date prints a day for reading.
func date(t time.Time) string { return words.Date(season.Day(t)) }

// window prints a span of days for reading.
func window(w season.Window) string {
	if w.First.Equal(w.Last) {
		return date(w.First)
	}
	return words.Window(w.String())
}

// rules lists what the dates of a step rest on, with sources.
func rules(s season.Step) string {
	var out []string
	for _, r := range s.Rules {
		out = append(out, words.SeasonRule(r))
	}
	return strings.Join(out, "; ")
}
