package web

import (
	"rootworthy/export/words"
	"rootworthy/suitability"
	"rootworthy/suitability/limeplan"
	"rootworthy/suitability/stand"
)

// limeRecord holds the lime on record of a field against what the run asks of its zones, in the words of the plan.
func limeRecord(r *suitability.Result, f *suitability.Field, records []stand.Record) []string {
	var zones []words.LimedZone
	var asked limeplan.Asked
	for _, i := range f.Zones {
		z := &r.Zones[i]
		own := stand.OfZone(records, z.FieldID, z.ID)
		asked = limeplan.AskedOf(r, z)
		zones = append(zones, words.LimedZone{Number: z.Number, Spread: asked.OnRecord(own), Sown: !stand.Sowing(own).IsZero()})
	}
	out := words.LimeOfZones(zones)
	if len(out) > 0 {
		out = append(out, words.LimeBasis(asked)+" "+words.SpreadErrorText())
	}
	return out
}
