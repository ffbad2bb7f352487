package suitability

import "rootworthy/soils/unit"

// span keeps the survey's range of the value that a finding was judged by. An end that is not recorded, or lies on the wrong side,
// is the value itself; without a range nothing is kept.
func (f *Finding) span(low, high unit.Opt[float64]) {
	v, ok := f.Value.Get()
	if !ok {
		return
	}
	// a range that does not hold its own value is a slip of the table; it is widened to do so, not refused
	l, h := roundInput(min(v, low.Or(v))), roundInput(max(v, high.Or(v)))
	if l < h {
		f.Low, f.High = unit.Some(l), unit.Some(h)
	}
}

// plain is a quantity as a number in its own unit.
func plain[T ~float64](q unit.Opt[T]) unit.Opt[float64] {
	if v, ok := q.Get(); ok {
		return unit.Some(float64(v))
	}
	return unit.None[float64]()
}

// Ranged is a criterion other than pH whose value may lie elsewhere in the survey's range.
type Ranged struct {
	Code             Code
	Low, Value, High float64
}

// Ranged lists the criteria of the component that the survey gives a range for, in the order of [Codes].
func (r *PHReading) Ranged() []Ranged {
	var out []Ranged
	for _, f := range r.findings {
		low, ok := f.Low.Get()
		if v, has := f.Value.Get(); ok && has {
			// pH never comes here: its range stands in the horizons, and Low of its findings is missing
			out = append(out, Ranged{f.Criterion, low, v, f.High.Or(v)})
		}
	}
	return out
}

// Judged returns the class that a criterion gives at another value.
func (r *PHReading) Judged(c Code, value float64) Class {
	for _, f := range r.findings {
		if f.Criterion == c {
			f.Value = unit.Some(roundInput(value))
			// f is a copy: the finding itself stays
			return r.profile.findAgain(f, r.evidence).Class
		}
	}
	return NotRated
}

// ClassWith is [PHReading.Class] with every criterion of [PHReading.Ranged] taken together as one, of the class others.
func (r *PHReading) ClassWith(surface, subsoil unit.Opt[float64], others Class) (class, today Class) {
	kept := r.findings
	defer func() { r.findings = kept }()
	r.findings = nil
	for _, f := range kept {
		if f.Low.Has() && f.Value.Has() {
			// the score only parts equals of one class, and no limiting factor is asked for here
			f.Class, f.Score = others, unit.Some(0.0)
		}
		r.findings = append(r.findings, f)
	}
	return r.Class(surface, subsoil)
}
