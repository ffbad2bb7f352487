package nutrient

import (
	"math"

	"rootworthy/soils/lab"
	"rootworthy/soils/unit"
)

// Soil is one soil test: the sample, and the classes that the laboratory printed beside its figures. Either may be missing.
type Soil struct {
	Sample  *lab.Sample
	Printed []Printed
}

// Printed is a class as the laboratory printed it.
type Printed struct {
	Nutrient Nutrient
	Class    string
}

// Class is how a table rates a soil.
type Class struct {
	Name  string
	Index int                     // 0 is the poorest
	Value unit.Opt[unit.AreaRate] // over the table's slice; missing where the laboratory printed the class
	Notes []string                // of [Notes]
}

// Classify rates a nutrient of a soil. A class that the laboratory printed goes before the program's own reading of its
// figure: the laboratory knows its method. The error is a [*Refusal].
func (t *Table) Classify(n Nutrient, s Soil) (Class, error) {
	r := t.rating(n)
	if r == nil {
		return Class{}, refuse(NotRated, "take the rate from the laboratory's own report", "%s does not rate %s", t.Name, n)
	}
	for _, p := range s.Printed {
		if p.Nutrient == n {
			return r.printed(t, p.Class)
		}
	}
	if s.Sample == nil {
		return Class{}, notMeasured(n)
	}
	// before the classes are looked at: a figure by the wrong extractant must be refused for that, not for a missing end of class
	reading, notes, err := r.reading(t, s.Sample)
	if err != nil {
		return Class{}, err
	}
	if len(r.To) == 0 {
		return Class{}, refuse(ClassNeeded, "give the class that the laboratory printed beside the figure",
			"%s rates %s, but its source does not print where the classes end", t.Name, n)
	}
	return r.class(n, reading, notes)
}

// notMeasured refuses for want of a test, the one refusal that another bag of soil mends.
func notMeasured(n Nutrient) *Refusal {
	return refuse(NotMeasured, "have the soil tested for it", "%s was not measured", n)
}

// printed takes the laboratory's word for the class.
func (r *Rating) printed(t *Table, class string) (Class, error) {
	i := r.index(class)
	if i < 0 {
		return Class{}, refuse(ClassUnknown, "ask the laboratory which of them it means, or use the table of its own state",
			"%q is no class of %s in %s, which has %q", class, r.Nutrient, t.Name, r.Classes)
	}
	return Class{Name: r.Classes[i], Index: i}, nil
}

// class finds the class of a figure over the slice. Between printed ends a figure is rounded as they are printed: 30.4 is 30 where a
// table runs 0-30, 31-60.
func (r *Rating) class(n Nutrient, reading lab.Reading[unit.AreaRate], notes []string) (Class, error) {
	v, ok := reading.Value.Get()
	// "not detected" without the limit of the method lies anywhere below it
	if reading.Bound != lab.Exactly && !ok {
		return Class{}, refuse(BeyondDetection, "ask the laboratory for its limit", "%s was not detected, and the limit is not given", n)
	}
	if !(v >= 0) || math.IsInf(float64(v), 0) {
		return Class{}, refuse(BadValue, "correct the figure", "%s of %g is not possible", n, float64(v))
	}
	i := r.place(v)
	// below a limit within the poorest class, or above one within the richest, the class is sure all the same
	if reading.Bound == lab.Below && i != 0 || reading.Bound == lab.Above && i != len(r.Classes)-1 {
		return Class{}, refuse(BeyondDetection, "ask the laboratory for the figure or the class",
			"%s is beyond what the method can tell, and may lie in several classes", n)
	}
	return Class{Name: r.Classes[i], Index: i, Value: unit.Some(v), Notes: notes}, nil
}

// place returns the index of the class that holds v.
func (r *Rating) place(v unit.AreaRate) int {
	scale := math.Pow(10, float64(r.decimals))
	// 1e-9 takes back what changing units and back has lost, so that a printed 30.5 rounds as it would on paper.
	printed := math.Floor(float64(v/r.PerPrinted)*scale+0.5+1e-9) / scale
	for i, to := range r.To {
		if printed <= to {
			return i
		}
	}
	// the richest class has no end
	return len(r.To)
}
