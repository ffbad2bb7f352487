package words

import (
	"regexp"
	"strings"
	"testing"

	"rootworthy/export/quillmoor"
)

// gradeOf returns the Flesch-Kincaid grade level of a text.
//
//	grade = 0.39 words/sentence + 11.8 syllables/word - 15.59
//
// Source: Kincaid, Fishburne, Rogers, Chissom 1975, Research Branch Report 8-75; coefficients from memory, not checked.
// Syllables are counted as groups of vowels, a silent final e left out, which is a little high for some words.
func gradeOf(text string) float64 {
	text = regexp.MustCompile(`\([^)]*\)`).ReplaceAllString(text, "") // figures and terms in brackets are not sentences
	sentences := float64(len(regexp.MustCompile(`[.;:?](\s|$)`).FindAllString(text, -1)))
	words := regexp.MustCompile(`[A-Za-z']+`).FindAllString(text, -1)
	syllables := 0
	for _, w := range words {
		w = strings.ToLower(w)
		w = regexp.MustCompile(`([^l])e$`).ReplaceAllString(w, "$1")
		w = regexp.MustCompile(`([^td])ed$`).ReplaceAllString(w, "$1")
		syllables += max(1, len(regexp.MustCompile(`[aeiouy]+`).FindAllString(w, -1)))
	}
	return 0.39*float64(len(words))/max(1, sentences) + 11.8*float64(syllables)/float64(len(words)) - 15.59
}

// The measure itself is checked, since all tests of easy reading rest on it.
func TestGradeTellsEasyFromHard(t *testing.T) {
	easy, hard := "The soil is wet. Dig a hole.", "Interpretation of characteristically heterogeneous agricultural environments necessitates considerable deliberation."
	if gradeOf(easy) > 3 || gradeOf(hard) < 15 {
		t.Errorf("grades %.1f and %.1f", gradeOf(easy), gradeOf(hard))
	}
}

const (
	highestGrade = 8.0  // of a text as a whole
	hardestLine  = 12.5 // of one sentence, where one long word of the trade counts heavily
)

func TestLandownersReadGradeEight(t *testing.T) {
	texts := map[string][]string{"cautions": Cautions(), "on site": OnSite()}
	for name, l := range lists() {
		for _, p := range l.words {
			texts[name] = append(texts[name], title(p.landowner)+".")
		}
	}
	r := quillmoor.Result()
	for i := range r.Zones {
		texts["reasons"] = append(texts["reasons"], Reason(&r.Zones[i], Landowner))
		texts["lime"] = append(texts["lime"], Lime(&r.Zones[i], Landowner, nil))
	}
	for name, list := range texts {
		if name == "statuses" || name == "correctable" {
			continue // single words of the trade
		}
		if g := gradeOf(strings.Join(list, " ")); g > highestGrade {
			t.Errorf("%s read at grade %.1f, over %.0f", name, g, highestGrade)
		}
		for _, s := range list {
			if g := gradeOf(s); g > hardestLine {
				t.Errorf("%s: grade %.1f: %s", name, g, s)
			}
		}
	}
}

// Words that promise too much, and words of other trades, have no place in any sentence.
func TestNothingIsPromised(t *testing.T) {
	banned := regexp.MustCompile(`(?i)\b(optimal|guaranteed?|AI|perfect|always works|profit)\b`)
	all := append(Cautions(), OnSite()...)
	for _, l := range lists() {
		for _, p := range l.words {
			all = append(all, p.landowner, p.consultant, p.technician)
		}
	}
	for _, s := range all {
		if w := banned.FindString(s); w != "" {
			t.Errorf("%q in %q", w, s)
		}
	}
}
