package lime

import (
	"rootworthy/soils/lab"
	"rootworthy/soils/unit"
)

// SoilOf returns what a laboratory's sample says about lime. Readings beyond the laboratory's limits are left out: "<25" is no figure. Aluminum,
// calcium and magnesium count only when they were displaced by KCl; the density is the bulk density, not the weight of
// what the laboratory scooped.
func SoilOf(s *lab.Sample) Soil {
	out := Soil{
		PH: s.PH, PHCaCl2: s.PHCaCl2,
		Mehlich: s.Buffer.Mehlich, AdamsEvans: s.Buffer.AdamsEvans, MooreSikora: s.Buffer.MooreSikora,
		SMP: s.Buffer.SMP, Sikora: s.Buffer.Sikora, Woodruff: s.Buffer.Woodruff,
		LBC: s.LBC, LBCeq: s.LBCeq, CEC: s.CEC, Density: s.BulkDensity,
		Aluminum: displaced(s, lab.Aluminum), Calcium: displaced(s, lab.Calcium), Magnesium: displaced(s, lab.Magnesium),
	}
	for _, a := range s.Acidity {
		// by volume for North Carolina's rule, by mass for Penn State's: neither is turned into the other
		if a.Method == lab.AcidityMehlich {
			out.MehlichAcidity = exact(a.ByVolume)
			out.Exchangeable = exact(a.ByMass)
		}
	}
	for _, g := range s.Lime {
		// advice that the reader could not turn into a rate has been told as a fault of the file
		if rate, ok := g.Rate.Get(); ok {
			out.Given = append(out.Given, Given{Rate: rate, Crop: g.Crop, Text: g.Given})
		}
	}
	return out
}

// displaced returns the charge of a cation by KCl.
func displaced(s *lab.Sample, e lab.Element) unit.Opt[unit.Charge] {
	n, ok := s.Nutrient(e, lab.KCl)
	weight, charged := e.Equivalent()
	content, known := n.ByMass.Exact()
	if !ok || !charged || !known {
		return unit.None[unit.Charge]()
	}
	return unit.Some(content.Charge(weight))
}

// exact is a reading within the limits of the method; "<25" is missing.
func exact[T ~float64](r lab.Reading[T]) unit.Opt[T] {
	if v, ok := r.Exact(); ok {
		return unit.Some(v)
	}
	return unit.None[T]()
}
