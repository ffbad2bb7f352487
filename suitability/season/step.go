package season

import (
	"strconv"
	"time"
)

// Code is a kind of step, stable: calendars are updated by it.
type Code string

// The steps.
const (
	Sample      Code = "sample"        // the soil
	Lime        Code = "lime"          // one yearly pass
	Retest      Code = "retest"        // the soil, before sowing
	Fertilize   Code = "fertilize"     // before sowing
	Suppress    Code = "suppress"      // the sod
	Sow         Code = "sow"           //
	Crickets    Code = "crickets"      // scout seedlings
	CountFall   Code = "count-emerged" // plants
	Weevil      Code = "weevil"        // scout
	CountSpring Code = "count-spring"  // plants
	FirstCut    Code = "first-cut"     //
	Tissue      Code = "tissue"        // sample the plants
	Armyworm    Code = "armyworm"      // scout
	LastCut     Code = "last-cut"      // of the year
	CountStems  Code = "count-stems"   // in spring, from the second year of production
	Potash      Code = "potash"        // in two halves
	SoilTest    Code = "soil-test"     // of a stand
)

// Codes lists them in the order of the first year; what comes with later ones, or with the fertilizer, stands last.
func Codes() []Code {
	return []Code{Sample, Lime, Fertilize, Retest, Suppress, Sow, Crickets, CountFall, Weevil, CountSpring, FirstCut, Tissue, Armyworm, LastCut, CountStems, Potash, SoilTest}
}

// What a step without a date is waiting for, stable codes.
const (
	NeedsFrost    = "frost normals"     // from the user's file
	NeedsFirstCut = "first cutting day" // from the user: the region has no planning day
)

// Needs lists them.
func Needs() []string { return []string{NeedsFrost, NeedsFirstCut} }

// Step is one thing to do in one zone. Days are midnight UTC.
type Step struct {
	Code         Code
	Pass, Passes int       // of lime and potash; 0 for all others
	Year         int       // of production from the second on; 0 for all up to the last cutting of the first
	First        time.Time // the first day it can be done; the zero time where Needs says what is missing
	Due          time.Time // do it by then, or watch until then
	Last         time.Time // after it the window is lost; the zero time where no window hangs on it
	Next         Window    // the window that then counts; the zero value with a zero Last
	Every        int       // days from look to look; 0 for what is done once
	Begun        bool      // a part of it is done, and the days are those of the rest
	Done         bool      // by the user's word; then First, Due and Last are that day
	Needs        string    // of [Needs]; "" for a dated step
	Rules        []Rule    // that the dates rest on
}

// Key tells the step from all others of its zone and stays the same from plan to plan: "sow", "lime-2", "year-3-potash-1".
func (s Step) Key() string {
	key := string(s.Code)
	if s.Pass > 0 {
		key += "-" + strconv.Itoa(s.Pass)
	}
	if s.Year > 0 {
		key = "year-" + strconv.Itoa(s.Year) + "-" + key
	}
	return key
}

// Dated says whether the step has days.
func (s Step) Dated() bool { return !s.First.IsZero() }

// Stretch says whether the step is watched or done over all its days; others are done once, by Due.
func (s Step) Stretch() bool {
	switch s.Code {
	case Sow, Crickets, CountFall, Weevil, CountSpring, FirstCut, Tissue, Armyworm, LastCut, CountStems, Potash, SoilTest:
		return true
	}
	return false
}
