package words

import (
	"slices"
	"strings"
	"testing"

	"rootworthy/suitability/caution"
)

func TestEveryCautionOfThePlanHasWords(t *testing.T) {
	var codes []string
	for _, c := range caution.All() {
		codes = append(codes, c.Code)
	}
	checkWords(t, "cautions", codes, planCautions())
	for _, want := range []string{"50 to 545", "36 months", "the label"} {
		if !slices.ContainsFunc(planCautions(), func(p phrase) bool { return strings.Contains(p.landowner, want) }) {
			t.Errorf("no caution says %q", want)
		}
	}
}

// checkWords fails for a code without words, words without a code, and words that are no clause.
func checkWords(t *testing.T, name string, codes []string, words []phrase) {
	t.Helper()
	var have []string
	for _, p := range words {
		have = append(have, p.code)
		for _, r := range Readers() {
			if s := p.to(r); strings.TrimSpace(s) == "" || strings.HasSuffix(s, ".") {
				t.Errorf("%s: %q for reader %d is %q; want a clause without a full stop", name, p.code, r, s)
			}
		}
	}
	if a, b := slices.Sorted(slices.Values(codes)), slices.Sorted(slices.Values(have)); !slices.Equal(a, b) {
		t.Errorf("%s: codes %q\nwords %q", name, a, b)
	}
}
