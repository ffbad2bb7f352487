package words

import (
	"fmt"
	"math"

	"rootworthy/export"
	"rootworthy/soils/unit"
	"rootworthy/suitability"
)

// tests prints, field by field, how far the survey was off where a laboratory looked.
func (s *summary) tests() {
	shown := 0
	for i := range s.sums {
		f := &s.sums[i]
		if f.Tested == 0 {
			continue
		}
		if shown++; shown == 1 {
			s.heading("Your soil tests against the survey (pH)")
		}
		if shown > mostFields {
			continue
		}
		s.text("", "  ", printable(fieldLabel(f.Field)+", "+acres(f.Tested)+" acres tested. "+offTexts(f)))
		for _, z := range f.Zones {
			s.zoneTests(z)
		}
	}
	if shown > mostFields {
		s.line(fmt.Sprintf("and %s in fields.csv", count(shown-mostFields, "more field", "more fields")))
	}
}

// zoneTests prints what was said and read in one zone.
func (s *summary) zoneTests(z *suitability.Zone) {
	for _, x := range []struct {
		name string
		test *suitability.TestedPH
	}{{"topsoil", z.Rating.Tested.Surface}, {"subsoil", z.Rating.Tested.Subsoil}} {
		if x.test == nil {
			s.line(right(number(z.Number), 4) + "  " + x.name + ": not tested; the survey's pH stands.")
		} else {
			s.text(right(number(z.Number), 4)+"  ", zoneIndent, printable(fmt.Sprintf("%s: %s (%s).", x.name, saidAndRead(x.test), testDetails(x.test))))
		}
	}
}

// offTexts says how far the survey was off in a field: "On average the survey reads the topsoil right and the subsoil 0.3
// too high."
func offTexts(f *export.Sum) string {
	var parts []string
	for _, x := range []struct {
		name string
		off  unit.Opt[float64]
	}{{"topsoil", f.SurfaceOff}, {"subsoil", f.SubsoilOff}} {
		if off, ok := x.off.Get(); ok {
			parts = append(parts, "the "+x.name+" "+offText(off))
		}
	}
	if len(parts) == 0 {
		return "The survey has no pH to compare."
	}
	return "On average the survey reads " + listed(parts) + "."
}

// offText says how far the survey was off; a positive figure is a test above it.
func offText(off float64) string {
	switch x := plain(math.Abs(off), 1); {
	case x == "0":
		return "right"
	case off > 0:
		return x + " too low"
	default:
		return x + " too high"
	}
}

// rateText prints a rate by test for the table of zones.
func rateText(l *suitability.Lime, likely unit.AreaRate) string {
	return "lime " + withError(likely, l.Test.Error, 1) + " by test"
}
