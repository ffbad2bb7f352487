package main

import (
	"bytes"
	"fmt"
	"strings"

	"rootworthy/internal/diag"
)

// nearest suggests the word of a list that is closest to what was typed, if one is close.
func nearest(typed string, words []string) string {
	if near, ok := diag.Nearest(strings.ToLower(typed), words); ok {
		return fmt.Sprintf("; did you mean %q?", near)
	}
	return "; there are " + strings.Join(words, ", ")
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
