package export

import (
	"rootworthy/soils/unit"
	"rootworthy/suitability"
)

// testEntries say what a laboratory found in a zone, and what the survey had said in its place. They are empty where
// nothing was tested.
func testEntries() []entry[sayable] {
	survey := func(name, meaning string, of suitability.Code) entry[sayable] {
		return numeric(name, "pH", meaning, func(z sayable) Value {
			if t := z.Rating.Tested.Of(of); t != nil {
				// What the survey said where a test took its place; where none did, ph_surface itself is the survey's.
				return maybe(t.Survey)
			}
			return Value{}
		})
	}
	return []entry[sayable]{
		textual("ph_basis", "what pH rests on: survey, or a test of the surface, the subsoil or both", func(z sayable) Value { return text(phBasis(z.Rating.Tested)) }),
		survey("surface_ph_survey", "what the survey says of ph_surface, where a test took its place", suitability.SurfacePH),
		survey("subsoil_ph_survey", "what the survey says of ph_subsoil, where a test took its place", suitability.SubsoilPH),
		counted("tests", "", "samples behind ph_surface and ph_subsoil", func(z sayable) Value {
			// Empty and not 0: a column of zeros in a run without tests would look like a laboratory that sent nothing.
			if !z.Rating.Tested.Any() {
				return Value{}
			}
			return whole(testCount(z.Rating.Tested))
		}),
		textual("tests_newest", "day of the newest of them", func(z sayable) Value { return text(newest(z.Rating.Tested)) }),
		textual("lime_quality", "which lime the lime figures are of: 100 % CCE, or agricultural lime as sold", func(z sayable) Value { return text(quality(&z.Lime)) }),
		numeric("lime_error_pct", "percent", "likely error of a rate by test either way, one standard deviation", func(z sayable) Value {
			// A band of the survey has ends and no error.
			if z.Lime.Test == nil {
				return Value{}
			}
			return maybeAs(z.Lime.Test.Error, func(f unit.Fraction) float64 { return 100 * float64(f) })
		}),
	}
}

// phBasis says which of the two pH a laboratory read.
func phBasis(t suitability.Tested) string {
	switch {
	case t.Surface != nil && t.Subsoil != nil:
		return "test of surface and subsoil"
	case t.Surface != nil:
		return "test of surface"
	case t.Subsoil != nil:
		return "test of subsoil"
	}
	return "survey"
}

// testCount counts the samples of both depths; none speaks for both.
func testCount(t suitability.Tested) int {
	n := 0
	for _, x := range []*suitability.TestedPH{t.Surface, t.Subsoil} {
		if x != nil {
			n += x.Samples
		}
	}
	return n
}

// newest is the day of the latest sample of either depth, "" for none.
func newest(t suitability.Tested) (day string) {
	for _, x := range []*suitability.TestedPH{t.Surface, t.Subsoil} {
		if x != nil {
			// Days as text, year first, sort as days do.
			day = max(day, x.Newest)
		}
	}
	return day
}

// quality is empty where there is no figure.
func quality(l *suitability.Lime) string {
	switch {
	// A quality without a figure would be taken for one of nought.
	case !l.Likely.Has():
		return ""
	case l.AsSold:
		return "as sold"
	}
	return "100 % CCE"
}

// fieldTestEntries say how far the survey was off in a field.
func fieldTestEntries() []entry[*Sum] {
	off := func(name, meaning string, of func(*Sum) unit.Opt[float64]) entry[*Sum] {
		return numeric(name, "pH", meaning, func(s *Sum) Value { return maybe(of(s)) })
	}
	return []entry[*Sum]{
		numeric("tested_ac", "acre", "area whose pH a laboratory tested, at one depth at least", func(s *Sum) Value {
			if s.Tested == 0 {
				return Value{}
			}
			return acres(s.Tested)
		}),
		textual("lime_quality", "which lime lime_st is of: 100 % CCE, as sold, or mixed", func(s *Sum) Value {
			switch {
			// No sum of the two means anything: "as sold" has a strength that its source does not state.
			case s.AsSold && s.Pure:
				return text("mixed")
			case s.AsSold:
				return text("as sold")
			case s.Pure:
				return text("100 % CCE")
			}
			return Value{}
		}),
		off("surface_off_ph", "tested surface pH less the survey's, mean by area over the zones with both", func(s *Sum) unit.Opt[float64] { return s.SurfaceOff }),
		off("subsoil_off_ph", "the same of the subsoil", func(s *Sum) unit.Opt[float64] { return s.SubsoilOff }),
	}
}

// addTests adds up how far tests and survey lie apart.
func (s *Sum) addTests() {
	off := func(of suitability.Code) unit.Opt[float64] {
		sum, weight := 0.0, 0.0
		for _, z := range s.Zones {
			if x, ok := z.Rating.Tested.Of(of).Off().Get(); ok {
				sum, weight = sum+x*float64(z.Area), weight+float64(z.Area)
			}
		}
		// No zone has both; 0 would say that test and survey agree.
		if weight == 0 {
			return unit.None[float64]()
		}
		return unit.Some(sum / weight)
	}
	for _, z := range s.Zones {
		if z.Rating.Tested.Any() {
			s.Tested += z.Area
		}
	}
	s.SurfaceOff, s.SubsoilOff = off(suitability.SurfacePH), off(suitability.SubsoilPH)
}
