package grower

import (
	"bytes"
	"math"
	"slices"
	"strconv"
	"strings"
	"testing"
	"time"

	"rootworthy/export/calendar"
	"rootworthy/export/quillmoor"
	"rootworthy/export/report"
	"rootworthy/internal/diag"
	"rootworthy/internal/secondopinion"
	"rootworthy/soils/nutrient"
	"rootworthy/soils/unit"
	"rootworthy/suitability"
	"rootworthy/suitability/limeplan"
	"rootworthy/suitability/nutrientplan"
	"rootworthy/suitability/season"
	"rootworthy/suitability/seedplan"
	"rootworthy/suitability/stand"
)

// farm is the invented farm Quillmoor with a table of rates and no tests but one: zones of its first field were sampled.
func farm(t testing.TB) *Farm {
	t.Helper()
	r := quillmoor.Result()
	f := &Farm{Run: r, Date: time.Date(2026, 3, 1, 0, 0, 0, 0, time.UTC)}
	p := suitability.DefaultProfile()
	var err error
	if f.Region, err = season.Region(p, "piedmont"); err != nil {
		t.Fatal(err)
	}
	var zones []nutrientplan.Zone
	var seed []seedplan.Zone
	for i := range r.Zones {
		z := Zone{Zone: &r.Zones[i], Why: WhyNone(&r.Zones[i]), Limed: limeplan.AskedOf(r, &r.Zones[i]).OnRecord(nil)}
		if z.Why == "" {
			z.Plan = season.Make(season.Input{Start: f.Date, Window: f.Region, Passes: z.Lime.Passes, Wait: season.Rule{Name: season.AfterLime, Value: 12, Unit: "months", Status: suitability.Proposal}})
			n := nutrientplan.Zone{ID: z.ID, FieldID: z.FieldID, Area: z.Area, Class: z.Rating.Class}
			if z.FieldID == "Q1" {
				n.Tests = []nutrientplan.Test{{Soil: nutrient.Soil{Printed: []nutrient.Printed{{Nutrient: nutrient.Potassium, Class: "low"}, {Nutrient: nutrient.Phosphorus, Class: "medium"}}}}}
			}
			zones, seed = append(zones, n), append(seed, seedplan.Zone{ID: z.ID, FieldID: z.FieldID, Area: z.Area})
		}
		f.Zones = append(f.Zones, z)
	}
	f.Tag = &seedplan.Tag{Purity: 66, Germination: 90}
	f.Seed = seedplan.Make(seed, seedplan.Options{Tag: *f.Tag, Sown: f.NextSowing()})
	f.Table, _ = nutrient.TableByName("south-carolina")
	f.Yield = unit.Some(unit.ShortTonsPerAcre(5))
	potash, err := nutrientplan.ParseProduct("0-0-60")
	if err != nil {
		t.Fatal(err)
	}
	f.Nutrients = nutrientplan.Make(zones, nutrientplan.Options{Table: f.Table, Yield: f.Yield, Seed: f.Seed.Bare, Products: []nutrientplan.Product{potash}})
	if len(zones) == 0 || len(zones) == len(f.Zones) {
		t.Fatal("the farm has no planned zone, or no other")
	}
	return f
}

// rows reads a table with a reader that is not ours.
func rows(t *testing.T, write func(*bytes.Buffer) error) []map[string]string {
	t.Helper()
	var b bytes.Buffer
	if err := write(&b); err != nil {
		t.Fatal(err)
	}
	return secondopinion.Rows(t, &b)
}

// What goes onto zones adds up to what is ordered for the farm.
func TestAmountsAddUp(t *testing.T) {
	f := farm(t)
	sums := map[string]float64{}
	for _, r := range rows(t, func(b *bytes.Buffer) error { return WriteMaterials(b, f) }) {
		if r["source"] == "" {
			t.Errorf("%s on %s has no source", r["material"], r["zone_id"])
		}
		if r["in_all"] != "" {
			x, err := strconv.ParseFloat(r["in_all"], 64)
			if err != nil {
				t.Error(err)
			}
			sums[r["material"]] += x
		}
	}
	for name, want := range map[string]float64{"Potassium as K2O": f.Nutrients.Farm.Of(nutrient.Potassium).Pounds(), "Phosphorus as P2O5": f.Nutrients.Farm.Of(nutrient.Phosphorus).Pounds(),
		"Product 0-0-60": f.Nutrients.Farm.Of(nutrient.Potassium).Pounds() / 0.6, // the definition of the grade
		"Seed as bought": f.Seed.Farm.Pounds()} {
		if got := sums[name]; !(want > 0) || math.Abs(got-want) > 1e-3*float64(len(f.Zones)) { // cells have four decimals
			t.Errorf("%s: %v in the table, %v in the plan", name, got, want)
		}
	}
}

// What is ordered is what the zones add up to, and the reserve of seed; lime by test and lime that is a budget stand apart.
func TestOrderIsTheSumOfTheZones(t *testing.T) {
	f := farm(t)
	zones := map[string]float64{}
	for _, r := range rows(t, func(b *bytes.Buffer) error { return WriteMaterials(b, f) }) {
		if x, err := strconv.ParseFloat(r["in_all"], 64); err == nil {
			zones[strings.TrimPrefix(r["material"], "Product ")] += x
		}
	}
	order := map[string]float64{}
	for _, r := range rows(t, func(b *bytes.Buffer) error { return WriteOrder(b, f) }) {
		x, err := strconv.ParseFloat(r["sum_of_zones"], 64)
		if err != nil {
			t.Fatal(err)
		}
		name, _, _ := strings.Cut(r["item"], ", ")
		order[name] += x
		if most, _ := strconv.ParseFloat(r["to_order"], 64); most < x || r["item"] == "Seed as bought" && math.Abs(most-1.05*x) > 1e-3 { // 5 % reserve: common practice, no source
			t.Errorf("%s: %v in the zones, ordered %s", r["item"], x, r["to_order"])
		}
	}
	for _, item := range []string{"Lime as spread", "0-0-60", "Seed as bought"} {
		if !(order[item] > 0) || math.Abs(order[item]-zones[item]) > 1e-3*float64(len(f.Zones)) {
			t.Errorf("%s: zones %v, order %v", item, zones[item], order[item])
		}
	}
}

// Each zone stands in the table, each dated step of it in the calendar.
func TestStepsStandInTheCalendar(t *testing.T) {
	f := farm(t)
	var ics bytes.Buffer
	if err := (calendar.Calendar{Program: "rootworthy", Stamp: f.Date, Entries: Entries(f)}).Write(&ics, nil); err != nil {
		t.Fatal(err)
	}
	zones := map[string]bool{}
	for _, r := range rows(t, func(b *bytes.Buffer) error { return WriteSteps(b, f) }) {
		zones[r["zone_id"]] = true
		if dated := r["first_day"] != ""; dated != (r["uid"] != "") || dated && !strings.Contains(ics.String(), "UID:"+r["uid"]+"\r\n") {
			t.Errorf("%s %s: id %q is not in the calendar", r["zone_id"], r["step"], r["uid"])
		}
		if r["step"] != "" && r["rests_on"] == "" {
			t.Errorf("%s %s rests on nothing", r["zone_id"], r["step"])
		}
		// Who misses a step sows in a later window: it begins after the step was due.
		if r["last_day"] != "" && (r["if_missed_sow_first"] <= r["last_day"] || r["if_missed_sow_last"] < r["if_missed_sow_first"]) {
			t.Errorf("%s %s: missed on %s, sown from %s", r["zone_id"], r["step"], r["last_day"], r["if_missed_sow_first"])
		}
	}
	if len(zones) != len(f.Zones) {
		t.Errorf("%d zones in the table, %d in the run", len(zones), len(f.Zones))
	}
}

// The same plan gives the same bytes, on page and paper, and says what must be said.
func TestDocument(t *testing.T) {
	var pages [2]bytes.Buffer
	for i := range pages {
		d := Document(farm(t))
		if err := d.HTML(&pages[i]); err != nil {
			t.Fatal(err)
		}
		if err := d.PDF(&pages[i], report.Letter); err != nil {
			t.Fatal(err)
		}
	}
	if !bytes.Equal(pages[0].Bytes(), pages[1].Bytes()) {
		t.Error("two plans of one farm differ")
	}
	page := pages[0].String()
	for _, want := range []string{"common practice, no source", "from memory, not checked", "Too little potash is the first thing that kills a stand", "never put more molybdenum on the seed",
		"never put boron next to the seed", "no test, no rate", "the label is the law", "lime dust harms eyes and lungs", "bloat", "kill horses", "nitrate", "Sow ", "If it slips"} {
		if !strings.Contains(strings.ToLower(page), strings.ToLower(want)) {
			t.Errorf("the page does not say %q", want)
		}
	}
	// 0001 is the year of a day that was never set.
	for _, never := range []string{"NaN", "%!", "<nil>", "0001"} {
		if strings.Contains(page[:strings.Index(page, "</html>")], never) {
			t.Errorf("the page says %q", never)
		}
	}
	ids := map[string]bool{}
	for _, b := range Document(farm(t)).Blocks {
		if h, ok := b.(report.Heading); ok {
			if ids[h.ID] {
				t.Errorf("two sections %q", h.ID)
			}
			ids[h.ID] = true
		}
	}
}

// A zone without a plan says why in words and not as a code.
func TestEveryWhyHasWords(t *testing.T) {
	for _, w := range Whys() {
		if whyText(w) == w {
			t.Errorf("no words for %q", w)
		}
	}
}

// Figures of a soil test are of the element, whatever fertilizer is sold by; levels of other states stand beside them as a guide.
func TestSoilTestsAreOfTheElement(t *testing.T) {
	f := farm(t)
	f.Table, _ = nutrient.TableByName("georgia-piedmont")
	f.Nutrients.Zones[0].Levels = []nutrient.HeldLevel{{Hold: nutrient.Hold{Nutrient: nutrient.Potassium, Least: unit.PoundsPerAcre(270), Most: unit.PoundsPerAcre(300)},
		Value: unit.PoundsPerAcre(120), Against: nutrient.BelowHold, Source: "University of Kentucky", Seen: nutrient.Read}}
	seen := map[string][]string{}
	for _, b := range Document(f).Blocks {
		if x, ok := b.(report.Table); ok {
			for _, r := range x.Rows {
				seen[strings.SplitN(x.Caption, ":", 2)[0]+" "+r[0]] = r
			}
		}
	}
	if r := seen["What a soil test's figures mean Potassium"]; r == nil || r[2] != "low up to 120, medium up to 250, high up to 400, very high above" { // University of Georgia, read
		t.Errorf("ratings %v", r)
	}
	if r := seen["Soil tests beside levels that sources say to hold Potassium"]; r == nil || r[1] != "270 to 300" || !strings.HasSuffix(r[2], ": 120") {
		t.Errorf("levels %v", r)
	}
}

// A stand in its third year: what the next twelve months ask for stands in the lists, earlier and later years only in the calendar, and the
// years' tables tell what counts mean.
func TestAStandInItsThirdYear(t *testing.T) {
	f := farm(t)
	f.Date = time.Date(2029, 1, 10, 0, 0, 0, 0, time.UTC)
	for i := range f.Zones {
		if z := &f.Zones[i]; z.Why == "" {
			z.Plan = season.Make(season.Input{Start: f.Date, Window: f.Region, Years: 5, Done: []season.Done{{Code: season.Sow, Day: time.Date(2026, 9, 20, 0, 0, 0, 0, time.UTC)}}})
		}
	}
	var order report.Table
	captions := map[string]bool{}
	for _, b := range Document(f).Blocks {
		if x, ok := b.(report.Table); ok {
			captions[x.Caption] = true
			if x.Caption == "All steps by date" {
				order = x
			}
		}
	}
	text := ""
	for _, r := range order.Rows {
		text += strings.Join(r, "|") + "\n"
	}
	if !strings.Contains(text, "Count stems in spring, year 3") || strings.Contains(text, "year 2") || strings.Contains(text, "year 5") {
		t.Errorf("steps by date:\n%s", text)
	}
	years := map[string]bool{}
	for _, e := range Entries(f) {
		if strings.HasPrefix(e.Step, "year-") {
			years[e.Step[:6]] = true
		}
	}
	if len(years) != 4 { // the second to the fifth
		t.Errorf("the calendar has years %v", years)
	}
	for _, c := range []string{"The round of each year", "What a count says", "What a test of the plants says"} {
		if !captions[c] {
			t.Errorf("no table %q", c)
		}
	}
}

// What the record means stands beside it: counts by year, low tissue with what it calls for (University of Georgia, Plant Analysis Handbook,
// read: potassium under 2.00 % asks for 100 to 200 lb of potash), thin mixtures and insects from the number to act on.
func TestTheRecordIsRead(t *testing.T) {
	f := farm(t)
	text := "field_id,zone_id,date,kind,value,unit,note\nQ1,,2024-10-01,sown,,,\nQ1,,2026-03-20,stems,35,per_ft2,\nQ1,,2026-05-20,tissue_k,1.8,pct,\n" +
		"Q1,,2026-06-01,alfalfa_share,20,pct,\nQ1,,2026-07-10,armyworm,4,per_ft2,\n"
	var faults diag.List
	records, err := stand.Read("record.csv", strings.NewReader(text), &faults)
	if err != nil || faults.Faults() > 0 {
		t.Fatal(err, faults.String())
	}
	f.Record = stand.History(records)
	page := ""
	for _, b := range Document(f).Blocks {
		if x, ok := b.(report.Table); ok && x.Caption == "Your record" {
			for _, r := range x.Rows {
				page += strings.Join(r, "|") + "\n"
			}
		}
	}
	for _, want := range []string{"2026, year 2", "The alfalfa no longer pays", "K 1.8 %: low", "100 to 200 lb an acre as K2O", "Plant Analysis Handbook", "30 lb of nitrogen an acre each time", "Fall armyworm: act from 2 in a square foot",
		"Fall armyworm: act from 3 in a square foot"} {
		if !strings.Contains(page, want) {
			t.Errorf("the record does not say %q:\n%s", want, page)
		}
	}
	if strings.Contains(page, "act from 5 in a square foot") {
		t.Errorf("four worms are not five:\n%s", page)
	}
}

// Of two passes of lime one is spread, of a product that the run capped at 2.5: what is left to buy is the smaller rest. A pass that is half
// spread leaves its other half. A zone that carries a stand gets neither lime nor seed. Sums by hand.
func TestWhatIsDoneIsNotBought(t *testing.T) {
	z := suitability.Zone{ID: "Q1/1", FieldID: "Q1", Number: 1, Area: unit.Acres(10)}
	z.Lime = suitability.Lime{Passes: 2, Product: unit.Some(unit.ShortTonsPerAcre(4)), ProductMass: unit.Some(unit.ShortTonsPerAcre(4).Over(z.Area))}
	r := &suitability.Result{Provenance: suitability.Provenance{Options: []suitability.Option{{Name: "lime-cap", Value: "2.5"}}}}
	limed := func(amounts ...float64) Zone {
		var own []stand.Record
		for i, x := range amounts {
			own = append(own, stand.Record{Field: "Q1", Day: time.Date(2026, time.Month(1+3*i), 1, 0, 0, 0, 0, time.UTC), Kind: stand.Lime, Value: unit.Some(x), Unit: "ton_ac"})
		}
		return Zone{Zone: &z, Limed: limeplan.AskedOf(r, &z).OnRecord(own)}
	}
	for name, c := range map[string]struct {
		spread []float64
		rate   float64
		when   string
		note   string
	}{
		"nothing":      {nil, 4, "2 yearly passes", ""},
		"the first":    {[]float64{2.5}, 1.5, "1 pass", "1 pass is spread already"},
		"half of it":   {[]float64{1.25}, 2.75, "2 yearly passes", "pass 1 of 2 is begun: 1.25 of 2.5 short tons an acre are on record, 1.25 are missing (2.8 of 5.6 t/ha)"},
		"a hundredth":  {[]float64{0.01}, 3.99, "2 yearly passes", "2.49 are missing"},
		"and a little": {[]float64{2.5, 0.5}, 1, "1 pass", "pass 2 of 2 is begun"},
	} {
		planned := limed(c.spread...)
		m, ok := limeOf(&planned)
		if !ok || math.Abs(m.rate.Or(0)-c.rate) > 1e-9 || math.Abs(m.mass.Or(0)-10*c.rate) > 1e-9 || m.when != c.when || !strings.Contains(m.note, c.note) {
			t.Errorf("%s: %+v", name, m)
		}
	}
	whole := limed(2.5, 1.5)
	if m, ok := limeOf(&whole); ok {
		t.Errorf("all is spread, and %+v", m)
	}
	stood := limed(2.5)
	stood.Plan = season.Make(season.Input{Start: time.Date(2027, 3, 1, 0, 0, 0, 0, time.UTC), Window: suitability.DefaultProfile().Windows[0], Passes: 2, Wait: season.Rule{Name: season.AfterLime, Value: 12},
		Done: []season.Done{{Code: season.Sow, Day: time.Date(2026, 10, 20, 0, 0, 0, 0, time.UTC)}}})
	if m, ok := limeOf(&stood); ok {
		t.Errorf("lime on a stand: %+v", m)
	}
}

// A pass that is begun stands in the calendar as its rest, with what is on record and what is missing, in page, calendar file and tables; its
// id is that of the pass, so that the entry moves instead of doubling.
func TestRestOfAPass(t *testing.T) {
	f := farm(t)
	i := slices.IndexFunc(f.Zones, func(z Zone) bool { return z.Why == "" && z.Lime.Passes > 0 })
	z := &f.Zones[i]
	before := map[string]bool{}
	for _, e := range Entries(f) {
		before[e.UID()] = true
	}
	z.Limed = limeplan.AskedOf(f.Run, z.Zone).OnRecord([]stand.Record{{Field: z.FieldID, Day: f.Date.AddDate(0, 0, -9), Kind: stand.Lime, Value: unit.Some(0.25), Unit: "ton_ac"}})
	z.Plan = season.Make(season.Input{Start: f.Date, Window: f.Region, Passes: z.Lime.Passes, Begun: z.Limed.Begun(), Wait: season.Rule{Name: season.AfterLime, Value: 12, Unit: "months", Status: suitability.Proposal}})
	want := "is begun: 0.25 of "
	var page bytes.Buffer
	if err := Document(f).HTML(&page); err != nil {
		t.Fatal(err)
	}
	if !strings.Contains(page.String(), want) || !strings.Contains(page.String(), "Spread the rest of the lime") {
		t.Error("the page does not tell of the rest")
	}
	told := 0
	for _, e := range Entries(f) {
		if strings.Contains(e.Summary, "the rest of the lime") {
			told++
			if !before[e.UID()] || !strings.Contains(e.Text, want) {
				t.Errorf("%+v", e)
			}
		}
	}
	if begun, odd := f.LimeOpen(); told != 1 || begun != 1 || odd != 0 {
		t.Errorf("%d entries, %d begun, %d odd", told, begun, odd)
	}
	for _, r := range rows(t, func(b *bytes.Buffer) error { return WriteMaterials(b, f) }) {
		if r["zone_id"] == z.ID && r["material"] == "Lime as spread" && !strings.Contains(r["note"], want) {
			t.Errorf("%v", r)
		}
	}
}

// Steps stand in the order of the day that is printed first. A watch from September on comes before a cutting in October, though it ends
// later; what is due by a day stands at that day.
func TestStepsStandInTheOrderOfTheirDays(t *testing.T) {
	day := func(m time.Month, d int) time.Time { return time.Date(2027, m, d, 0, 0, 0, 0, time.UTC) }
	watch := season.Step{Code: season.Crickets, First: day(9, 22), Due: day(11, 26), Every: 3}
	cut := season.Step{Code: season.LastCut, First: day(10, 21), Due: day(11, 4)}
	due := season.Step{Code: season.Retest, First: day(7, 21), Due: day(8, 25)}
	if !cut.Stretch() || due.Stretch() {
		t.Fatal("a cutting takes a stretch of days, a test is due by a day")
	}
	for _, pair := range [][2]season.Step{{due, watch}, {watch, cut}, {due, cut}, {cut, season.Step{Code: season.Retest}}} {
		if byDay(pair[0], pair[1]) >= 0 || byDay(pair[1], pair[0]) <= 0 {
			t.Errorf("%s does not come before %s", pair[0].Code, pair[1].Code)
		}
	}
}

// An amount reads in the plural but for exactly one; pounds have none.
func TestAmountsWithTheirUnits(t *testing.T) {
	for want, got := range map[string]string{"1.25 short tons": withUnit(1.25, 2, "short ton"), "1 short ton": withUnit(1, 2, "short ton"), "0.5 short tons": withUnit(0.5, 1, "short ton"), "1 lb": withUnit(1, 1, "lb")} {
		if got != want {
			t.Errorf("got %q, want %q", got, want)
		}
	}
}

// A variety listed for another region is told as such, whatever the case; one without a region, or with that of the plan, is not.
func TestVarietiesOfElsewhere(t *testing.T) {
	for region, want := range map[string]bool{"coastal plain": true, "Piedmont": false, "mountains and piedmont": false, " ": false, "": false, "Southeast": true} {
		if got := elsewhere(region, "mountains and piedmont"); got != want {
			t.Errorf("%q: %v", region, got)
		}
	}
}
