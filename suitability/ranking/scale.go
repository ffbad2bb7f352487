package ranking

import (
	"rootworthy/soils/unit"
	"rootworthy/suitability"
)

// Scale turns a measure into marks from 0, the worst, to 1, the best. It depends on nothing but its own numbers, so
// that no field changes the marks of another.
type Scale struct {
	Criterion Criterion
	More      bool    // more is better
	Half      float64 // what gets half of the marks, in the unit of the criterion; 0 for shares and chances, which are marks already
	Source    string
	Status    suitability.Status
}

// Of returns the marks of a value.
//
//	more is better   1 − h/(x + h)      0 → 0, h → 1/2, 3h → 3/4
//	less is better       h/(x + h)      0 → 1, h → 1/2, 3h → 1/4
//	chance           x                  risk   1 − x
//
// Each step of the arithmetic rises or falls with x, also once rounded, so a better value never gets fewer marks.
// Source: proposal of this program. Range: x ≥ 0; less counts as 0.
func (s Scale) Of(x float64) float64 {
	x = max(x, 0)
	marks := min(x, 1)
	if s.Half > 0 {
		marks = 1 - s.Half/(x+s.Half)
		// straight, since 1 less the marks would lose the last digits of small ones
		if !s.More {
			return s.Half / (x + s.Half)
		}
	}
	if !s.More {
		return 1 - marks
	}
	return marks
}

// better returns a number that is larger for the better of two values of the criterion. It goes round the scale, on which values far out
// get marks that can hardly be told apart.
func (s Scale) better(x float64) float64 {
	if s.More {
		return x
	}
	return -x
}

// halfCost is what gets half marks by money, in money per acre: the upper end of what a guide gives for establishing
// any forage. Source: NC State guide, all forages, 100 to 250 dollars an acre (read); taking it as the half mark is a proposal.
const halfCost = 250

// Scales returns the scales by criterion.
func Scales(cost Basis) [Count]Scale {
	const ours = "proposal of this program"
	s := [Count]Scale{
		{Suited, true, float64(unit.Acres(40)), ours, suitability.Proposal},
		{Cost, false, float64(unit.ShortTonsPerAcre(2)), ours, suitability.Proposal},
		{Ready, false, 365, ours, suitability.Proposal},
		{Sure, true, 0, "a chance is its own mark", suitability.Proposal},
		{Risk, false, 0, "one less the share", suitability.Proposal},
	}
	if cost == ByMoney {
		s[Cost].Half = halfCost / float64(unit.Acres(1))
		s[Cost].Source = "proposal of this program, after NC State: 100 to 250 dollars an acre for any forage"
	}
	return s
}

// marks are the marks of a measure: the least and the most it may get for what is missing, and those it is ranked by.
// What is missing is ranked in the middle.
func (s Scale) marks(m Measure) (least, middle, most float64) {
	switch m.State {
	case Known:
		x := s.Of(m.Likely)
		return x, x, x
	case Hopeless:
		return 0, 0, 0
	}
	return 0, 0.5, 1
}
