package lab

import (
	"fmt"
	"time"

	"rootworthy/internal/diag"
)

// StaleYears is the age at which a soil test is no longer trusted for a lime rate. Common practice, no source.
const StaleYears = 3

// CheckAge tells which samples are older than [StaleYears] on the day today, have no date, or one that has not come yet.
func CheckAge(samples []Sample, today time.Time, faults *diag.List) {
	for i := range samples {
		s := &samples[i]
		// told by the sample's own place in the file, so that it can be found again in a list of hundreds
		at := diag.Fault{File: s.File, Line: s.Line, Feature: s.ID, Field: "date"}
		day, ok := s.Date().Get()
		switch {
		// A notice: most files of some laboratories have no date, and their figures are good all the same.
		case !ok:
			at.Kind, at.What = "no date", "the sample has no date, so its age is not known"
			at.Fix = "give the day it was taken; lime and crops since then change what it says"
			faults.Notice(at)
		// a fault: day and month were swapped, most likely, and then the age is wrong by months
		case day.After(today):
			at.Kind, at.What = "future date", day.Format(time.DateOnly)+" has not come yet"
			at.Fix = "correct the date"
			faults.Add(at)
		case s.Stale(today):
			at.Kind, at.What = "old test", fmt.Sprintf("the sample is of %s, over %d years old", day.Format(time.DateOnly), StaleYears)
			at.Fix = "sample again before liming by it"
			faults.Notice(at)
		}
	}
}

// Stale says whether the sample is older than [StaleYears] on the day today; false when it has no date.
func (s *Sample) Stale(today time.Time) bool {
	day, ok := s.Date().Get()
	// to the day: three years and no day more is not yet stale
	return ok && day.AddDate(StaleYears, 0, 0).Before(today)
}
