package main

import (
	"bytes"
	"fmt"
	"strings"
)

// nearest suggests the word of a list that is closest to what was typed, if one is close.
func nearest(typed string, words []string) string {
	best, least := "", 3 // three edits are another word
	for _, w := range words {
		if d := edits(strings.ToLower(typed), w); d < least {
			best, least = w, d
		}
	}
	if best == "" {
		return "; there are " + strings.Join(words, ", ")
	}
	return fmt.Sprintf("; did you mean %q?", best)
}

// edits is the number of letters to insert, drop or change to turn a into b (Levenshtein distance).
func edits(a, b string) int {
	row := make([]int, len(b)+1)
	for j := range row {
		row[j] = j
	}
	for i := range len(a) {
		diagonal := row[0]
		row[0] = i + 1
		for j := range len(b) {
			change := diagonal
			if a[i] != b[j] {
				change++
			}
			diagonal = row[j+1]
			row[j+1] = min(change, row[j]+1, row[j+1]+1)
		}
	}
	return row[len(b)]
}

// lineOf returns the 1-based line on which a key of a TOML text stands.
func lineOf(text []byte, key string) int {
	for i, line := range bytes.Split(text, []byte("\n")) {
		name, _, ok := bytes.Cut(line, []byte("="))
		if ok && strings.Trim(strings.TrimSpace(string(name)), `"'`) == key {
			return i + 1
		}
	}
	return 1
}
