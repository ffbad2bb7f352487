package lime

import (
	"cmp"
	"errors"
	"slices"

	"rootworthy/soils/unit"
)

// Method turns what a laboratory measured into a lime requirement.
type Method struct {
	Name   string // as options write it
	Title  string // as reports print it
	Needs  string // what must have been measured
	Source string
	Range  string   // outside it the method refuses
	States []string // postal codes it was calibrated for; nil where it was not for a state

	Slice       unit.Opt[unit.Depth] // of soil that the figure is for; missing where the source does not say
	SliceMemory bool                 // Slice is from memory, not checked
	Memory      bool                 // part of the formula is from memory: off unless [Ask.FromMemory]
	Credit      bool                 // the source has a credit for lime spread before

	buffer  Buffer // whose error [BufferError] holds; "" for none
	require func(Soil, Ask) (result, error)
}

// result is what a method finds for its own slice.
type result struct {
	rate      Rate
	fieldLime unit.Opt[float64] // FieldLime per Rate
	credit    func(Application) unit.AreaRate
	slice     unit.Opt[unit.Depth] // where it depends on the soil or a table
	deep      bool                 // rate is for Ask.Depth already
	why       string
	buffer    Buffer
	notes     []string
}

// Methods lists the methods, in the order help shows them.
func Methods() []Method {
	return []Method{ncMehlich(), pennState(), georgia(), adamsEvans(), alSaturation(), laboratory(), ownTable()}
}

// MethodByName returns a method of [Methods].
func MethodByName(name string) (Method, bool) {
	all := Methods()
	if i := slices.IndexFunc(all, func(m Method) bool { return m.Name == name }); i >= 0 {
		return all[i], true
	}
	return Method{}, false
}

// deepest is how deep lime is mixed by any plow; beyond it a depth is a slip of the pen.
// Source: proposal.
const deepest unit.Depth = 60

// Require returns the requirement of a soil. The error is a [*Refusal]: something was not measured or lies outside the
// range of the method. It is never guessed.
//
//	at another depth than the slice: rate × depth / slice
//
// Source of the scaling: UC Davis Analytical Laboratory, lime requirement method 450: 8 in are 2,400,000 lb (computed).
func (m Method) Require(s Soil, a Ask) (Requirement, error) {
	r, err := m.answer(s, a)
	var no *Refusal
	if errors.As(err, &no) {
		// methods share the checks that refuse, so the name is put in here
		no.Method = m.Name
	}
	return r, err
}

// answer is Require without the name in the refusal. Credit is taken off the slice's figure and then scaled with it.
func (m Method) answer(s Soil, a Ask) (Requirement, error) {
	if d, ok := a.Depth.Get(); ok && !(d > 0 && d <= deepest) {
		return Requirement{}, refuse(OutsideDepth, "give one up to 60 cm", "%g cm of soil cannot be limed", float64(d))
	}
	found, err := m.require(s, a)
	if err != nil {
		return Requirement{}, err
	}
	r := Requirement{Method: m.Name, Rate: found.rate, Slice: m.Slice, Why: found.why, Notes: found.notes}
	if found.slice.Has() {
		r.Slice = found.slice
	}
	r.Depth = r.Slice
	// the user may know what the source does not say
	if r.Rate.quality == AsSold {
		r.Rate.quality = a.Quality.Or(AsSold)
	}
	if err := r.takeCredit(m, a.Last, found.credit); err != nil {
		return Requirement{}, err
	}
	if err := r.scale(m, a.Depth, found.deep); err != nil {
		return Requirement{}, err
	}
	// after credit and scaling, so that both rates stand for the same lime
	if f, ok := found.fieldLime.Get(); ok {
		r.FieldLime = unit.Some(Of(r.Rate.Times(f).amount, AsSold))
	}
	if r.Rate.quality == AsSold && r.Rate.amount > 0 {
		r.Notes = append(r.Notes, NoteAsSold)
	}
	// a table names its buffer only when it is read, so the answer's goes before the method's
	if e, ok := BufferError(cmp.Or(found.buffer, m.buffer)); ok && r.Rate.amount > 0 {
		r.Error = unit.Some(e)
	}
	r.Notes = inOrder(r.Notes)
	return r, nil
}

// takeCredit takes off what lime spread before will still do.
func (r *Requirement) takeCredit(m Method, last Application, credit func(Application) unit.AreaRate) error {
	if last == (Application{}) || credit == nil {
		return nil
	}
	if !(last.Rate >= 0 && last.Months >= 0) || last.Rate-last.Rate != 0 {
		return refuse(BadValue, "give a rate and months since, both from 0",
			"lime of %g kg/m² %g months ago is not possible", float64(last.Rate), last.Months)
	}
	// more lime than is needed makes no debt
	r.Credit = min(credit(last), r.Rate.amount)
	if r.Credit > 0 {
		r.Notes = append(r.Notes, NoteCredit)
		r.Rate.amount -= r.Credit
		if r.Rate.amount == 0 {
			r.Why = CreditCovers
		}
	}
	return nil
}

// scale brings the figure of the slice to another depth.
func (r *Requirement) scale(m Method, depth unit.Opt[unit.Depth], done bool) error {
	d, ok := depth.Get()
	if !ok || r.Rate.amount == 0 {
		return nil
	}
	slice, known := r.Slice.Get()
	switch {
	// reckoned for the depth asked for already, by the mass of soil
	case done:
	case !known:
		return refuse(NoSlice, "leave the depth out: the figure is for the slice its source means",
			"the slice of soil is not stated, so the figure cannot be had for %g cm", float64(d))
	default:
		r.Rate, r.Credit = r.Rate.Times(float64(d/slice)), r.Credit*unit.AreaRate(d/slice)
		r.Notes = append(r.Notes, NoteScaled)
		if m.SliceMemory {
			r.Notes = append(r.Notes, NoteSliceMemory)
		}
	}
	r.Depth = depth
	return nil
}

// inOrder puts notes in the order of [Notes], each once.
func inOrder(notes []string) []string {
	var out []string
	for _, n := range Notes() {
		if slices.Contains(notes, n) {
			out = append(out, n)
		}
	}
	return out
}

// noNeed answers for a soil at its target or above: no lime, whatever else was measured.
func noNeed(s Soil, a Ask) (result, bool) {
	ph, ok := s.PH.Get()
	if !ok || !(ph >= a.Target) {
		return result{}, false
	}
	return result{rate: Of(0, Carbonate), why: AtTarget}, true
}

// between refuses a pH or target outside a range.
func between(code, what string, v, least, most unit.PH) error {
	if v >= least && v <= most {
		return nil
	}
	return refuse(code, "use another method, or the laboratory's own recommendation",
		"%s %g is outside %g to %g", what, float64(v), float64(least), float64(most))
}
