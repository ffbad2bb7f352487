package stand

import (
	"slices"
	"time"
)

// leadYears is how long before a sowing a test or a pass of lime may still be for it: two yearly passes and the year that the last one
// works. Our own choice, no source.
const leadYears = 3

// OfThisStand leaves out what belongs to a stand that was there before, where ground was sown anew: its sowing and all that came before
// that, and of the years between only what can lead up to the new sowing. Records are of one zone, in order of their days.
func OfThisStand(own []Record) []Record {
	// As the record of the field itself tells it: seed within a year thickens a stand, later it is a new one.
	sown := Sowing(own)
	before := time.Time{}
	for _, r := range own {
		if r.Kind == Sown && r.Day.Before(sown) {
			before = r.Day
		}
	}
	if before.IsZero() {
		return own
	}
	from := before.AddDate(0, 0, 1)
	if lead := sown.AddDate(-leadYears, 0, 0); lead.After(from) {
		from = lead
	}
	return slices.DeleteFunc(slices.Clone(own), func(r Record) bool { return r.Day.Before(from) })
}

// OfZone returns the records of a zone in the order of their days, those of its whole field among them. People write a record in the
// order in which they remember; of one day the order of the file holds.
func OfZone(records []Record, field, zone string) []Record {
	var own []Record
	for _, r := range records {
		if r.Field == field && (r.Zone == "" || r.Zone == zone) {
			own = append(own, r)
		}
	}
	slices.SortStableFunc(own, func(a, b Record) int { return a.Day.Compare(b.Day) })
	return own
}
