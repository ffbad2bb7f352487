package grower

import "rootworthy/export/calendar"

// Calendar returns plan.ics to be: the dated steps of the plan, stamped with its day. Where the plan is of some fields alone, what an earlier
// calendar in the same place has of the others is left as it is: nobody gave those plans up.
func Calendar(f *Farm) calendar.Calendar {
	c := calendar.Calendar{Name: "Alfalfa plan", Program: f.Run.Provenance.Program, Stamp: f.Date, Entries: Entries(f), Others: f.others()}
	if f.Whole != nil { // the name stays, so that a program that goes by it finds its calendar again
		c.About = "Planned on " + date(f.Date) + " for " + f.About() + "."
	}
	return c
}
