package samplesheet

import (
	"fmt"
	"strings"

	"rootworthy/export/words"
	"rootworthy/suitability/sampling"
)

// Summary says what a plan samples and why, for a terminal of 80 columns: at most so many zones, then how many more.
func Summary(p *sampling.Plan, most int) string {
	var b strings.Builder
	para(&b, "", total(p))
	b.WriteString("\n")
	// Zones stand in the order of the plan, so those that are cut off are the last of it.
	for i := range p.Zones[:min(len(p.Zones), most)] {
		z := &p.Zones[i]
		para(&b, "  ", fmt.Sprintf("%s, %s acres: %s. %s", words.Shown(z.Zone.ID, mostName), words.Acres(z.Zone.Area), bagsOf(z), reason(z)))
	}
	if more := len(p.Zones) - most; more > 0 {
		fmt.Fprintf(&b, "  and %s; the sheet has all of them\n", words.Count(more, "more zone", "more zones"))
	}
	if lines := leftLines(p); len(lines) > 0 {
		b.WriteString("\nNot sampled\n")
		for _, l := range lines {
			para(&b, "  ", l)
		}
	}
	return b.String()
}

// bagsOf says how many bags a zone gets.
func bagsOf(z *sampling.Zone) string {
	var parts []string
	for _, x := range []struct {
		n    int
		what string
	}{{z.Top, "topsoil"}, {z.Deep, "subsoil"}} {
		switch {
		case x.n == 1:
			parts = append(parts, "1 bag of "+x.what)
		case x.n > 1:
			parts = append(parts, fmt.Sprintf("%d bags of %s", x.n, x.what))
		}
	}
	return strings.Join(parts, ", ")
}
