package words

import (
	"fmt"
	"math"
	"strings"

	"rootworthy/suitability"
	"rootworthy/suitability/season"
	"rootworthy/suitability/stand"
)

// StepName names a step of the calendar: "Spread lime, pass 1 of 2", "First cutting, year 3".
func StepName(s season.Step) string {
	name := found(stepNames(), string(s.Code), Landowner)
	// Only lime is done in parts of a part: what was spread of a pass and did not reach it.
	if s.Begun {
		name = "Spread the rest of the lime"
	}
	// A single pass needs no number.
	if s.Passes > 1 {
		name += fmt.Sprintf(", pass %d of %d", s.Pass, s.Passes)
	}
	if s.Year > 0 {
		name += fmt.Sprintf(", year %d", s.Year)
	}
	return name
}

// stepNames are what a calendar shows.
func stepNames() []phrase {
	// Names are the same for every reader: a calendar goes from hand to hand.
	same := func(code season.Code, s string) phrase { return phrase{string(code), s, s, s} }
	return []phrase{
		same(season.Sample, "Sample the soil"), same(season.Lime, "Spread lime"), same(season.Retest, "Test the soil again"), same(season.Fertilize, "Spread phosphate and potash"),
		same(season.Suppress, "Cut the sod short and hold it back"), same(season.Sow, "Sow alfalfa"), same(season.Crickets, "Look for crickets"),
		same(season.CountFall, "Count the seedlings"), same(season.Weevil, "Look for alfalfa weevil"), same(season.CountSpring, "Count plants in spring"),
		same(season.FirstCut, "First cutting"), same(season.Tissue, "Sample the plants"), same(season.Armyworm, "Look for fall armyworm"),
		same(season.LastCut, "Last cutting of the year"), same(season.CountStems, "Count stems in spring"), same(season.Potash, "Spread potash"),
		same(season.SoilTest, "Test the soil of the stand"),
	}
}

// StepText returns how a step is done. The profile names the pH from which to sow; nil means the usual one.
func StepText(code season.Code, r Reader, p *suitability.Profile) string {
	return strings.ReplaceAll(found(stepTexts(), string(code), r), sowFromMark, plain(sowFrom(p), 2))
}

// stepTexts: depths, heights and rates in them are those of the seed plan and the survey windows, where their sources stand.
func stepTexts() []phrase {
	return []phrase{
		{string(season.Sample), "take the topsoil of each zone by itself, and the subsoil at 12 to 40 in (30 to 100 cm); ask for pH, lime, phosphorus, potassium, magnesium, sulfur and boron",
			"zone by zone, topsoil and 12 to 40 in (30 to 100 cm); pH, buffer pH, P, K, Mg, S, B", "one bag a zone and depth; write the zone on it"},
		{string(season.Lime), "spread by the soil test, not by the survey; lime on sod works slowly, so each month counts",
			"rate by soil test; surface lime on sod works slowly", "rate by the soil test; see the load sheet"},
		{string(season.Fertilize), "spread phosphate and potash by the soil test some three months before sowing, and boron broadcast, never with the seed; late is better than not",
			"P and K by soil test three months ahead, boron broadcast", "rates by the soil test; boron broadcast"},
		{string(season.Retest), "test the topsoil again, and sow only if the pH reads at least " + sowFromMark + "; else wait for the next window",
			"retest; sow from pH " + sowFromMark, "retest: pH " + sowFromMark + " or more, else no sowing"},
		{string(season.Suppress), "mow or graze the grass to 1 to 2 in (2.5 to 5 cm), take the residue off, and hold the grass back as a label allows",
			"sod at 1 to 2 in (2.5 to 5 cm), residue off, chemically suppressed; label decides", "sod at 1 to 2 in (2.5 to 5 cm), residue off"},
		{string(season.Sow), "drill into moist ground in rows 7 to 9 in (18 to 23 cm) apart, no deeper than half an inch (1.3 cm); check the drill first",
			"rows of 7 to 9 in (18 to 23 cm), no deeper than 1/2 in (1.3 cm); calibrate", "half an inch (1.3 cm) at most; check the drill"},
		{string(season.Crickets), "look at night and along the edges once seedlings are up; crickets can eat a stand in days", "scout crickets and other seedling insects after emergence", "scout at night, edges first"},
		{string(season.CountFall), "count seedlings in a square foot at ten spots in each zone and write them down", "plants per square foot, ten spots a zone", "ten counts a zone into the record"},
		{string(season.Weevil), "look at the tips of the stems for holes and small green grubs, and write down what you find", "tip feeding and larvae a stem", "write down tips fed on and grubs"},
		{string(season.CountSpring), "count plants in a square foot at ten spots in each zone; thin spots can be sown again within a year", "plants per square foot, ten spots a zone; thicken within a year", "ten counts a zone into the record"},
		{string(season.FirstCut), "cut when the first flowers show; look for beetles before you mow; the crop sets the day, not the calendar", "early bloom; the crop sets the day", "cut at first flowers"},
		{string(season.Tissue), "cut the top 6 in (15 cm) of plants a week before the second cutting, and send them to the laboratory; move the day with your real first cutting",
			"top 6 in (15 cm), a week before the second cutting, bud to first flower", "top 6 in (15 cm), a week before the second cutting"},
		{string(season.Armyworm), "look each week, early or late in the day; small worms eat little and large ones all", "weekly; treat while small", "scout weekly, dawn or dusk"},
		{string(season.LastCut), "cut for the last time early enough for the plants to fill their roots before frost", "last cut 4 to 6 weeks before killing frost", "last cut, then leave it standing"},
		{string(season.CountStems), "when stems are 4 to 6 in (10 to 15 cm) tall, count those in a square foot at ten spots in each zone and write them down: the count says whether to keep the stand",
			"stems per square foot at 4 to 6 in (10 to 15 cm), ten spots a zone", "ten stem counts a zone into the record"},
		{string(season.Potash), "spread this part of the year's potash, as much as the soil test asks for; with the first part the boron of the year, broadcast",
			"a part of the year's potash by soil test; boron broadcast with the first", "a part of the potash, rate by the soil test"},
		{string(season.SoilTest), "take the topsoil of each zone as before; ask for pH, phosphorus, potassium, magnesium, sulfur and boron, and lime by it", "zone by zone, topsoil; pH, buffer pH, P, K, Mg, S, B", "one bag a zone; write the zone on it"},
	}
}

// StepNeeds returns the words for what a step without a day is waiting for.
func StepNeeds(code string, r Reader) string { return found(stepNeeds(), code, r) }

// stepNeeds: each asks for what would give the step a day.
func stepNeeds() []phrase {
	return []phrase{
		{season.NeedsFrost, "4 to 6 weeks before hard frost (from memory, not checked); give your frost days for a date", "4 to 6 weeks before killing frost (memory); no normals given", "no date: frost days were not given"},
		{season.NeedsFirstCut, "no day: say when you make the first cutting", "no planning day of a first cutting for this region", "no date: first cutting not given"},
	}
}

// SeasonNote returns the words for a note on a calendar.
func SeasonNote(code string, r Reader) string { return found(seasonNotes(), code, r) }

// seasonNotes: six weeks are what seedlings want before hard frost; that no frost days were given is a note too, so that silence never
// reads as safety.
func seasonNotes() []phrase {
	return []phrase{
		{season.FrostInside, "by your frost days, seedlings have six weeks before hard frost (from memory, not checked)", "six weeks to hard frost by the normals (memory)", "six weeks to frost"},
		{season.FrostShort, "by your frost days, hard frost may come less than six weeks (from memory, not checked) after the last days of the window: sow early in it", "under six weeks to hard frost by the normals (memory): sow early in the window", "sow early: frost is near"},
		{season.FrostMissing, "frost days were not given, so nothing here is held against them", "no frost normals", "no frost days"},
		{season.SoilAtSowing, "your normals tell how warm the soil is then", "soil temperature by the normals", "soil warmth by the normals"},
		{season.WindowCut, "the window is open already; only the rest of it is left", "part of the window has passed", "the window has begun"},
	}
}

// SeasonRule says what a date rests on, with its source: "3 weeks for the soil test (common practice, no source)".
func SeasonRule(r season.Rule) string {
	s := found(seasonRules(), r.Name, Landowner)
	switch {
	case r.Value > 0:
		s = figureOf(r) + " " + s
	// The one rule that may be set to nothing: then that is what the days rest on.
	case r.Name == season.AfterLime:
		s = "no wait " + s
	}
	return s + " (" + Founding(r.Source, r.Status) + ")"
}

// figureOf prints the figure of a rule; whole weeks read better than days.
// The unit is in the plural, as rules have it ("days", "months").
func figureOf(r season.Rule) string {
	n, of := int(r.Value), strings.TrimSuffix(r.Unit, "s")
	if of == "month" {
		return Months(r.Value)
	}
	// A week is still seven days; from two on people count weeks.
	if of == "day" && n >= 14 && n%7 == 0 {
		n, of = n/7, "week"
	}
	return count(n, of, of+"s")
}

// meanMonth is the mean month of the Gregorian calendar in days.
const meanMonth = 365.2425 / 12

// Months prints a wait of months for reading: whole months from one on, days below. There a month is too coarse, and none at all would be
// read where some wait is.
func Months(months float64) string {
	switch days := int(math.Round(months * meanMonth)); {
	case months <= 0:
		return "no wait"
	case months < 1 && days < 1:
		return "less than a day"
	case months < 1:
		return count(days, "day", "days")
	}
	return count(int(math.Round(months)), "month", "months")
}

// WaitDays is [Months] of a wait in days.
func WaitDays(days float64) string { return Months(days / meanMonth) }

// seasonRules: read after the figure, where there is one.
func seasonRules() []phrase {
	same := func(code, s string) phrase { return phrase{code, s, s, s} }
	return []phrase{
		same(season.LabDays, "for the soil test"), same(season.BetweenLime, "from one pass of lime to the next"), same(season.AfterLime, "for the last lime to work"),
		same(season.FeedBefore, "before sowing phosphate and potash are spread"), same(season.RetestBefore, "before sowing the retest may begin"), same(season.SodBefore, "before sowing the sod is cut and held back"),
		same(season.SowWindow, "sowing window of the region"), same(season.ToEmergence, "from sowing until seedlings show"),
		same(season.SeedlingLook, "after sowing seedlings are watched and counted"), same(season.CricketEvery, "from look to look for crickets"),
		same(season.InsectEvery, "from look to look"), same(season.WeevilSpan, "weevils in February and early March"), same(season.SpringSpan, "count in the second half of March"),
		same(season.FirstCutSpan, "planning days of a first cutting"), same(season.CutInterval, "from cutting to cutting"),
		same(season.TissueBefore, "before the second cutting"), same(season.ArmywormSpan, "armyworms in summer"),
		same(season.PotashSplit, "half of the potash after the first cutting and half after the third"),
		same(season.PotashTable, "the parts of the year's potash by the table of rates"), same(season.SpringFeed, "potash in March"), same(season.SummerFeed, "potash from mid-June to mid-July"),
		same(season.FallFeed, "potash in September"), same(season.PotashWithin, "after the cutting to spread it"), same(season.TestEvery, "from soil test to soil test of a stand, or three"),
		same(season.TestSpan, "soil of a stand tested in fall"),
		same(season.BeforeFrost, "from the last cutting to hard frost"), same(season.SowFrost, "from sowing to hard frost"),
		same(season.UsersNormals, "usual first hard freeze"), same(season.UsersDay, "your own day"),
	}
}

// Founding says how well something is founded: its source where it has one, else that it has none.
func Founding(source string, s suitability.Status) string {
	// A day of the user's own needs no word on how well it is founded.
	if s == suitability.Published && source != "" || strings.HasPrefix(source, "the day you gave") {
		return source
	}
	var out string
	switch s {
	case suitability.Practice:
		out = "common practice, no source"
	case suitability.Memory:
		out = "from memory, not checked"
	case suitability.Proposal:
		out = "our proposal"
	default:
		out = "no source"
	}
	// A source that is not published in its own right, such as a judgement with a name.
	if source != "" && source != out {
		out = source + "; " + out
	}
	return out
}

// InsectThreshold says from how many insects to act: "Act from 25 % of alfalfa weevil …".
func InsectThreshold(t stand.Threshold) string {
	s := t.Act
	if v, ok := t.From.Get(); ok {
		// Without a number the source says what to look for, and that alone is printed.
		s = "act from " + plain(v, 2) + " " + found(insectUnits(), t.Unit, Landowner)
		if t.Also != "" {
			s += " (" + t.Also + ")"
		}
		s += ": " + t.Act
	}
	return title(t.Pest) + ": " + s + ". Source: " + Founding(t.Source, t.Status) + "."
}

// insectUnits are the units of thresholds.
func insectUnits() []phrase {
	same := func(code, s string) phrase { return phrase{code, s, s, s} }
	return []phrase{same("pct", "% of tips fed on"), same("per_tip", "grubs a tip"), same("per_sweep", "a sweep of the net"), same("per_ft2", "in a square foot"),
		same("per_stem", "a stem"), same("per_yd2", "in a square yard"), same("seen", "seen")}
}

// Sentence makes a sentence of a clause.
func Sentence(clause string) string { return title(clause) + "." }
