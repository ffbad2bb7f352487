package main

import (
	"bytes"
	"fmt"
	"strings"

	"rootworthy/internal/diag"
)

// nearest suggests the word of a list that is closest to what was typed, if one is close.
// Where nothing is close it lists all words, so it is for short lists; either way the text goes behind a sentence.
func nearest(typed string, words []string) string {
	if near, ok := diag.Nearest(strings.ToLower(typed), words); ok {
		return fmt.Sprintf("; did you mean %q?", near)
	}
	return "; there are " + strings.Join(words, ", ")
}

// lineOf returns the 1-based line on which a key of a TOML text stands.
// It looks for the key at the start of a line, which is enough for settings: they have no tables within. A key that is not found so is put
// on line 1.
func lineOf(text []byte, key string) int {
	for i, line := range bytes.Split(text, []byte("\n")) {
		name, _, ok := bytes.Cut(line, []byte("="))
		if ok && strings.Trim(strings.TrimSpace(string(name)), `"'`) == key {
			return i + 1
		}
	}
	return 1
}
