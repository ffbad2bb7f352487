package grower

import (
	"slices"

	"rootworthy/export/report"
	"rootworthy/export/words"
	"rootworthy/suitability/limeplan"
)

// limeOnRecord sets what the record tells of a field's lime beside what its passes ask.
func (b *book) limeOnRecord(groups []group) {
	items := limeTexts(groups)
	if len(items) == 0 {
		return
	}
	// All zones of a run are limed with one product, so any speaks for the field; how a rate is meant may differ with its method, and the
	// first zone's stands for the rest.
	asked := limeplan.AskedOf(b.f.Run, groups[0].zones[0].Zone)
	b.add(report.Para{Text: "Lime on your record:"}, report.Bullets{Items: append(items, words.LimeBasis(asked)+" "+words.SpreadErrorText())})
}

// limeTexts says what the record tells of the lime of some zones.
func limeTexts(groups []group) []string {
	var zones []words.LimedZone
	for _, g := range groups {
		for _, z := range g.zones {
			zones = append(zones, words.LimedZone{Number: z.Number, Spread: z.Limed, Sown: z.Sown()})
		}
	}
	return words.LimeOfZones(zones)
}

// LimeOpen counts the zones with a pass of lime that is begun and not spread, and those of which the record tells something odd of their lime.
func (f *Farm) LimeOpen() (begun, odd int) {
	for i := range f.Zones {
		z := &f.Zones[i]
		if z.Limed.Begun() > 0 && !z.Sown() {
			begun++
		}
		// That a test has seen earlier lime is nobody's slip.
		if slices.ContainsFunc(z.Limed.Notes, func(n limeplan.SpreadNote) bool { return n.Code != limeplan.SpreadSeen }) {
			odd++
		}
	}
	return begun, odd
}
