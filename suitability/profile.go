package suitability

import (
	"math"
	"time"

	"rootworthy/soils/unit"
)

// Profile is a crop profile: the breakpoints of every criterion, pH targets by state, the rules of the lime plan and
// the sowing windows; each number with its unit, source and status. [LoadProfile] fills it from TOML,
// [DefaultProfile] from the one that comes with the program. It is not changed once read, and may be used by several
// goroutines at once.
type Profile struct {
	Name    string
	Edition string

	// Curves of a measured value, and tables of a survey's class words.
	Depth, WaterTable, SubsoilPH, SurfacePH   Curve
	Salinity, Sodicity, AvailableWater, Slope Curve
	Drainage, Flooding, Ponding               WordScale
	LongFlooding                              Figure // score of occasional flooding that stays long or very long

	Rules   Rules
	Lime    LimeRules
	Targets []Target       // by state; the default is Lime.Target
	Windows []SowingWindow // by region
}

// Status says how well a number is founded. Every output that shows a number shows it.
type Status string

// The statuses.
const (
	Published Status = "published"                  // a source was read
	Practice  Status = "common practice, no source" // the trade does it; no publication was found
	Proposal  Status = "proposal"                   // a judgement of this program
	Memory    Status = "memory"                     // remembered, not checked
)

// Statuses lists them all, best founded first.
func Statuses() []Status { return []Status{Published, Practice, Proposal, Memory} }

// Figure is one number of a profile with where it comes from. A figure travels with its source into every report, so that a reader can
// tell a publication from a judgement.
type Figure struct {
	Value  float64
	Unit   string // as written in the profile: "cm", "pH", "%", "months", "short ton/ac", …
	Source string
	Status Status
}

// Rules are the numbers of the rating that are not breakpoints. No rule has a default in the code: a profile without one of them is
// refused, so a zero here is a zero that somebody wrote.
type Rules struct {
	SurfaceTo        Figure // cm: surface pH is the mean of 0 to here
	SubsoilFrom      Figure // cm
	SubsoilTo        Figure // cm
	WaterTo          Figure // cm: available water is counted to here
	SaltsTo          Figure // cm: EC and SAR are means of 0 to here
	DescribedTo      Figure // cm: "no restriction" needs a profile described to here
	LimeCorrectsFrom Figure // pH: below it surface acidity is not taken as correctable
	LimeCorrectsTo   Figure // pH: up to here the surface is left out of the class
	Micronutrients   Figure // pH: above it iron, zinc, manganese and boron are worth a look
	DeclaredScore    Figure // score of somewhat poor and poor drainage, and of the water table, where works are declared
	RatedLeast       Figure // %: a zone with a smaller rated share is not rated
	ConfidentWinning Figure // %: a smaller winning share lowers confidence
	ConfidentRated   Figure // %: a smaller rated share lowers confidence
	SmallestOnMap    Figure // cm²: the smallest area drawn on the map
	CoarsestScale    Figure // denominator: surveys coarser than this lower confidence
}

// LimeRules are the numbers of the lime plan. Rates are product as spread, in the customary unit in which the sources print them; they
// become SI where they are used.
type LimeRules struct {
	Target      Figure // pH: default target, where the state has none of its own
	TargetLeast Figure // pH: a lower target is a fault of the profile
	SowFrom     Figure // pH: sow only if the retest reads at least this
	Cap         Figure // short ton/ac of product as spread, on sod in a year
	CapMost     Figure // short ton/ac: the most a user may allow, with a retest after two years
	Wait        Figure // months after the last pass
	WaitLeast   Figure // months: the published minimum
	Step        Figure // short ton/ac: a spreader is set in such steps
	LowFactor   Figure // the low figure of the band is the likely one times this
	HighFactor  Figure // likewise the high one
}

// WaitMonths is the wait after the last pass as calendars count it: in whole months, a part of one being one. Cut off, ground would be called
// ready before the wait is over, and a wait of less than a month would be none.
func (l LimeRules) WaitMonths() int { return int(math.Ceil(l.Wait.Value)) }

// Target is a surface pH to lime to.
type Target struct {
	PH      unit.PH `json:"ph"`
	State   string  `json:"state,omitempty"` // postal code; "" for the default and for a choice of the user
	Range   string  `json:"range,omitempty"` // what the source says in full, where it is a range or has conditions
	Source  string  `json:"source"`
	Status  Status  `json:"status"`
	Missing bool    `json:"missing,omitempty"` // no figure of that state was found: the default stands in
}

// SowingWindow is the span of days in which alfalfa is sown into sod in a region. It may run over the new year.
type SowingWindow struct {
	Region      string // "piedmont", "coastal plain", …
	Where       string // in words
	First, Last MonthDay
	Source      string
	Status      Status
}

// MonthDay is a day of any year. The year is left to the caller; 29 February is never one.
type MonthDay struct {
	Month time.Month
	Day   int
}
