package season

import (
	"time"

	"rootworthy/suitability"
)

// Rule is a number that dates rest on.
type Rule struct {
	Name   string // of [RuleNames]
	Value  float64
	Unit   string // "days", "weeks" or "months"
	Source string
	Status suitability.Status
}

// Names of rules, stable codes.
const (
	LabDays      = "soil test"          // from sampling to the laboratory's answer
	BetweenLime  = "between passes"     // from one pass of lime on sod to the next
	AfterLime    = "after lime"         // until the last pass has worked
	RetestBefore = "retest before"      // first day of the retest, before sowing
	FeedBefore   = "feed before"        // months from phosphate and potash to sowing
	SodBefore    = "sod before"         // first day of suppressing the sod, before sowing
	SowWindow    = "sowing window"      // of the region
	ToEmergence  = "to emergence"       // from sowing until seedlings are to be looked at
	SeedlingLook = "seedling look"      // as long after sowing are crickets looked for and plants counted
	CricketEvery = "cricket every"      // days between looks
	InsectEvery  = "insect every"       // days between looks
	WeevilSpan   = "weevil span"        // the season of the alfalfa weevil
	SpringSpan   = "spring span"        // when plants are counted in spring
	FirstCutSpan = "first cutting"      // of the region
	CutInterval  = "cutting interval"   // from one cutting to the next
	TissueBefore = "tissue before"      // the second cutting
	ArmywormSpan = "armyworm span"      // summer
	BeforeFrost  = "before frost"       // last cutting
	SowFrost     = "sow before frost"   // what seedlings want before hard frost
	PotashSplit  = "potash split"       // half after the first cutting, half after the third
	PotashTable  = "potash by table"    // the parts of the table of rates
	SpringFeed   = "potash in spring"   // of the year
	SummerFeed   = "potash in summer"   //
	FallFeed     = "potash in fall"     //
	PotashWithin = "potash within"      // days after the cutting
	TestEvery    = "test every"         // years between soil tests of a stand
	TestSpan     = "test span"          // when the soil of a stand is tested
	UsersNormals = "the user's normals" // dates of the user's file
	UsersDay     = "the user's day"     // a day the user gave
)

// RuleNames lists them.
func RuleNames() []string {
	return []string{LabDays, BetweenLime, AfterLime, RetestBefore, FeedBefore, SodBefore, SowWindow, ToEmergence, SeedlingLook, CricketEvery, InsectEvery, WeevilSpan,
		SpringSpan, FirstCutSpan, CutInterval, TissueBefore, ArmywormSpan, BeforeFrost, SowFrost, PotashSplit, PotashTable, SpringFeed, SummerFeed, FallFeed, PotashWithin, TestEvery, TestSpan, UsersNormals, UsersDay}
}

// Rules are the numbers that do not come from the crop profile or the user. Intervals that have two ends are given by both.
// Where two stand under one name the shorter time comes first, but for those before frost, where the earlier day does.
func Rules() []Rule {
	return []Rule{
		{LabDays, 21, "days", "", suitability.Practice},
		{BetweenLime, 12, "months", "Noble Foundation 2002: so much on the surface in a year (read in a copy)", suitability.Published},
		{RetestBefore, 56, "days", "", suitability.Practice},
		{FeedBefore, 3, "months", "Clemson University Agricultural Service Laboratory, crop code 050, alfalfa: phosphate and potash three months ahead", suitability.Published},
		{SodBefore, 14, "days", "", suitability.Practice},
		{ToEmergence, 7, "days", "", suitability.Practice},
		{SeedlingLook, 42, "days", "", suitability.Practice},
		{CricketEvery, 3, "days", "", suitability.Proposal},
		{InsectEvery, 7, "days", "", suitability.Practice},
		{CutInterval, 28, "days", "", suitability.Memory},
		{CutInterval, 35, "days", "", suitability.Memory},
		{TissueBefore, 7, "days", "", suitability.Practice},
		{BeforeFrost, 42, "days", "", suitability.Memory},
		{BeforeFrost, 28, "days", "", suitability.Memory},
		{SowFrost, 42, "days", "", suitability.Memory},
		{PotashSplit, 0, "", "Clemson University Agricultural Service Laboratory, crop code 050, alfalfa: two halves, after the first and the third cutting", suitability.Published},
		{PotashWithin, 14, "days", "", suitability.Practice},
		{TestEvery, 2, "years", "", suitability.Practice},
	}
}

// RuleByName returns the first rule of a name; the zero rule where there is none. Names with two ends are read from [Rules] by those who
// want both.
func RuleByName(name string) Rule {
	for _, r := range Rules() {
		if r.Name == name {
			return r
		}
	}
	return Rule{}
}

// ruleDays returns a rule and its days.
func ruleDays(name string) (Rule, int) {
	r := RuleByName(name)
	return r, int(r.Value)
}

// Span is a stretch of any year, both ends included, with who says so.
type Span struct {
	Rule        string // of [RuleNames]
	Region      string // "" for everywhere
	First, Last suitability.MonthDay
	Source      string
	Status      suitability.Status
}

// Spans are the stretches of the year that steps fall into. The first cuttings are planning days from memory: a real one is made
// by the crop's growth, and the user may name it.
func Spans() []Span {
	on := func(m time.Month, d int) suitability.MonthDay { return suitability.MonthDay{Month: m, Day: d} }
	return []Span{
		{WeevilSpan, "", on(2, 1), on(3, 7), "", suitability.Practice},
		{SpringSpan, "", on(3, 15), on(3, 31), "", suitability.Practice},
		{FirstCutSpan, "piedmont", on(4, 25), on(5, 10), "", suitability.Memory},
		{FirstCutSpan, "coastal plain", on(4, 10), on(4, 25), "", suitability.Memory},
		{FirstCutSpan, "nc coastal plain", on(4, 20), on(5, 5), "", suitability.Memory},
		{ArmywormSpan, "", on(6, 1), on(8, 31), "", suitability.Practice},
		{SpringFeed, "", on(3, 1), on(3, 31), "", suitability.Practice},
		{SummerFeed, "", on(6, 15), on(7, 15), "", suitability.Practice},
		{FallFeed, "", on(9, 1), on(9, 30), "", suitability.Practice},
		{TestSpan, "", on(9, 15), on(11, 15), "", suitability.Practice},
	}
}

// spanOf returns the span of a rule for a region. Rules that hold everywhere have one span; others one for each region that they are
// known for.
func spanOf(rule, region string) (Span, bool) {
	for _, s := range Spans() {
		if s.Rule == rule && (s.Region == "" || s.Region == plainRegion(region)) {
			return s, true
		}
	}
	return Span{}, false
}

// after returns the first time a span begins on or after a day. A span that has begun by then counts for the year after.
func (s Span) after(day time.Time) Window {
	w := inYear(suitability.SowingWindow{First: s.First, Last: s.Last}, day.Year())
	if w.First.Before(day) {
		w = inYear(suitability.SowingWindow{First: s.First, Last: s.Last}, day.Year()+1)
	}
	return w
}
