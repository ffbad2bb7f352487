package choice

import (
	"regexp"
	"strings"
	"testing"

	"rootworthy/export/report"
	"rootworthy/export/words"
	"rootworthy/suitability/ranking"
)

// syllables counts groups of vowels, a silent final e left out.
func syllables(word string) int {
	word = regexp.MustCompile(`([^l])e$`).ReplaceAllString(strings.ToLower(word), "$1")
	word = regexp.MustCompile(`([^td])ed$`).ReplaceAllString(word, "$1")
	return max(1, len(regexp.MustCompile(`[aeiouy]+`).FindAllString(word, -1)))
}

// grade is the Flesch-Kincaid grade of sentences: the year of school in which they can be read.
//
// Source: Kincaid, Fishburne, Rogers, Chissom 1975, Research Branch Report 8-75; coefficients from memory, not checked.
func grade(sentences []string) float64 {
	n, all := 0, 0
	for _, s := range sentences {
		for _, w := range regexp.MustCompile(`[A-Za-z']+`).FindAllString(s, -1) {
			n, all = n+1, all+syllables(w)
		}
	}
	return 0.39*float64(n)/float64(len(sentences)) + 11.8*float64(all)/float64(n) - 15.59
}

// sentences are those of a document; what stands in brackets is terms and figures.
func sentences(d *report.Document) (out []string) {
	take := func(s string) {
		s = regexp.MustCompile(`\([^)]*\)`).ReplaceAllString(s, "")
		for _, x := range regexp.MustCompile(`[.;:?!](\s|$)`).Split(s, -1) {
			if len(strings.Fields(x)) >= 3 {
				out = append(out, x)
			}
		}
	}
	for _, b := range d.Blocks {
		switch b := b.(type) {
		case report.Para:
			take(b.Text)
		case report.Bullets:
			for _, s := range b.Items {
				take(s)
			}
		}
	}
	return out
}

// Every letter is of grade 8 or lower, whatever its verdict and reasons, and no sentence is long.
func TestLettersReadGradeEight(t *testing.T) {
	c := every(t)
	for k := range c.Fields() {
		list := sentences(c.Letter(k))
		if len(list) < 6 {
			t.Fatalf("only %d sentences in the letter of %s", len(list), c.FieldAt(k).ID)
		}
		if g := grade(list); g > 8 {
			t.Errorf("the letter of %s reads at grade %.1f", c.FieldAt(k).ID, g)
		}
		for _, s := range list {
			if n := len(strings.Fields(s)); n > 32 {
				t.Errorf("%d words: %s", n, s)
			}
		}
	}
}

// Nothing is promised, and a chance stands in words.
func TestNothingIsPromised(t *testing.T) {
	banned := regexp.MustCompile(`(?i)\b(optimal|optimum|guarantee[ds]?|AI|perfect|profit|best yield|will yield|always|will pay)\b|0\.\d+ chance`)
	for name, c := range map[string]*Choice{"invented": invented(t), "every": every(t)} {
		for which, d := range documents(c) {
			for _, s := range sentences(d) {
				if w := banned.FindString(s); w != "" {
					t.Errorf("%s, %s says %q: %s", name, which, w, s)
				}
			}
		}
	}
}

// Every letter says what to do, why, what would change it, what comes next, and the caution; those who work with lime get all cautions.
func TestLettersAreWhole(t *testing.T) {
	c := every(t)
	seen := map[ranking.Verdict]bool{}
	for k := range c.Fields() {
		l := c.letterAt(k)
		seen[l.v] = true
		all := strings.Join(sentences(c.Letter(k)), "\n")
		heads := ""
		for _, b := range c.Letter(k).Blocks {
			if h, ok := b.(report.Heading); ok {
				heads += h.Text + "\n"
			}
		}
		if heads != "Why\nWhat would change this\nNext step\nPlease note\n" {
			t.Errorf("%s: parts are %q", l.f.ID, heads)
		}
		if !strings.Contains(all, "Dig and test the soil before you spend money") || l.v == ranking.Take && !strings.Contains(all, "Lime dust harms eyes and lungs") {
			t.Errorf("%s: a caution is missing", l.f.ID)
		}
		if l.v == ranking.VisitFirst && l.placed != nil && l.f.ID != "missing" && !strings.Contains(all, "by September") && !strings.Contains(all, "by August") {
			t.Errorf("%s: no day by which to visit: %s", l.f.ID, all)
		}
	}
	if len(seen) != len(ranking.Verdicts()) {
		t.Errorf("verdicts seen: %v", seen)
	}
}

// Every reason has words of its own.
func TestEveryReasonHasWords(t *testing.T) {
	f := every(t).Ranking.Fields[0].Field
	for _, code := range ranking.Whys() {
		if s := because(f, ranking.Reason{Code: code, Lacks: []ranking.Criterion{ranking.Cost}}); s == words.Sentence(code) || !strings.HasSuffix(s, ".") {
			t.Errorf("%s: %q", code, s)
		}
	}
}
