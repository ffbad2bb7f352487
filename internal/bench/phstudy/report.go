package main

import (
	"fmt"
	"io"
	"strings"
)

// report prints the study as Markdown.
func (s *study) report(out io.Writer, seed uint64, draws int) error {
	var b strings.Builder
	fmt.Fprintf(&b, "%d samples: %d with a pH in water and a depth, %d with pH in calcium chloride alone (not used).\n", len(s.samples), s.read, s.calcium)
	fmt.Fprintf(&b, "Of those read, %d say \"pH\" alone and are taken as in water; %d say no depth and are taken as topsoil;\n", s.assumed, s.shallow)
	fmt.Fprintf(&b, "%d lie on ground of the survey, %d on soils with a pH at their depth.\n", s.placed, len(s.pairs))
	// Apart, since lime and litter reach the topsoil first.
	for _, deep := range []bool{false, true} {
		var p []pair
		for _, x := range s.pairs {
			if x.deep == deep {
				p = append(p, x)
			}
		}
		if len(p) == 0 {
			continue
		}
		name := "Topsoil"
		if deep {
			name = fmt.Sprintf("Subsoil, from %g cm", deepFrom())
		}
		table(&b, name, p, seed, draws)
	}
	if len(s.pairs) == 0 {
		b.WriteString("\nNothing can be said: no test lies on the survey.\n")
	}
	_, err := io.WriteString(out, b.String())
	return err
}

// table prints the figures of one depth.
func table(b *strings.Builder, name string, p []pair, seed uint64, draws int) {
	fmt.Fprintf(b, "\n%s: %d tests in %d clusters (field and map unit)\n\n", name, len(p), len(byCluster(p)))
	b.WriteString("| figure | value | 19 times in 20 |\n| --- | --- | --- |\n")
	for _, f := range figures() {
		v, ok := f.of(p)
		value, within := "none", "none"
		if ok {
			value = fmt.Sprintf("%.2f", v)
			// A figure without an interval is printed all the same, and the reader told why it has none.
			if low, high, ok := interval(p, f, seed, draws); ok {
				within = fmt.Sprintf("%.2f to %.2f", low, high)
			} else {
				within = fmt.Sprintf("under %d clusters", leastClusters)
			}
		}
		fmt.Fprintf(b, "| %s | %s | %s |\n", f.name, value, within)
	}
}
