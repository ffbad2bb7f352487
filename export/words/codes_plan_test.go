package words

import (
	"testing"

	"rootworthy/soils/nutrient"
	"rootworthy/suitability/nutrientplan"
	"rootworthy/suitability/seedplan"
	"rootworthy/suitability/stand"
	"rootworthy/suitability/variety"
)

// The codes on nutrients, seed, stand and variety: each has words for every reader, and no words are left over from a code that is gone.
func TestEveryCodeOfThePlanHasWords(t *testing.T) {
	checkWords(t, "nutrient refusals", nutrient.Refusals(), nutrientRefusals())
	checkWords(t, "nutrient whys", nutrient.Whys(), nutrientWhys())
	checkWords(t, "nutrient notes", nutrient.Notes(), nutrientNotes())
	checkWords(t, "plan whys", nutrientplan.Whys(), planWhys())
	checkWords(t, "plan notes", nutrientplan.Notes(), planNotes())
	checkWords(t, "tissue advice", nutrient.TissueAdvices(), tissueAdvices())
	checkWords(t, "seed notes", seedplan.Notes(), seedNotes())
	checkWords(t, "seed actions", seedplan.Actions(), seedActions())
	checkWords(t, "stand actions", texts(stand.Actions()), standActions())
	checkWords(t, "stand caveats", stand.Caveats(), standCaveats())
	checkWords(t, "verdicts", texts(variety.Verdicts()), verdicts())
	for _, r := range nutrient.TissueRanges("") {
		if TissueAdvice(r.Advice, Landowner) == r.Advice {
			t.Errorf("%s: advice %q has no words", r.Element, r.Advice)
		}
	}
}

func texts[T ~string](list []T) []string {
	var out []string
	for _, x := range list {
		out = append(out, string(x))
	}
	return out
}
