package diag

import (
	"strings"
	"testing"
)

// The distances of the first three are the usual examples of the literature (Levenshtein 1966; Wagner and Fischer 1974).
func TestStrokes(t *testing.T) {
	for _, x := range []struct {
		a, b string
		want int
	}{{"kitten", "sitting", 3}, {"saturday", "sunday", 3}, {"flaw", "lawn", 2}, {"", "lime", 4}, {"lime", "", 4}, {"lime", "lime", 0}} {
		if got := strokes(x.a, x.b); got != x.want {
			t.Errorf("%q to %q: %d, want %d", x.a, x.b, got, x.want)
		}
	}
}

func TestNearest(t *testing.T) {
	known := []string{"date", "rate", "source"}
	for word, want := range map[string]string{"sourse": "source", "ratee": "rate", "bate": "date", "price": "", strings.Repeat("a", 1000): ""} {
		if got, ok := Nearest(word, known); got != want || ok != (want != "") {
			t.Errorf("%.9q: %q, want %q", word, got, want)
		}
	}
}
