package export

import (
	"io"
	"time"

	"rootworthy/soils/lab"
	"rootworthy/soils/lime"
	"rootworthy/soils/unit"
	"rootworthy/suitability/limeplan"
)

// LimeSample is what a lime method says of one laboratory sample, with no field or survey at hand.
type LimeSample struct {
	Sample  *lab.Sample
	Answer  limeplan.Answer
	Method  *lime.Method // nil where none was needed, or none has a figure
	Target  unit.PH
	Product lime.Product
	Age     string // of suitability.TestAges
	Deeper  bool   // not dug in the topsoil, so no method was asked
}

// AsSpread returns the product over the ground; missing where the method refused.
func (s *LimeSample) AsSpread() unit.Opt[unit.AreaRate] {
	// A refusal is no figure, and 0 would be read as "no lime needed".
	if s.Answer.Refusal != nil {
		return unit.None[unit.AreaRate]()
	}
	return unit.Some(s.Answer.Need.AsSpread(s.Product))
}

// SampleSentences are the words of the sample list; a nil function leaves its column empty.
type SampleSentences struct {
	Why        func(*LimeSample) string // why there is none, or zero
	Caution    func(*LimeSample) string // what the figure is worth
	Difference func(*LimeSample) string // from the laboratory's own figure
}

// LimeSampleColumns lists the columns of the sample list.
func LimeSampleColumns() []Column { return columns(limeSampleEntries(SampleSentences{})) }

// WriteLimeSamples writes a row for each answer, in the order given.
func WriteLimeSamples(w io.Writer, rows []LimeSample, say SampleSentences) error {
	entries := limeSampleEntries(say)
	t := newListing(w, columns(entries))
	for i := range rows {
		t.row(row(entries, &rows[i]))
	}
	return t.Close()
}

// limeSampleEntries are the columns of the list in their order: which bag, what was found, what rate, in words.
func limeSampleEntries(say SampleSentences) []entry[*LimeSample] {
	return concat(samplePlaceEntries(), sampleFoundEntries(), sampleRateEntries(), sampleWordEntries(say))
}

// samplePlaceEntries say which bag it is.
func samplePlaceEntries() []entry[*LimeSample] {
	degree := func(name, meaning string, i int) entry[*LimeSample] {
		return numeric(name, "degree", meaning, func(s *LimeSample) Value {
			if p, ok := s.Sample.Place.Point.Get(); ok {
				// Seven decimals, as in every file: about a centimetre.
				return number(p[i], 7)
			}
			return Value{}
		})
	}
	return []entry[*LimeSample]{
		textual("sample_id", "as written on the bag, or the laboratory's number, or its line in the file", func(s *LimeSample) Value { return text(s.Answer.ID) }),
		textual("laboratory", "who tested it, when the file says", func(s *LimeSample) Value { return text(s.Sample.Lab) }),
		textual("field_id", "the field, when the file says", func(s *LimeSample) Value { return text(s.Sample.Place.Field) }),
		textual("zone_id", "the zone, when the file says", func(s *LimeSample) Value { return text(s.Sample.Place.Zone) }),
		degree("lon", "longitude, WGS 84", 0), degree("lat", "latitude, WGS 84", 1),
		numeric("top_cm", "cm", "top of the layer; empty when the file does not say", func(s *LimeSample) Value { return maybe(s.Sample.Top) }),
		numeric("bottom_cm", "cm", "bottom of the layer", func(s *LimeSample) Value { return maybe(s.Sample.Bottom) }),
		textual("date", "day it was dug or, failing that, reported", func(s *LimeSample) Value {
			if d, ok := s.Sample.Date().Get(); ok {
				return text(d.Format(time.DateOnly))
			}
			return Value{}
		}),
		textual("age", "fresh (under three years), old or unknown", func(s *LimeSample) Value { return text(s.Age) }),
	}
}

// sampleFoundEntries give what the laboratory found.
func sampleFoundEntries() []entry[*LimeSample] {
	return []entry[*LimeSample]{
		numeric("ph_water", "pH", "pH in water", func(s *LimeSample) Value { return maybe(s.Sample.PH) }),
		numeric("ph_cacl2", "pH", "pH in 0.01 M calcium chloride", func(s *LimeSample) Value { return maybe(s.Sample.PHCaCl2) }),
		textual("buffer", "lime buffer whose pH was read", func(s *LimeSample) Value { name, _ := BufferOf(s.Sample); return text(name) }),
		numeric("buffer_ph", "pH", "pH of the soil in that buffer", func(s *LimeSample) Value {
			// A pH of 0 is no reading; it is how a buffer that was not used comes.
			if _, ph := BufferOf(s.Sample); ph > 0 {
				return figure(ph)
			}
			return Value{}
		}),
	}
}

// BufferOf returns the first buffer that was read, in the order of the trade's list.
func BufferOf(s *lab.Sample) (name string, ph float64) {
	// A laboratory reads one buffer as a rule. Where a file has two, the list decides, so that the same file gives the
	// same column.
	b := s.Buffer
	for _, x := range []struct {
		buffer lab.Buffer
		ph     float64
	}{
		{lab.MehlichBuffer, float64(b.Mehlich.Or(0))}, {lab.AdamsEvansBuffer, float64(b.AdamsEvans.Or(0))}, {lab.MooreSikoraBuffer, float64(b.MooreSikora.Or(0))},
		{lab.SMPBuffer, float64(b.SMP.Or(0))}, {lab.SikoraBuffer, float64(b.Sikora.Or(0))}, {lab.WoodruffBuffer, float64(b.Woodruff.Or(0))},
	} {
		if x.ph > 0 {
			return x.buffer.String(), x.ph
		}
	}
	return "", 0
}

// sampleRateEntries give the rate.
// in is the unit of the column; there are two, and both are turned from the same rate.
func sampleRateEntries() []entry[*LimeSample] {
	rate := func(name, in, meaning string, of func(*LimeSample) (unit.AreaRate, bool)) entry[*LimeSample] {
		return numeric(name, in, meaning, func(s *LimeSample) Value {
			x, ok := of(s)
			switch {
			case s.Answer.Refusal != nil || !ok:
				return Value{}
			case in == "tonne per hectare":
				return figure(x.TonnesPerHectare())
			}
			return figure(x.ShortTonsPerAcre())
		})
	}
	// The unit of the trade; the metric column beside it is the same figure.
	const st = "short ton per acre"
	return []entry[*LimeSample]{
		// By name, as it is typed for --lime-method.
		textual("method", "the lime method; empty where none was needed or none has a figure", func(s *LimeSample) Value { return text(s.Answer.Need.Method) }),
		numeric("ph_target", "pH", "surface pH that the lime aims at", func(s *LimeSample) Value { return figure(float64(s.Target)) }),
		rate("lime_st_ac", st, "lime in the quality of lime_quality; 0 is no need, empty is no figure", func(s *LimeSample) (unit.AreaRate, bool) { return s.Answer.Need.Rate.Amount(), true }),
		rate("lime_t_ha", "tonne per hectare", "the same in metric tons", func(s *LimeSample) (unit.AreaRate, bool) { return s.Answer.Need.Rate.Amount(), true }),
		textual("lime_quality", "which lime that is", func(s *LimeSample) Value {
			// Nothing has no quality.
			if s.Answer.Refusal != nil || s.Answer.Need.Rate.Amount() == 0 {
				return Value{}
			}
			return text(s.Answer.Need.Rate.Quality().String())
		}),
		rate("lime_low_st_ac", st, "the rate less its likely error, one standard deviation; empty where the error is not known", func(s *LimeSample) (unit.AreaRate, bool) { x, _, ok := s.Answer.Need.Band(); return x.Amount(), ok }),
		rate("lime_high_st_ac", st, "the rate plus its likely error", func(s *LimeSample) (unit.AreaRate, bool) { _, x, ok := s.Answer.Need.Band(); return x.Amount(), ok }),
		rate("product_st_ac", st, "product as spread, not rounded for the spreader", func(s *LimeSample) (unit.AreaRate, bool) { return s.AsSpread().Get() }),
		numeric("soil_cm", "cm", "depth of soil that the figure is for; empty where the source does not say", func(s *LimeSample) Value { return maybe(s.Answer.Need.Depth) }),
		rate("credit_st_ac", st, "taken off for lime spread before", func(s *LimeSample) (unit.AreaRate, bool) {
			// Empty where nothing was spread before, so that a credit stands out in the column.
			return s.Answer.Need.Credit, s.Answer.Need.Credit > 0
		}),
		rate("own_st_ac", st, "the laboratory's own figure", func(s *LimeSample) (unit.AreaRate, bool) { g, ok := limeplan.Own(s.Sample); return g.Rate, ok }),
	}
}

// sampleWordEntries say what the rate is worth.
func sampleWordEntries(say SampleSentences) []entry[*LimeSample] {
	words := func(name, meaning string, of func(*LimeSample) string) entry[*LimeSample] {
		return textual(name, meaning, func(s *LimeSample) Value {
			// A caller without words gets the figures alone, in the same columns.
			if of == nil {
				return Value{}
			}
			return text(of(s))
		})
	}
	method := func(of func(*lime.Method) string) func(*LimeSample) string {
		return func(s *LimeSample) string {
			if s.Method == nil {
				return ""
			}
			return of(s.Method)
		}
	}
	return []entry[*LimeSample]{
		words("why", "why there is no figure, or none is needed", say.Why),
		words("caution", "what the figure is worth", say.Caution),
		words("difference", "how it differs from the laboratory's own figure, and why", say.Difference),
		words("range", "where the method holds; outside it refuses", method(func(m *lime.Method) string { return m.Range })),
		words("source", "where the method is published", method(func(m *lime.Method) string { return m.Source })),
	}
}
