package words

import (
	"fmt"

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
		text := fieldLabel(f.Field) + ", " + acres(f.Tested) + " acres tested: " + listed([]string{offText("topsoil", f.SurfaceOff), offText("subsoil", f.SubsoilOff)})
		s.text("", "  ", printable(text+"."))
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
		if x.test != nil {
			s.text(right(number(z.Number), 4)+"  ", zoneIndent, printable(fmt.Sprintf("%s: %s (%s).", x.name, saidAndRead(x.test), testDetails(x.test))))
		}
	}
}

// offText says how far the survey was off at one depth.
func offText(name string, off unit.Opt[float64]) string {
	x, ok := off.Get()
	switch {
	case !ok:
		return name + " not compared"
	case plain(x, 1) == "0":
		return name + " as the survey says"
	case x > 0:
		return "the survey reads the " + name + " " + plain(x, 1) + " too acid"
	}
	return "the survey misses " + plain(-x, 1) + " of acidity in the " + name
}

// rateText prints a rate by test for the table of zones.
func rateText(l *suitability.Lime, likely unit.AreaRate) string {
	s := "lime " + tons(likely.ShortTonsPerAcre())
	if e, ok := l.Test.Error.Get(); ok {
		s += " ± " + tons(float64(e)*likely.ShortTonsPerAcre())
	}
	return s + " by test"
}
