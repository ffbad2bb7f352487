package lab

import (
	_ "embed"
	"encoding/csv"
	"slices"
	"strings"
	"sync"
	"unicode"
)

// headersCSV is how laboratories head their columns: general words of the trade, each with what it means in the plain
// names of package doc. Part says what kind of word it is; words are normalised as by plainWords and split by "|".
// Source: common practice, no source; the spellings of methods after AgGateway, Modus method lists 1 and 2.
//
//go:embed headers.csv
var headersCSV string

// phrase is some words and what they mean.
type phrase struct{ words, means string }

// vocabulary holds the phrases of each part, longest first so that "mehlich 3" wins over "mehlich". Within a part, that is: a phrase of
// another part never stands in its way.
type vocabulary map[string][]phrase

// words is the vocabulary, read once.
var words = sync.OnceValue(func() vocabulary {
	records, err := csv.NewReader(strings.NewReader(headersCSV)).ReadAll()
	if err != nil {
		panic("headers.csv is part of the program and does not parse: " + err.Error())
	}
	v := vocabulary{}
	for _, r := range records[1:] {
		for _, w := range strings.Split(r[2], "|") {
			v[r[0]] = append(v[r[0]], phrase{w, r[1]})
		}
	}
	for _, list := range v {
		// stable: of equal length the file's own order
		slices.SortStableFunc(list, func(a, b phrase) int { return len(b.words) - len(a.words) })
	}
	return v
})

// is returns the meaning of s when it is a phrase of the part.
func (v vocabulary) is(part, s string) (means string, ok bool) {
	for _, p := range v[part] {
		if p.words == s {
			return p.means, true
		}
	}
	return "", false
}

// take finds the longest phrase of the part that s contains as whole words, and returns what is left of s without it.
func (v vocabulary) take(part, s string) (means, rest string, ok bool) {
	// whole words: "p" is not in "ph"
	padded := " " + s + " "
	for _, p := range v[part] {
		if i := strings.Index(padded, " "+p.words+" "); i >= 0 {
			return p.means, squeeze(padded[:i] + " " + padded[i+len(p.words)+2:]), true
		}
	}
	return "", s, false
}

// takeAll takes every phrase of the part, and returns the different meanings in the order found.
func (v vocabulary) takeAll(part, s string) (means []string, rest string) {
	// each turn takes at least one word off s, so it ends
	for {
		m, r, ok := v.take(part, s)
		if !ok {
			return means, s
		}
		if !slices.Contains(means, m) {
			means = append(means, m)
		}
		s = r
	}
}

// has says whether s contains any of the words as a whole word.
func has(s string, any ...string) bool {
	return slices.ContainsFunc(strings.Fields(s), func(w string) bool { return slices.Contains(any, w) })
}

// squeeze makes one blank of any white space and takes it off both ends.
func squeeze(s string) string { return strings.Join(strings.Fields(s), " ") }

// lookalikes are characters of typeset headers and what plain headers have instead.
var lookalikes = strings.NewReplacer("₀", "0", "₁", "1", "₂", "2", "₃", "3", "₄", "4", "₅", "5", "²", "2", "³", "3", "⁻", "-",
	"µ", "u", "μ", "u", "%", " % ", "#", " no ")

// plainWords brings a header to the form of headers.csv: lower case, single blanks, without punctuation except "/", and
// "." and ":" between digits.
func plainWords(s string) string {
	r := []rune(strings.ToLower(lookalikes.Replace(s)))
	for i, c := range r {
		// "1:1" and "0.01" are kept, "Rec." and "Sample:" are not
		inNumber := i > 0 && i+1 < len(r) && unicode.IsDigit(r[i-1]) && unicode.IsDigit(r[i+1])
		switch {
		case unicode.IsLetter(c), unicode.IsDigit(c), c == '/', c == '%', (c == '.' || c == ':') && inNumber:
		default:
			r[i] = ' '
		}
	}
	out := squeeze(string(r))
	// blanks around the slash differ from one laboratory to the next: "lb / ac" and "lb/ac"
	out = strings.ReplaceAll(strings.ReplaceAll(out, " /", "/"), "/ ", "/")
	return strings.Trim(out, "/ ")
}
