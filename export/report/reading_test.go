package report

import (
	"regexp"
	"strings"
	"testing"

	"rootworthy/export/quillmoor"
)

// grade is the Flesch-Kincaid grade level of a text.
//
//	grade = 0.39 words/sentence + 11.8 syllables/word - 15.59
//
// Source: Kincaid, Fishburne, Rogers, Chissom 1975, Research Branch Report 8-75; coefficients from memory, not checked.
// Syllables are counted as groups of vowels, a silent final e left out.
func grade(sentences []string) float64 {
	n, syllables := 0, 0
	for _, s := range sentences {
		for _, w := range regexp.MustCompile(`[A-Za-z']+`).FindAllString(s, -1) {
			w = strings.ToLower(w)
			w = regexp.MustCompile(`([^l])e$`).ReplaceAllString(w, "$1")
			w = regexp.MustCompile(`([^td])ed$`).ReplaceAllString(w, "$1")
			syllables += max(1, len(regexp.MustCompile(`[aeiouy]+`).FindAllString(w, -1)))
			n++
		}
	}
	return 0.39*float64(n)/float64(len(sentences)) + 11.8*float64(syllables)/float64(n) - 15.59
}

// sentencesOf takes a text apart; what stands in brackets is terms and figures. Sources are cited as they must be, and
// faults of files are for whoever made the files: both are left out.
func sentencesOf(text string) []string {
	text, _, _ = strings.Cut(text, "Where this comes from\n")
	text = regexp.MustCompile(`\([^)]*\)`).ReplaceAllString(text, "")
	var out []string
	for _, line := range strings.Split(text, "\n") {
		for _, s := range regexp.MustCompile(`[.;:?!](\s|$)`).Split(line, -1) {
			if len(strings.Fields(s)) >= 3 {
				out = append(out, s)
			}
		}
	}
	return out
}

// What the landowner reads is of grade 8 or lower as a whole, and no sentence is long.
func TestLandownersReadGradeEight(t *testing.T) {
	d := Landowner(quillmoor.Result(), Options{})
	var blocks []Block
	skip := false
	for _, b := range d.Blocks {
		if h, ok := b.(Heading); ok {
			skip = h.ID == "faults" || h.ID == "notices" || h.ID == "sources"
		}
		if !skip {
			blocks = append(blocks, b)
		}
	}
	d.Blocks = blocks
	list := sentencesOf(textOf(t, htmlOf(t, d)))
	if len(list) < 40 {
		t.Fatalf("only %d sentences found", len(list))
	}
	if g := grade(list); g > 8 {
		t.Errorf("the report reads at grade %.1f", g)
	}
	for _, s := range list {
		if n := len(strings.Fields(s)); n > 32 {
			t.Errorf("%d words: %s", n, s)
		}
	}
}

// Nothing is promised, and no word of other trades stands in any report.
func TestNothingIsPromised(t *testing.T) {
	banned := regexp.MustCompile(`(?i)\b(optimal|optimum|guarantee[ds]?|AI|perfect|profit|best yield|will yield|always)\b`)
	for name, d := range documents(t, quillmoor.Result()) {
		if w := banned.FindString(textOf(t, htmlOf(t, d))); w != "" {
			t.Errorf("%s says %q", name, w)
		}
	}
}

// Every report ends with the cautions in full.
func TestCautionsAreThere(t *testing.T) {
	for name, d := range documents(t, quillmoor.Result()) {
		text := strings.Join(strings.Fields(textOf(t, htmlOf(t, d))), " ")
		for _, c := range []string{"Dig and test the soil", "a soil test sets the rate|A soil test sets the rate", "the label is the law", "bloat", "licensed adviser"} {
			if !regexp.MustCompile(c).MatchString(text) {
				t.Errorf("%s lacks %q", name, c)
			}
		}
	}
}
