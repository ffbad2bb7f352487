package web

import (
	"rootworthy/export/words"
	"rootworthy/soils"
	"rootworthy/soils/unit"
	"rootworthy/suitability"
	"rootworthy/suitability/whatif"
)

// knobGroup is one criterion in the what-if.
type knobGroup struct {
	Name    string
	Numbers []knob
	Words   []wordKnob
}

// knob moves a number.
type knob struct {
	Key, Label, Unit  string
	Value, Usual      float64
	Least, Most, Step float64
	Inches            bool // shown in inches beside centimetres
	Source            string
}

// wordKnob chooses among words.
type wordKnob struct {
	Key, Label, Value, Usual string
	Choices                  []choice
}

// knobs lists everything that can be moved, with where it stands.
func knobs(s *scene) []knobGroup {
	usual := s.loaded.result.Profile
	out := []knobGroup{aimGroup(s), drainageGroup(s)}
	now := map[string]whatif.Limit{}
	for _, l := range whatif.Limits(s.profile) {
		now[l.Key] = l
	}
	for _, l := range whatif.Limits(usual) {
		name := words.Criterion(l.Criterion, words.Consultant)
		if last := &out[len(out)-1]; last.Name != name {
			out = append(out, knobGroup{Name: name})
		}
		side := "or more"
		if l.Falls {
			side = "or less"
		}
		last, n := &out[len(out)-1], now[l.Key]
		last.Numbers = append(last.Numbers, knob{Key: l.Key, Label: l.Class.String() + ": " + side, Unit: l.Unit, Value: n.Value, Usual: l.Value,
			Least: round(l.Least, 3), Most: round(l.Most, 3), Step: l.Step, Inches: l.Unit == "cm", Source: sourceOf(usual, l)})
	}
	return out
}

// aimGroup holds the target of the lime.
func aimGroup(s *scene) knobGroup {
	usual := s.loaded.target()
	now := usual
	if s.ask.target != 0 {
		now = s.ask.target
	}
	return knobGroup{Name: "lime", Numbers: []knob{{Key: paramTarget, Label: "target pH of the topsoil", Unit: "pH", Value: float64(now), Usual: float64(usual),
		Least: s.profile.Lime.TargetLeast.Value, Most: float64(unit.PH(7)), Step: 0.1, Source: "how far the lime of the plan is to lift the topsoil"}}}
}

func drainageGroup(s *scene) knobGroup {
	usual := s.loaded.result.Profile
	var classes []choice
	for _, c := range soils.DrainageClasses() {
		if c <= soils.WellDrained {
			classes = append(classes, choice{c.String(), c.String()})
		}
	}
	return knobGroup{Name: words.Criterion(suitability.Drainage, words.Consultant), Words: []wordKnob{
		{paramDrainSuited, "suited from", whatif.WettestSuited(s.profile).String(), whatif.WettestSuited(usual).String(), classes},
		{paramDrainMarginal, "marginal from", whatif.WettestMarginal(s.profile).String(), whatif.WettestMarginal(usual).String(), classes},
		{paramWorks, "drainage works", s.ask.works, "", []choice{{"", "as the fields declare"}, {"all", "on every field"}, {"none", "on none"}}},
	}}
}

// sourceOf says who set a limit.
func sourceOf(p *suitability.Profile, l whatif.Limit) string {
	point, ok := whatif.PointOf(p, l.Key)
	switch {
	case !ok:
		return ""
	case point.Source == "":
		return words.Status(string(point.Status), words.Consultant)
	}
	return words.Status(string(point.Status), words.Consultant) + ": " + point.Source
}

// orders are the ways to sort that the form offers; the heads of the table have them too.
var orders = []choice{{"", "field by field"}, {"class", "best class first"}, {"-class", "worst class first"}, {"-area", "largest first"}, {"area", "smallest first"},
	{"factor", "by what limits"}, {"-lime", "most lime first"}, {"lime", "least lime first"}, {"sure", "least sure first"}, {"-sure", "most sure first"}}

// choices are what the list can be sifted by.
type choices struct {
	Class, Factor, Lime, Sure, Show, Sort []option
	Find, Field                           string
}

type option struct {
	choice
	Chosen bool
}

func (s *scene) choices(f *sift) choices {
	pick := func(now string, list []choice) []option {
		var out []option
		for _, c := range list {
			out = append(out, option{c, c.Value == now})
		}
		return out
	}
	classes, factors := []choice{{"", "any"}}, []choice{{"", "any"}, {"none", "nothing limits it"}}
	for _, c := range suitability.Classes() {
		classes = append(classes, choice{c.String(), c.String()})
	}
	for _, c := range suitability.Codes() {
		factors = append(factors, choice{string(c), words.Criterion(c, words.Consultant)})
	}
	sure := []choice{{"", "any"}}
	for _, level := range []string{suitability.High, suitability.Medium, suitability.Low} {
		sure = append(sure, choice{level, level})
	}
	return choices{Class: pick(f.class, classes), Factor: pick(f.factor, factors), Lime: pick(f.lime, limeSifts), Sure: pick(f.sure, sure), Sort: pick(f.sort, orders),
		Show: pick(f.show, []choice{{"", "once corrected"}, {"today", "as it is today"}, {"lime", "lime"}}), Find: f.find, Field: f.field}
}
