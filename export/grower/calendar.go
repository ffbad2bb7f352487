package grower

import "rootworthy/export/calendar"

// Calendar returns plan.ics to be: the dated steps of the plan, stamped with its day.
func Calendar(f *Farm) calendar.Calendar {
	return calendar.Calendar{Name: "Alfalfa plan", Program: f.Run.Provenance.Program, Stamp: f.Date, Entries: Entries(f)}
}
