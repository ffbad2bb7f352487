package words

import (
	"fmt"
	"strings"

	"rootworthy/soils/unit"
	"rootworthy/suitability"
)

// Reason says in one sentence why a zone has its class and what can be done about it.
func Reason(z *suitability.Zone, r Reader) string {
	switch r {
	case Consultant:
		return consultantReason(z)
	case Technician:
		return technicianReason(z)
	}
	return landownerReason(z)
}

// landownerReason answers first, then says why with the value and what is needed, then what can be done.
func landownerReason(z *suitability.Zone) string {
	r := &z.Rating
	switch {
	case r.Class == suitability.NotRated:
		return "Not rated: " + WhyNotRated(r.WhyNotRated, Landowner) + "."
	case r.Class == suitability.Suited && !z.LimeFirst() && tested(z):
		return "Suited as it is: nothing in your soil test or the soil survey stands in the way."
	case r.Class == suitability.Suited && !z.LimeFirst():
		return "Suited as it is: nothing in the soil survey stands in the way."
	case r.Class == suitability.Suited:
		_, f, _ := deciding(r, true)
		return "Suited once limed: today " + limitClause(r.LimitingToday, f) + "."
	}
	_, f, _ := deciding(r, false)
	s := title(r.Class.String()) + ": " + limitClause(r.Limiting, f)
	switch r.Correctable {
	case suitability.Partly:
		s += ", and lime on top mends that only in part and over years"
	case suitability.AsDeclaredOnly:
		s += ", even with the drains you told of"
	case suitability.Yes:
		s += ", and lime can mend that"
	}
	if z.LimeFirst() && r.LimitingToday == suitability.SurfacePH {
		s += "; it needs lime first"
	}
	return s + "."
}

// consultantReason gives terms, figures and the standing of the limit.
func consultantReason(z *suitability.Zone) string {
	r := &z.Rating
	if r.Class == suitability.NotRated {
		return "Not rated: " + WhyNotRated(r.WhyNotRated, Consultant) + "."
	}
	s := title(r.Class.String())
	if r.Limiting != "" {
		s += " by " + limitTerms(r, false) + ", " + Correctable(r.Correctable, Consultant)
	}
	if r.Limiting == "" && r.LimitingToday == "" {
		return s + "; nothing limits it."
	}
	if r.ClassToday != r.Class || r.LimitingToday != r.Limiting {
		s += "; today " + r.ClassToday.String()
		if r.LimitingToday != "" {
			s += " by " + limitTerms(r, true) + ", " + Correctable(r.CorrectableToday, Consultant)
		}
	}
	return s + "."
}

// limitTerms prints a limiting factor as "drainage: Somewhat poorly drained, limit Moderately well drained (proposal)".
func limitTerms(r *suitability.UnitRating, today bool) string {
	code := r.Limiting
	if today {
		code = r.LimitingToday
	}
	name := Criterion(code, Consultant)
	c, f, ok := deciding(r, today)
	if !ok {
		return name
	}
	return fmt.Sprintf("%s in %s: %s, limit %s (%s)", name, c.Name, foundText(f), limitText(f), Status(f.Status, Consultant))
}

// technicianReason says what to do with the zone.
func technicianReason(z *suitability.Zone) string {
	r := &z.Rating
	s := title(r.Class.String())
	switch {
	case r.Class == suitability.NotRated:
		return "Not rated: " + WhyNotRated(r.WhyNotRated, Technician) + "."
	case r.Limiting != "":
		s += " (" + Criterion(r.Limiting, Technician) + ")"
	case z.LimeFirst():
		s += " after lime (" + Criterion(r.LimitingToday, Technician) + ")"
	}
	if product, ok := z.Lime.Product.Get(); ok && product > 0 && byTest(&z.Lime) {
		return fmt.Sprintf("%s: spread %s an acre by soil test, in %s.", s, shortTons(product.ShortTonsPerAcre()), count(z.Lime.Passes, "pass", "passes"))
	} else if ok && product > 0 {
		return fmt.Sprintf("%s: plan %s an acre as spread, %s.", s, shortTons(product.ShortTonsPerAcre()), count(z.Lime.Passes, "pass", "passes"))
	}
	switch {
	case r.Class == suitability.Unsuited:
		s += ": leave out"
	case z.Lime.Why != "":
		s += ": " + LimeWhy(z.Lime.Why, Technician)
	}
	return s + "."
}

// foundText prints what a component was found to have, in the survey's units.
// Values come in the units of the finding, pH and SAR without a word.
func foundText(f *suitability.Finding) string {
	var parts []string
	if x, ok := f.Value.Get(); ok {
		s := beside(x, f.Limit.Or(x), 2)
		if f.AtLeast {
			s = "at least " + s
		}
		parts = append(parts, strings.TrimSpace(s+" "+unitText(f.Unit)))
	}
	if f.Word != "" {
		parts = append(parts, f.Word)
	}
	// Three ways to have nothing to show: the criterion does not apply here, the survey looked and saw none, or it did not say.
	if len(parts) == 0 {
		switch {
		case f.NotApplicable:
			return "not applicable"
		case f.NoneDescribed():
			return "none described"
		}
		return "not recorded"
	}
	if f.Tested {
		parts = append(parts, "tested")
	}
	return strings.Join(parts, ", ")
}

// unitText leaves out units that the name of the criterion says already.
func unitText(u string) string {
	if u == "pH" || u == "SAR" {
		return ""
	}
	return u
}

// limitText prints the limit that a finding was held against.
func limitText(f *suitability.Finding) string {
	if f.LimitWord != "" {
		return f.LimitWord
	}
	x, ok := f.Limit.Get()
	if !ok {
		return "none"
	}
	return strings.TrimSpace(plain(x, 2) + " " + unitText(f.Unit))
}

// title begins a sentence; all words here begin with a plain letter.
// Cutting at the first byte is safe for that reason.
func title(s string) string {
	if s == "" {
		return s
	}
	return strings.ToUpper(s[:1]) + s[1:]
}

// count prints "1 pass", "3 passes".
func count(n int, one, many string) string {
	if n == 1 {
		return "1 " + one
	}
	return fixed(float64(n), 0) + " " + many
}

// share prints a percent for reading.
func share(p unit.Percent) string { return plain(float64(p), 1) + " percent" }
