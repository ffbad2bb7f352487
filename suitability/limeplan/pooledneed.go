package limeplan

import (
	"math"

	"rootworthy/soils/lime"
	"rootworthy/soils/unit"
	"rootworthy/suitability"
)

// pooledNeed is the requirements of several samples put together, each once. All rates are sums in kg/m², divided by n only where they
// are written.
type pooledNeed struct {
	// refused samples are not among them
	n                  int
	sum, low, high     unit.AreaRate // as figures of zones are written
	raw, field, credit unit.AreaRate // in the quality of the method; in lime as its source measured it
	quality            lime.Quality
	asSold, hasField   bool
	sure               bool // every sample over zero has an error
	why                string
	differ             bool // samples are zero for different reasons
	slice, depth       unit.Opt[unit.Depth]
	notes              []string
}

// add counts one sample in.
func (p *pooledNeed) add(r lime.Requirement) {
	p.n++
	amount, asSold := inFigure(r.Rate)
	p.sum += amount
	p.asSold = p.asSold || asSold
	if least, most, ok := r.Band(); ok {
		low, _ := inFigure(least)
		high, _ := inFigure(most)
		p.low, p.high = p.low+low, p.high+high
	} else {
		// a zero needs no error: at the target there is nothing to be off by
		p.sure = p.sure && amount == 0
	}
	if amount > 0 {
		p.raw += r.Rate.Amount()
		// all samples of a zone were asked by one method, so every rate over zero is of one quality
		p.quality = r.Rate.Quality()
	}
	if f, ok := r.FieldLime.Get(); ok {
		p.field, p.hasField = p.field+f.Amount(), p.hasField || amount > 0
	}
	p.differ = p.differ || p.n > 1 && p.why != r.Why
	p.why = r.Why
	p.credit += r.Credit
	p.slice, p.depth = first(p.slice, r.Slice), first(p.depth, r.Depth)
	p.notes = append(p.notes, r.Notes...)
}

// bring moves the mean to the level of a surface, which may be off by so much. All that goes with the mean goes with it; the
// error of the surface is added to that of the method as if independent. The credit stays: what was spread before is no greater where
// more is needed yet.
func (p *pooledNeed) bring(level, off unit.AreaRate) {
	if p.sum <= 0 {
		return // no sample asks for lime, and so no surface through just these samples does: it reads zero, and so do low and high
	}
	// what the errors of the samples come to, as a fraction of their mean
	method := p.high/p.sum - 1
	k := max(level, 0) * unit.AreaRate(p.n) / p.sum
	p.sum, p.raw, p.field = k*p.sum, k*p.raw, k*p.field
	p.low, p.high = 0, 0
	// the surface sees no need where some bag did: no single reason fits
	if p.sum == 0 {
		p.differ = true
		return
	}
	spread := unit.AreaRate(math.Hypot(float64(method*p.sum), float64(off)*float64(p.n)))
	p.low, p.high = max(p.sum-spread, 0), p.sum+spread
}

// first returns a, or b where a is missing.
func first(a, b unit.Opt[unit.Depth]) unit.Opt[unit.Depth] {
	if a.Has() {
		return a
	}
	return b
}

// mean returns the mean requirement; hasField says that it has a figure in lime as the method's source measured it.
func (p *pooledNeed) mean() (r lime.Requirement, hasField bool) {
	n := unit.AreaRate(p.n)
	r.Rate = lime.Of(p.raw/n, p.quality)
	if p.hasField {
		r.FieldLime = unit.Some(lime.Of(p.field/n, lime.AsSold))
	}
	return r, p.hasField
}

// fill writes the mean into the lime of a zone. A sum of zero is sure whatever the method: its low and high are zero too.
func (p *pooledNeed) fill(l *suitability.Lime) {
	n := unit.AreaRate(p.n)
	l.Likely, l.AsSold = unit.Some(p.sum/n), p.asSold
	l.Test.Slice, l.Test.Depth, l.Test.Credit = p.slice, p.depth, p.credit/n
	addNotes(l, p.notes...)
	switch {
	// why of the last sample stands for all when none differs
	case p.sum == 0:
		l.Low, l.High = l.Likely, l.Likely
		l.Why = whyTest(p.why)
		if p.differ {
			l.Why = suitability.WhyTestZero
		}
	case p.sure:
		l.Low, l.High = unit.Some(p.low/n), unit.Some(p.high/n)
		l.Test.Error = unit.Some(unit.Fraction(p.high/p.sum - 1))
	default:
		addNotes(l, suitability.LimeErrorUnknown)
	}
}
