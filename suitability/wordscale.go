package suitability

import (
	"slices"

	"rootworthy/soils"
)

// WordScore is the score of a class word of the survey.
type WordScore struct {
	Word   string
	Score  float64
	Source string
	Status Status
}

// WordScale gives a score to each class word, in the order of the survey's domain.
type WordScale []WordScore

// find returns the entry of a word as the survey's domain spells it; ok is false for a word that is not rated.
func (w WordScale) find(word string) (s WordScore, ok bool) {
	i := slices.IndexFunc(w, func(s WordScore) bool { return s.Word == word })
	if i < 0 {
		return s, false
	}
	return w[i], true
}

// limit returns the nearest word, in the order of the domain, that belongs to the next better class than score does;
// from suited, the entry itself. The obsolete class is never named as a limit.
func (w WordScale) limit(word string, score float64) WordScore {
	at := slices.IndexFunc(w, func(s WordScore) bool { return s.Word == word })
	mark := markAbove(classOf(score))
	// outward from the word, the wetter side or the rarer first: both sides may lead to better ground, as with drainage
	for d := range len(w) {
		for _, i := range []int{at - d, at + d} {
			if i >= 0 && i < len(w) && w[i].Score >= mark && w[i].Word != soils.Common.String() {
				return w[i]
			}
		}
	}
	return WordScore{}
}
