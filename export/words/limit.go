package words

import (
	"fmt"
	"strings"

	"rootworthy/soils"
	"rootworthy/soils/unit"
	"rootworthy/suitability"
)

// limitClause says in plain words what is wrong by one criterion, with the value found and what the crop needs. A nil
// finding leaves the figures out.
// It goes on in the middle of a sentence, and has no full stop.
func limitClause(code suitability.Code, f *suitability.Finding) string {
	if f == nil {
		f = &suitability.Finding{Criterion: code}
	}
	switch code {
	case suitability.Drainage:
		return drainageClause(f)
	case suitability.Depth:
		return depthClause(f)
	case suitability.WaterTable:
		return "water stands in the ground too near the top" + needs(f, inchesOf)
	case suitability.Ponding:
		return "water stands on it too often" + wordBears(f)
	case suitability.Flooding:
		return "it floods too often" + wordBears(f)
	case suitability.SubsoilPH:
		return "the subsoil is too " + sourness(f) + needs(f, pHOf) + bySurvey(f)
	case suitability.SurfacePH:
		return "the topsoil is too " + sourness(f) + needs(f, pHOf) + bySurvey(f)
	case suitability.Salinity:
		return "the soil is too salty" + needs(f, in("dS/m"))
	case suitability.Sodicity:
		return "the soil holds too much sodium" + needs(f, in("SAR"))
	case suitability.AvailableWater:
		return "the soil holds too little water" + needs(f, waterOf)
	case suitability.Slope:
		return slopeClause(f)
	}
	return string(code)
}

// above says whether the value lies on the high side of its limit.
// A finding without a limit lies on neither side.
func above(f *suitability.Finding) bool { return f.Value.Or(0) > f.Limit.Or(0) && f.Limit.Has() }

// sourness: a pH can miss its limit on either side.
func sourness(f *suitability.Finding) string {
	if above(f) {
		return "alkaline"
	}
	return "acid"
}

// needs prints value and limit in brackets: " (pH 5.45; it needs 6.2 or more)".
// It is empty where value or limit is not recorded. The function print puts both into their unit.
func needs(f *suitability.Finding, print func(value, limit float64) (found, needed string)) string {
	value, ok := f.Value.Get()
	limit, okLimit := f.Limit.Get()
	if !ok || !okLimit {
		return ""
	}
	found, needed := print(value, limit)
	side := "or more"
	if above(f) {
		side = "or less"
	}
	return fmt.Sprintf(" (%s; alfalfa needs %s %s%s)", found, needed, side, evenFor(f))
}

// evenFor says that the limit shown of unsuited ground is only that of marginal ground, and how well the limit is
// founded: a judgement of ours never passes for a published figure.
func evenFor(f *suitability.Finding) (s string) {
	if f.Class == suitability.Unsuited {
		s = " even for a marginal stand"
	}
	if f.Status != "" && f.Status != string(suitability.Published) {
		s += "; " + Status(f.Status, Landowner)
	}
	return s
}

// pHOf prints a pH and its limit.
func pHOf(value, limit float64) (string, string) {
	return "pH " + pHText(value, limit), pHText(limit, limit)
}

// pHText prints a pH with one decimal at least, as laboratories do, and two where there are.
func pHText(value, limit float64) string {
	if s := beside(value, limit, 2); strings.Contains(s, ".") {
		return s
	}
	return fixed(value, 1)
}

// inchesOf prints a depth and its limit, both in inches and centimetres.
func inchesOf(value, limit float64) (string, string) {
	return "at " + beside(unit.Depth(value).Inches(), unit.Depth(limit).Inches(), 0) + " in, " + beside(value, limit, 0) + " cm", length(limit)
}

// length prints a depth inside brackets, where brackets of its own would not read.
func length(cm float64) string {
	return fixed(unit.Depth(cm).Inches(), 0) + " in, " + plain(cm, 0) + " cm,"
}

// waterOf prints water in the soil, a height, and its limit.
// Both come in millimetres; the library of units knows depths in centimetres.
func waterOf(value, limit float64) (string, string) {
	in := func(mm float64) float64 { return unit.Depth(mm / 10).Inches() }
	return beside(in(value), in(limit), 1) + " in, " + beside(value, limit, 0) + " mm", plain(in(limit), 1) + " in, " + plain(limit, 0) + " mm,"
}

// in prints a value in a unit that has no other name on a farm.
func in(name string) func(value, limit float64) (string, string) {
	return func(value, limit float64) (string, string) {
		return beside(value, limit, 1) + " " + name, plain(limit, 1)
	}
}

// drainageClause: the one scale has a wet end and a dry end.
func drainageClause(f *suitability.Finding) string {
	what := "the soil stays too wet"
	// Drainage classes are ordered from wet to dry.
	if c, ok := soils.ParseDrainage(f.Word); ok && c > soils.WellDrained {
		what = "the soil dries out too fast"
	}
	return what + wordNeeds(f)
}

// depthClause names what stops the roots, in plain words where there are any.
func depthClause(f *suitability.Finding) string {
	what := "roots cannot go deep enough"
	switch barrier := strings.ToLower(f.Word); {
	case barrier == "":
	case f.Soft:
		what = "a change in the soil (" + barrier + ") slows the roots"
	case strings.Contains(barrier, "bedrock"):
		what = "rock stops the roots"
	case strings.HasSuffix(barrier, "pan"):
		what = "a hard layer (" + barrier + ") stops the roots"
	default:
		what = barrier + " stops the roots"
	}
	return what + needs(f, inchesOf)
}

// slopeClause blames machines and erosion, not the crop: the stand does not mind a slope.
func slopeClause(f *suitability.Finding) string {
	what := "it is steep, so soil washes away and machines may tip"
	value, ok := f.Value.Get()
	if limit, okLimit := f.Limit.Get(); ok && okLimit {
		what += fmt.Sprintf(" (%s percent; safe work needs %s or less%s)", beside(value, limit, 1), plain(limit, 1), evenFor(f))
	}
	return what
}

// wordNeeds prints the drainage class found and the one that would do.
func wordNeeds(f *suitability.Finding) string {
	if f.Word == "" || f.LimitWord == "" {
		return ""
	}
	return fmt.Sprintf(" (%s; alfalfa needs %s ground%s)", strings.ToLower(f.Word), strings.ToLower(f.LimitWord), evenFor(f))
}

// wordBears prints how often something happens and how often alfalfa bears it.
func wordBears(f *suitability.Finding) string {
	if f.Word == "" || f.LimitWord == "" {
		return ""
	}
	bears := strings.ToLower(f.LimitWord) + " at most"
	if strings.EqualFold(f.LimitWord, "None") {
		bears = "none"
	}
	return fmt.Sprintf(" (%s; alfalfa needs %s%s)", strings.ToLower(f.Word), bears, evenFor(f))
}
