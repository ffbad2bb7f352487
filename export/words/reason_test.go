package words

import (
	"strings"
	"testing"

	"rootworthy/export/quillmoor"
	"rootworthy/soils/unit"
	"rootworthy/suitability"
)

// The same five zones for the three readers: the landowner's sentence gives the cause, with depths in both units, the consultant's the
// component, the limit and its standing, the technician's what to do.
func TestReasonsForEachReader(t *testing.T) {
	r := quillmoor.Result()
	for i, want := range map[int][3]string{
		0: {"Suited once limed: today the topsoil is too acid (pH 5.45; alfalfa needs 6.2 or more even for a marginal stand; common practice).",
			"Suited; today unsuited by surface pH in Quillmoor: 5.45, limit 6.2 (common practice, no source), correctable by lime.",
			"Suited after lime (surface pH): plan 1.4 short tons an acre as spread, 1 pass."},
		1: {"Unsuited: the soil stays too wet (somewhat poorly drained; alfalfa needs moderately well drained ground even for a marginal stand; our proposal).",
			"Unsuited by drainage in Rushlade: Somewhat poorly drained, limit Moderately well drained (proposal), not correctable; today unsuited by surface pH in Rushlade: 5.45, limit 6.2 (common practice, no source), correctable by lime.",
			"Unsuited (drainage): leave out."},
		4: {"Unsuited: rock stops the roots (at 11 in, 28 cm; alfalfa needs 24 in, 60 cm, or more even for a marginal stand; our proposal).",
			"Unsuited by rooting depth in Ledgewick: 28 cm, Lithic bedrock, limit 60 cm (proposal), not correctable.",
			"Unsuited (rooting depth): leave out."},
		5: {"Marginal: the subsoil is too acid (pH 5.49; alfalfa needs 5.5 or more), and lime on top mends that only in part and over years; it needs lime first.",
			"Marginal by subsoil pH in Bramblehithe: 5.49, limit 5.5 (published), correctable in part, over years; today unsuited by surface pH in Bramblehithe: 5.78, limit 6.2 (common practice, no source), correctable by lime.",
			"Marginal (subsoil pH): plan 1.3 short tons an acre as spread, 1 pass."},
		7: {"Not rated: the survey has too little data for half of this ground.", "Not rated: rated share under 50 percent.", "Not rated: under half rated, sample."},
	} {
		for k, reader := range Readers() {
			if got := Reason(&r.Zones[i], reader); got != want[k] {
				t.Errorf("%s, reader %d\ngot  %s\nwant %s", r.Zones[i].ID, reader, got, want[k])
			}
		}
	}
}

// Ground that needs no lime has no word of lime in its reason.
func TestSuitedAsItIs(t *testing.T) {
	z := suitability.Zone{Rating: suitability.UnitRating{Class: suitability.Suited, ClassToday: suitability.Suited}}
	for _, reader := range Readers() {
		if s := Reason(&z, reader); !strings.HasPrefix(s, "Suited") || strings.Contains(s, "lime") {
			t.Errorf("reader %d: %s", reader, s)
		}
	}
}

// A rating without its components, as an old or cut run may hold, still gives a sentence, without figures.
func TestReasonWithoutComponents(t *testing.T) {
	r := quillmoor.Result()
	for i := range r.Zones {
		r.Zones[i].Rating.Components = nil
		for _, reader := range Readers() {
			if s := Reason(&r.Zones[i], reader); !strings.HasSuffix(s, ".") || strings.Contains(s, "()") {
				t.Errorf("%s, reader %d: %s", r.Zones[i].ID, reader, s)
			}
		}
	}
}

// Criteria with a limit on both sides, pH and drainage, say which side was passed. Limits read to the class that was missed: a marginal
// finding needs that much for suited, an unsuited one "even for a marginal stand". Values that would round to the limit keep more digits
// (99.6 cm beside 100, 8.04 percent beside 8).
func TestClausesTellTheSide(t *testing.T) {
	at := func(c suitability.Code, v, limit float64, class suitability.Class) *suitability.Finding {
		return &suitability.Finding{Criterion: c, Value: unit.Some(v), Limit: unit.Some(limit), Class: class, Status: string(suitability.Published)}
	}
	word := func(c suitability.Code, w, limit string) *suitability.Finding {
		return &suitability.Finding{Criterion: c, Word: w, LimitWord: limit, Class: suitability.Marginal, Status: string(suitability.Published)}
	}
	soft := at(suitability.Depth, 40, 100, suitability.Marginal)
	soft.Word, soft.Soft = "Plinthite", true
	pan := at(suitability.Depth, 53, 60, suitability.Unsuited)
	pan.Word = "Fragipan"
	other := at(suitability.Depth, 53, 60, suitability.Unsuited)
	other.Word = "Densic material"
	for _, c := range []struct {
		f    *suitability.Finding
		want string
	}{
		{at(suitability.SubsoilPH, 8.7, 8.4, suitability.Marginal), "the subsoil is too alkaline (pH 8.7; alfalfa needs 8.4 or less)"},
		{at(suitability.SurfacePH, 9.25, 9, suitability.Unsuited), "the topsoil is too alkaline (pH 9.25; alfalfa needs 9.0 or less even for a marginal stand)"},
		{word(suitability.Drainage, "Excessively drained", "Somewhat excessively drained"), "the soil dries out too fast (excessively drained; alfalfa needs somewhat excessively drained ground)"},
		{word(suitability.Flooding, "Occasional", "Rare"), "it floods too often (occasional; alfalfa needs rare at most)"},
		{word(suitability.Ponding, "Rare", "None"), "water stands on it too often (rare; alfalfa needs none)"},
		{soft, "a change in the soil (plinthite) slows the roots (at 16 in, 40 cm; alfalfa needs 39 in, 100 cm, or more)"},
		{pan, "a hard layer (fragipan) stops the roots (at 21 in, 53 cm; alfalfa needs 24 in, 60 cm, or more even for a marginal stand)"},
		{other, "densic material stops the roots (at 21 in, 53 cm; alfalfa needs 24 in, 60 cm, or more even for a marginal stand)"},
		{at(suitability.WaterTable, 99.6, 100, suitability.Marginal), "water stands in the ground too near the top (at 39.2 in, 99.6 cm; alfalfa needs 39 in, 100 cm, or more)"},
		{at(suitability.AvailableWater, 70, 75, suitability.Unsuited), "the soil holds too little water (2.8 in, 70 mm; alfalfa needs 3 in, 75 mm, or more even for a marginal stand)"},
		{at(suitability.Salinity, 2.44, 2, suitability.Marginal), "the soil is too salty (2.4 dS/m; alfalfa needs 2 or less)"},
		{at(suitability.Sodicity, 14, 13, suitability.Unsuited), "the soil holds too much sodium (14 SAR; alfalfa needs 13 or less even for a marginal stand)"},
		{at(suitability.Slope, 8.04, 8, suitability.Marginal), "it is steep, so soil washes away and machines may tip (8.04 percent; safe work needs 8 or less)"},
	} {
		if got := limitClause(c.f.Criterion, c.f); got != c.want {
			t.Errorf("got  %s\nwant %s", got, c.want)
		}
	}
}

// A rate may be a floor, a prescription by a test, none needed for a reason, a bare zero, or not known at all.
func TestLimeSentences(t *testing.T) {
	tons := func(x float64) unit.Opt[unit.AreaRate] { return unit.Some(unit.ShortTonsPerAcre(x)) }
	for _, c := range []struct {
		name   string
		lime   suitability.Lime
		reader Reader
		want   string
	}{
		{"floor", suitability.Lime{Basis: "survey screening", Low: tons(1), Likely: tons(2), High: tons(4), Bound: suitability.AtLeast, Target: 6.8}, Landowner,
			"About 2.0 (1.0 to 4.0), or more, short tons an acre of pure lime (4.5 t/ha)."},
		{"floor", suitability.Lime{Basis: "survey screening", Low: tons(1), Likely: tons(2), High: tons(4), Bound: suitability.AtLeast, Target: 6.8}, Consultant,
			"At least 2.0 (1.0 to 4.0) short tons/ac at 100 % CCE (4.48 t/ha), to pH 6.8."},
		{"prescription", suitability.Lime{Basis: "test: buffer", Low: tons(1.5), Likely: tons(1.5), High: tons(1.5), Target: 6.5}, Landowner,
			"About 1.5 short tons an acre of pure lime (3.4 t/ha)."},
		{"none needed", suitability.Lime{Likely: tons(0), Why: suitability.WhyAtTarget, Notes: []string{suitability.LimeNoNeed}}, Landowner,
			"No lime: the topsoil is not too acid, so it needs no lime by the survey. The survey shows no need; grass that got nitrogen may have made the soil more acid, so test."},
		{"zero as given", suitability.Lime{Likely: tons(0)}, Technician, "No lime."},
		{"no figure", suitability.Lime{Why: suitability.WhyOrganic}, Technician, "No lime figure: organic surface: test."},
	} {
		z := suitability.Zone{Lime: c.lime}
		if got := Lime(&z, c.reader, nil); got != c.want {
			t.Errorf("%s\ngot  %s\nwant %s", c.name, got, c.want)
		}
		method := Method(&z)
		if (method == "") != (!c.lime.Likely.Has()) || c.name == "prescription" && method != c.lime.Basis {
			t.Errorf("%s: method %q", c.name, method)
		}
	}
}

// Files take their sentences from those of the pages: the reason from the landowner's, the lime from the technician's.
func TestSentencesAreThoseOfTheReaders(t *testing.T) {
	z := &quillmoor.Result().Zones[0]
	s := Sentences(nil)
	if s.Reason(z) != Reason(z, Landowner) || s.Lime(z) != Lime(z, Technician, nil) || s.Method(z) != Method(z) || len(s.Cautions) != len(Cautions()) {
		t.Error("the files say something else")
	}
}
