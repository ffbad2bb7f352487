package lab

import (
	"encoding/csv"
	"io"
	"slices"
	"strconv"
	"time"

	"rootworthy/soils/unit"
)

// plainColumn is a column of the plain form.
type plainColumn struct {
	header string
	cell   func(*Sample) string
}

// WritePlain writes samples in the plain form, comma-separated with a dot for decimals, which [Read] takes without a
// mapping and gives back as they were: contents in mg/kg, depths in cm, days as 2026-03-14, limits as "<25" and "ND".
// Only columns that hold something are written. Lime that the laboratory printed without a unit moves to its text.
func WritePlain(w io.Writer, samples []Sample) error {
	columns := slices.DeleteFunc(plainColumns(), func(c plainColumn) bool {
		// a file without any value still has a header that reads back
		return c.header != "sample_id" && !slices.ContainsFunc(samples, func(s Sample) bool { return c.cell(&s) != "" })
	})
	columns = append(columns, limeColumns(samples)...)
	out := csv.NewWriter(w)
	// one row for all: the writer keeps nothing of it
	row := make([]string, len(columns))
	for i, c := range columns {
		row[i] = c.header
	}
	if err := out.Write(row); err != nil {
		return err
	}
	// by index: cell functions take a pointer, and a copy of a sample for each would be large
	for s := range samples {
		for i, c := range columns {
			row[i] = c.cell(&samples[s])
		}
		if err := out.Write(row); err != nil {
			return err
		}
	}
	out.Flush()
	return out.Error()
}

// plainColumns lists every column but lime, in the order of the form.
func plainColumns() []plainColumn {
	c := []plainColumn{
		{"sample_id", func(s *Sample) string { return s.ID }},
		{"lab_number", func(s *Sample) string { return s.LabNumber }},
		{"lab", func(s *Sample) string { return s.Lab }},
		{"field_id", func(s *Sample) string { return s.Place.Field }},
		{"zone_id", func(s *Sample) string { return s.Place.Zone }},
		{"map_unit", func(s *Sample) string { return s.Place.MapUnit }},
		{"lon", func(s *Sample) string { return degrees(s, 0) }},
		{"lat", func(s *Sample) string { return degrees(s, 1) }},
		{"top_cm", func(s *Sample) string { return optional(s.Top) }},
		{"bottom_cm", func(s *Sample) string { return optional(s.Bottom) }},
		{"cores", func(s *Sample) string { return cores(s) }},
		{"date", func(s *Sample) string { return dayText(s.Taken) }},
		{"reported", func(s *Sample) string { return dayText(s.Reported) }},
		{"ph", func(s *Sample) string { return onlyIf(s.PHAssumed, optional(s.PH)) }},
		{"ph_water", func(s *Sample) string { return onlyIf(!s.PHAssumed, optional(s.PH)) }},
		{"ph_cacl2", func(s *Sample) string { return optional(s.PHCaCl2) }},
		{"buffer_ph_mehlich", func(s *Sample) string { return optional(s.Buffer.Mehlich) }},
		{"buffer_ph_adams_evans", func(s *Sample) string { return optional(s.Buffer.AdamsEvans) }},
		{"buffer_ph_moore_sikora", func(s *Sample) string { return optional(s.Buffer.MooreSikora) }},
		{"buffer_ph_smp", func(s *Sample) string { return optional(s.Buffer.SMP) }},
		{"buffer_ph_sikora", func(s *Sample) string { return optional(s.Buffer.Sikora) }},
		{"buffer_ph_woodruff", func(s *Sample) string { return optional(s.Buffer.Woodruff) }},
	}
	for _, m := range append([]AcidityMethod{AcidityUnknown}, AcidityMethods()...) {
		// not stated is a method of its own here: it must read back as not stated
		name := joined("exch_acidity", m.Code())
		c = append(c,
			plainColumn{name + "_meq", func(s *Sample) string { return limited(acidityBy(s, m).ByMass) }},
			plainColumn{name + "_meq_100cm3", func(s *Sample) string { return limited(acidityBy(s, m).ByVolume) }})
	}
	c = append(c,
		plainColumn{"lbc_ppm_ph", func(s *Sample) string { return optional(s.LBC) }},
		plainColumn{"lbceq_ppm_ph", func(s *Sample) string { return optional(s.LBCeq) }},
		plainColumn{"cec_meq", func(s *Sample) string { return optional(s.CEC) }},
		plainColumn{"cec_meq_100cm3", func(s *Sample) string { return optional(s.CECByVolume) }},
		plainColumn{"om_pct", func(s *Sample) string { return limited(s.OrganicMatter) }},
		plainColumn{"sand_pct", func(s *Sample) string { return optional(s.Sand) }},
		plainColumn{"silt_pct", func(s *Sample) string { return optional(s.Silt) }},
		plainColumn{"clay_pct", func(s *Sample) string { return optional(s.Clay) }},
		plainColumn{"density_g_cm3", func(s *Sample) string { return optional(s.Density) }},
		plainColumn{"bulk_density_g_cm3", func(s *Sample) string { return optional(s.BulkDensity) }},
		plainColumn{"ec_ds_m", func(s *Sample) string { return optional(s.EC) }})
	for _, e := range Elements() {
		c = append(c, plainColumn{e.Code() + "_sat_pct", func(s *Sample) string { return saturationBy(s, e) }})
	}
	return append(c, nutrientColumns()...)
}

// nutrientColumns lists every element by every extractant, by mass and by volume; those without a value are dropped
// later.
func nutrientColumns() []plainColumn {
	var c []plainColumn
	for _, e := range Elements() {
		for _, x := range append([]Extractant{ExtractantUnknown}, Extractants()...) {
			name := joined(e.Code(), x.Code())
			c = append(c,
				plainColumn{name + "_ppm", func(s *Sample) string { n, _ := s.Nutrient(e, x); return limited(n.ByMass) }},
				plainColumn{name + "_mg_dm3", func(s *Sample) string { n, _ := s.Nutrient(e, x); return limited(n.ByVolume) }})
		}
	}
	return c
}

// limeColumns repeats crop, rate and text as often as a sample has recommendations; always all three, since readers put
// together the first of each, then the second.
func limeColumns(samples []Sample) []plainColumn {
	most := 0
	for _, s := range samples {
		most = max(most, len(s.Lime))
	}
	var c []plainColumn
	for i := range most {
		at := func(s *Sample) Recommendation {
			if i < len(s.Lime) {
				return s.Lime[i]
			}
			return Recommendation{}
		}
		c = append(c,
			plainColumn{"lab_lime_crop", func(s *Sample) string { return at(s).Crop }},
			plainColumn{"lab_lime_st_ac", func(s *Sample) string { return stPerAcre(at(s).Rate) }},
			plainColumn{"lab_lime_text", func(s *Sample) string {
				// a figure without its unit, which is only words
				if r := at(s); !r.Rate.Has() && r.Given != "" {
					return squeeze(r.Given + " " + r.Text)
				}
				return at(s).Text
			}})
	}
	return c
}

// figureText prints the shortest figure that reads back the same.
func figureText(v float64) string { return strconv.FormatFloat(v, 'g', -1, 64) }

// optional prints a value, or nothing: a missing one is an empty cell, never 0.
func optional[T ~float64](o unit.Opt[T]) string {
	if v, ok := o.Get(); ok {
		return figureText(float64(v))
	}
	return ""
}

// limited prints a reading with its sign: <25, >200, ND.
func limited[T ~float64](r Reading[T]) string {
	sign := [...]string{Exactly: "", Below: "<", Above: ">"}[r.Bound]
	switch v := optional(r.Value); {
	case v != "":
		return sign + v
	case r.Bound == Below:
		return "ND"
	}
	return ""
}

// stPerAcre prints a rate of lime in the unit of its column.
func stPerAcre(o unit.Opt[unit.AreaRate]) string {
	if v, ok := o.Get(); ok {
		return figureText(v.ShortTonsPerAcre())
	}
	return ""
}

// dayText prints a day in the form that cannot be misread.
func dayText(o unit.Opt[time.Time]) string {
	if t, ok := o.Get(); ok {
		return t.Format(time.DateOnly)
	}
	return ""
}

// degrees prints longitude (0) or latitude (1).
func degrees(s *Sample, i int) string {
	if p, ok := s.Place.Point.Get(); ok {
		return figureText(p[i])
	}
	return ""
}

// cores prints the number of cores.
func cores(s *Sample) string {
	if n, ok := s.Cores.Get(); ok {
		return strconv.Itoa(n)
	}
	return ""
}

// onlyIf parts pH that was said to be in water from one that was taken for it: each has a column.
func onlyIf(yes bool, s string) string {
	if yes {
		return s
	}
	return ""
}

// acidityBy finds acidity by its method; the zero value was not measured.
func acidityBy(s *Sample, m AcidityMethod) Acidity {
	for _, a := range s.Acidity {
		if a.Method == m {
			return a
		}
	}
	return Acidity{}
}

// saturationBy prints the share of an element.
func saturationBy(s *Sample, e Element) string {
	for _, x := range s.Saturation {
		if x.Element == e {
			return figureText(float64(x.Percent))
		}
	}
	return ""
}
