package soildata

import (
	"strings"
	"time"
)

// naming is what a survey in the cache is known by.
type naming struct {
	symbol, version, date string
	part                  string // digest of the polygon keys, shortened; empty for a whole area
}

// folder returns the name of its folder: AR017-22-2021-09-13, or with -part-… behind.
func (n naming) folder() string {
	name := n.symbol + "-" + fileWord(n.version, "unversioned") + "-" + fileWord(n.date, "undated")
	if n.part != "" {
		name += "-part-" + n.part
	}
	return name
}

// partOf names a part of a survey area by its polygons.
// Twelve hexadecimal digits are 48 bits, plenty for the parts of one area on one disk. Keys are sorted, so that the
// order of fields does not matter.
func partOf(polygons []string) string { return digest([]byte(strings.Join(polygons, "\n")))[:12] }

// fileWord makes a foreign word fit for a file name.
func fileWord(s, missing string) string {
	s = strings.Map(func(r rune) rune {
		if r >= '0' && r <= '9' || r >= 'A' && r <= 'Z' || r >= 'a' && r <= 'z' || r == '-' {
			return r
		}
		// versions come from the network and go into a path
		return '_'
	}, s)
	if s == "" {
		return missing
	}
	// Cut by bytes, which here are letters: all others were replaced above.
	return s[:min(len(s), 20)]
}

// dayOf returns the day of a date as the service writes it, "9/10/2025 5:41:54 PM", or as files do; empty for none.
func dayOf(s string) string {
	// American order, month first; the later forms are tried only when it does not fit.
	for _, form := range []string{"1/2/2006 3:04:05 PM", "01/02/2006 15:04:05", "2006-01-02T15:04:05", "2006-01-02 15:04:05", "2006-01-02"} {
		if t, err := time.Parse(form, strings.TrimSpace(s)); err == nil {
			return t.Format("2006-01-02")
		}
	}
	return ""
}
