package season

import (
	"rootworthy/suitability"
	"rootworthy/suitability/caution"
	"rootworthy/suitability/stand"
)

// Work returns the kinds of work that a step is, for the cautions that belong to it; none where nobody can be hurt.
func (c Code) Work() []caution.Step {
	// sampling, counting and testing hurt nobody and are not listed
	switch c {
	case Lime:
		return []caution.Step{caution.Liming}
	case Potash, Fertilize:
		return []caution.Step{caution.Fertilizing}
	case Suppress:
		return []caution.Step{caution.Suppressing}
	case Sow:
		return []caution.Step{caution.Seeding}
	case Crickets, Weevil, Armyworm:
		return []caution.Step{caution.Spraying}
	case FirstCut:
		return []caution.Step{caution.Haymaking, caution.Grazing}
	case LastCut:
		return []caution.Step{caution.Haymaking}
	}
	return nil
}

// Source returns who says how a step is done: the heights, depths and stages that its words name.
// The source of the days themselves is in the step's rules, not here.
func (c Code) Source() (source string, status suitability.Status) {
	const wood = "Wood, Bouton and Hancock (University of Georgia), Eight steps for interseeding alfalfa into bermudagrass"
	switch c {
	case Sample:
		return "the depths in which the crop profile of the run judges pH", suitability.Proposal
	case Suppress, Sow, Crickets:
		return wood, suitability.Published
	case FirstCut:
		return "Potash and Phosphate Institute, Dual-purpose alfalfa in the Southeast, No. 8 (2000): first crop at early bloom", suitability.Published
	case Tissue:
		return "Laboski and Clark, University of Wisconsin, Sulfur and potassium deficiency could be reducing alfalfa yields (2011)", suitability.Published
	case LastCut:
		return "", suitability.Memory
	case Potash:
		return "Clemson University Agricultural Service Laboratory, crop code 050, alfalfa; the University of Georgia (crop codes 025 and 026) splits it too, in three on sandy Coastal Plain ground", suitability.Published
	case Fertilize:
		return "Clemson University Agricultural Service Laboratory, crop code 050, alfalfa", suitability.Published
	case CountStems:
		return "Hall, Penn State, in Hay & Forage Grower, Count stems: evaluating alfalfa stands", suitability.Published
	}
	return "", suitability.Practice
}

// Cautions returns what is to be told at a step, each once.
func (c Code) Cautions() []caution.Caution {
	var out []caution.Caution
	// one caution may belong to two kinds of work
	seen := map[string]bool{}
	for _, w := range c.Work() {
		for _, x := range caution.At(w) {
			if !seen[x.Code] {
				seen[x.Code] = true
				out = append(out, x)
			}
		}
	}
	return out
}

// Thresholds returns from how many insects to act at a step of scouting, as the sources have it.
func (c Code) Thresholds() []stand.Threshold {
	kinds := map[Code][]stand.Kind{Crickets: {"cricket"}, Weevil: {"weevil_tips", "weevil_larvae"}, Armyworm: {"armyworm"}}[c]
	var out []stand.Threshold
	for _, t := range stand.Thresholds() {
		for _, k := range kinds {
			if t.Kind == k {
				out = append(out, t)
			}
		}
	}
	return out
}
