package suitability

import (
	"rootworthy/soils"
	"rootworthy/soils/unit"
)

// findDepth judges rooting depth: how far down the shallowest restriction lies. A soft restriction (a contrast of
// texture, plinthite) is at worst marginal. A profile without any, described far enough, is judged by how deep it was
// described, which is a lower bound; one described less is not rated, since where the describer stopped is not rock.
func findDepth(p *Profile, e *evidence) Finding {
	var f Finding
	if e.isHard {
		f = restrictionFinding(p, e.hard)
		// the note says where the depth was read from, so that a specialist looks in the right table
		if !listed(e) {
			f.Note = NoteRockHorizon
		} else if e.hard.ByName {
			f.Note = NotePanByName
		}
	}
	if e.isSoft {
		s := restrictionFinding(p, e.soft)
		s.Soft = true
		// roots get through in part, so a soft layer alone never turns ground down
		if s.Class == Unsuited {
			s.rate(MarginalMark)
			p.Depth.attach(&s, SuitedMark)
		}
		// the worse counts; of equals the hard layer, which cuts the windows as well
		if !e.isHard || s.Score.Or(0) < f.Score.Or(0) {
			f = s
		}
	}
	if e.isHard || e.isSoft {
		return f
	}
	described := soils.DescribedDepth(e.Horizons)
	// a description may end for other reasons than a layer, and a restriction without a depth may lie anywhere
	if float64(described) < p.Rules.DescribedTo.Value || placeless(e.Component) {
		return Finding{Unit: p.Depth.Unit, Note: NoteShallow}
	}
	f = p.Depth.finding(unit.Some(float64(described)))
	f.AtLeast = true
	return f
}

// restrictionFinding judges the top of a restriction, with its kind as the word and the survey's range of the top beside it.
func restrictionFinding(p *Profile, r soils.Restriction) Finding {
	f := p.Depth.finding(unit.Some(float64(r.Top.Or(0))))
	f.Word = r.Kind
	f.span(plain(r.TopLow), plain(r.TopHigh))
	return f
}

// listed says whether the hard restriction has a row of its own, and is not only a rock horizon.
func listed(e *evidence) bool {
	r, ok := e.Shallowest(func(r soils.Restriction) bool { return !r.Soft() })
	// a listed layer deeper than a rock horizon did not decide, so the row is not the one meant
	return ok && r.Top == e.hard.Top
}

// placeless says whether the survey lists a hard restriction without saying how deep it lies: depth is then not known.
func placeless(c soils.Component) bool {
	for _, r := range c.Restrictions {
		if !r.Soft() && !r.Top.Has() {
			return true
		}
	}
	return false
}
