// Package calendar writes plan.ics, a calendar file (iCalendar, RFC 5545) that phones and mail programs read, and reads back its own.
//
// An entry is known by field, zone and step, so a plan that is made again updates the calendar instead of doubling it:
//
//	before, err := calendar.Read("plan.ics", r, &faults)      // nil the first time
//	err = calendar.Calendar{Stamp: day, Entries: entries}.Write(w, before)
//
// What did not change keeps its bytes; what changed gets the next sequence number and the stamp of the day; what is no longer planned
// is written once more as cancelled, so that it does not stay behind in anybody's calendar. Days have no time zone.
package calendar
