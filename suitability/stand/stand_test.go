package stand

import (
	"bytes"
	"fmt"
	"math"
	"math/rand/v2"
	"reflect"
	"slices"
	"strings"
	"testing"
	"time"

	"pgregory.net/rapid"

	"rootworthy/internal/diag"
	"rootworthy/soils/nutrient"
	"rootworthy/soils/unit"
	"rootworthy/suitability"
)

// day panics on a slip in a test's own table.
func day(s string) time.Time {
	t, err := time.Parse(time.DateOnly, s)
	if err != nil {
		panic(err)
	}
	return t
}

var sownDay = day("2026-10-20")

// Source: Hall, Penn State: 55 and 40 stems/ft². A year in which seed still takes is common practice, no source.
func TestByStems(t *testing.T) {
	for _, c := range []struct {
		stems float64
		on    string
		want  Action
	}{
		{60, "2029-03-20", Keep}, {55, "2029-03-20", Keep}, {54.9, "2029-03-20", KeepThin}, {40, "2029-03-20", KeepThin}, {39, "2029-03-20", GiveUp},
		{39, "2027-03-20", Thicken}, {39, "2027-10-20", GiveUp}, {0, "2027-03-20", Thicken},
	} {
		d := ByStems(unit.PerArea(c.stems)*unit.PerSquareFoot, sownDay, day(c.on))
		if d.Action != c.want || (d.ThickenWhy != "") != (c.want == Thicken) || d.Status != suitability.Published {
			t.Errorf("%g stems/ft² on %s: %+v, want %s (%s)", c.stems, c.on, d, c.want, stemSource)
		}
	}
	// University of Nebraska G1993: a tenth of a ton for a stem under 55.
	for stems, want := range map[float64]float64{55: 0, 60: 0, 54: 0.1, 45: 1.0} {
		if got := LossPerStem(unit.PerArea(stems) * unit.PerSquareFoot).ShortTonsPerAcre(); math.Abs(got-want) > 1e-9 {
			t.Errorf("loss at %g stems/ft² = %v short tons/ac, want %v (%s)", stems, got, want, lossSource)
		}
	}
}

// Source: Glazier, University of California Cooperative Extension: more than 25 in the year of sowing. University of Illinois 2010: more than 12, 8 and 5 plants; 6 in the second and 3 in the third year do not yield.
func TestByPlants(t *testing.T) {
	for _, c := range []struct {
		plants float64
		on     string
		want   Action
		status suitability.Status
	}{
		{26, "2026-12-01", Keep, suitability.Published}, {25, "2026-12-01", Thicken, suitability.Proposal}, {13, "2027-03-20", Keep, suitability.Published}, {12, "2027-03-20", Thicken, suitability.Proposal}, {12, "2027-11-20", KeepThin, suitability.Proposal},
		{6, "2027-11-20", GiveUp, suitability.Proposal}, {9, "2028-03-20", Keep, suitability.Published}, {8, "2028-03-20", KeepThin, suitability.Published},
		{6, "2028-03-20", GiveUp, suitability.Published}, {6, "2029-03-20", Keep, suitability.Published}, {5, "2029-03-20", KeepThin, suitability.Published},
		{3, "2030-03-20", GiveUp, suitability.Published},
	} {
		d := ByPlants(unit.PerArea(c.plants)*unit.PerSquareFoot, sownDay, day(c.on))
		if d.Action != c.want || d.Status != c.status {
			t.Errorf("%g plants/ft² on %s: %+v, want %s, %s (%s)", c.plants, c.on, d, c.want, c.status, plantSource)
		}
	}
}

// More plants or stems never call for a worse action.
func TestMoreNeverWorse(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a := unit.PerArea(rapid.Float64Range(0, 900).Draw(t, "count"))
		b := a + unit.PerArea(rapid.Float64Range(0, 300).Draw(t, "more"))
		on := sownDay.AddDate(0, 0, rapid.IntRange(0, 3000).Draw(t, "days"))
		for name, by := range map[string]func(unit.PerArea, time.Time, time.Time) Decision{"stems": ByStems, "plants": ByPlants} {
			x, y := slices.Index(Actions(), by(a, sownDay, on).Action), slices.Index(Actions(), by(b, sownDay, on).Action)
			if x < 0 || y < 0 || y > x {
				t.Fatalf("%s: %v calls for %s, %v for %s", name, a, Actions()[x], b, Actions()[y])
			}
		}
	})
}

// Sown in fall, a stand yields from the next year on; sown in spring, in the same; before it was sown, in none.
func TestProductionYear(t *testing.T) {
	for _, c := range []struct {
		sown, on string
		want     int
	}{{"2026-10-20", "2026-12-01", 0}, {"2026-10-20", "2027-03-01", 1}, {"2026-10-20", "2033-06-01", 7}, {"2027-03-20", "2027-07-01", 1}, {"2026-10-20", "2020-01-01", 0}} {
		if got := ProductionYear(day(c.sown), day(c.on)); got != c.want {
			t.Errorf("sown %s, on %s: year %d, want %d", c.sown, c.on, got, c.want)
		}
	}
}

const record = `field_id,zone_id,date,kind,value,unit,note
home,,2026-10-20,sown,,,drill
home,home/1,2026-12-01,plants,32,per_ft2,
home,home/1,2027-03-18,stems,50,per_ft2,
home,home/1,2027-03-18,stems,62,per_ft2,"north end, wet"
home,home/1,2027-05-02,yield,1.5,ton_ac,
home,home/1,2027-06-04,tissue_k,2.1,pct,
home,home/1,2027-06-10,yield,1.2,ton_ac,
home,home/2,2027-03-18,stems,20,per_ft2,
home,home/2,2028-03-18,stems,20,per_ft2,
home,home/2,2028-04-01,alfalfa_share,15,pct,
home,home/2,2036-03-18,stems,20,per_ft2,
`

// read fails the test only when the text cannot be read at all.
func read(t *testing.T, text string) ([]Record, *diag.List) {
	t.Helper()
	var faults diag.List
	r, err := Read("record.csv", strings.NewReader(text), &faults)
	if err != nil {
		t.Fatal(err)
	}
	return r, &faults
}

// Two zones of one field over several years: means of counts, disagreeing tissue sources, age that turns thickening into giving up.
func TestHistory(t *testing.T) {
	records, faults := read(t, record)
	if faults.Faults() != 0 {
		t.Fatal(faults)
	}
	s := History(records)
	if len(s) != 2 || s[0].Zone != "home/1" || !s[1].Sown.Equal(sownDay) || s[1].Later != 1 {
		t.Fatalf("%+v", s)
	}
	one := s[0].Years[1]
	if one.Number != 1 || one.Calendar != 2027 || one.Decision.Action != Keep || math.Abs(one.Decision.Count.PerSquareFoot()-56) > 1e-9 {
		t.Errorf("the mean of 50 and 62 stems is kept: %+v", one)
	}
	if hay := one.Hay.Or(0).ShortTonsPerAcre(); math.Abs(hay-2.7) > 1e-9 {
		t.Errorf("hay %v", hay)
	}
	if len(one.Tissue) != 2 || one.Tissue[0].Level != nutrient.SufficientTissue || one.Tissue[1].Level != nutrient.LowTissue {
		t.Errorf("two sources disagree on 2.1 %% potassium: %+v", one.Tissue)
	}
	if a := s[1].Years[1].Decision.Action; a != Thicken {
		t.Errorf("20 stems in the first spring: %s", a)
	}
	if y := s[1].Years[2]; y.Decision.Action != GiveUp || math.Abs(y.Nitrogen.PoundsPerAcre()-30) > 1e-9 {
		t.Errorf("20 stems in the second spring, 15 %% alfalfa: %+v", y)
	}
	if s[0].Years[0].Number != 0 || len(s[0].Years[0].Records) != 2 {
		t.Errorf("the line of the whole field counts for the zone: %+v", s[0].Years[0])
	}
}

// Seed within a year thickens; later it begins a new stand, of which the old yields are no part.
func TestResown(t *testing.T) {
	records, _ := read(t, `field_id,zone_id,date,kind,value,unit
a,1,2022-10-01,sown,,
a,1,2023-03-01,sown,,
a,1,2023-06-01,yield,2,ton_ac
a,1,2026-10-01,sown,,
a,1,2027-06-01,yield,1,ton_ac
`)
	s := History(records)[0]
	if !s.Sown.Equal(day("2026-10-01")) || s.Years[0].Hay.Has() || math.Abs(s.Years[1].Hay.Or(0).ShortTonsPerAcre()-1) > 1e-9 {
		t.Errorf("%+v", s)
	}
	if s := History(records[:3])[0]; !s.Sown.Equal(day("2022-10-01")) || !s.Years[len(s.Years)-1].Hay.Has() {
		t.Errorf("thickened: %+v", s)
	}
}

// Read and written, a record is the same file, in whatever order its lines come.
func TestRecordComesBack(t *testing.T) {
	records, _ := read(t, record)
	var first, second bytes.Buffer
	if err := Write(&first, records); err != nil {
		t.Fatal(err)
	}
	if first.String() != record {
		t.Errorf("got\n%s\nwant\n%s", first.String(), record)
	}
	r := rand.New(rand.NewPCG(1, 2))
	r.Shuffle(len(records), func(i, j int) { records[i], records[j] = records[j], records[i] })
	if err := Write(&second, records); err != nil || second.String() != first.String() {
		t.Errorf("shuffled, it is another file: %v", err)
	}
}

// One fault a case, its place marked with « »; kept says whether the line is of use without the bad value.
func TestFaults(t *testing.T) {
	const head = "field_id,zone_id,date,kind,value,unit,note\n"
	for name, c := range map[string]struct {
		marked, field, kind string
		kept                int
	}{
		"empty":          {"«", "", "no header", 0},
		"missing column": {"«field_id,date\n", "kind", "missing column", 0},
		"column twice":   {"«field_id,field_id,date,kind\n", "field_id", "column twice", 0},
		"no field":       {head + "«,,2027-03-18,cut,,,\n", "field_id", "no field", 0},
		"no date":        {head + "a,,«18.3.2027»,cut,,,\n", "date", "no date", 0},
		"unknown kind":   {head + "a,,2027-03-18,«mown»,,,\n", "kind", "unknown kind", 0},
		"unknown unit":   {head + "a,,2027-03-18,stems,50,«ton_ac»,\n", "unit", "unknown unit", 1},
		"out of range":   {head + "a,,2027-03-18,stems,«-1»,per_ft2,\n", "value", "out of range", 1},
		"no number":      {head + "a,,2027-03-18,stems,«NaN»,per_ft2,\n", "value", "out of range", 1},
		"value unwanted": {head + "a,,2027-03-18,cut,«5»,,\n", "value", "value not wanted", 1},
		"quote":          {head + "a,,2027-03-18,cut,,,«x\"y\"\n", "", "not CSV", 0},
	} {
		line := 1 + strings.Count(c.marked[:strings.Index(c.marked, "«")], "\n")
		got, faults := read(t, strings.NewReplacer("«", "", "»", "").Replace(c.marked))
		kept := faults.Kept()
		if len(kept) != 1 || kept[0].Line != line || kept[0].Field != c.field || kept[0].Kind != c.kind || kept[0].Fix == "" || len(got) != c.kept {
			t.Errorf("%s: %+v and %d records, want %s %q at line %d", name, kept, len(got), c.field, c.kind, line)
		}
	}
}

// Lime is told as it was spread or as what it is worth; 2 short tons an acre are 4.483 t/ha (NIST SP 811: 1 short ton is 907.18474 kg, 1 acre
// 4046.873 m²). An amount that cannot be read is not the same as none.
func TestLimeOfTheRecord(t *testing.T) {
	got, faults := read(t, header+"\na,,2026-04-02,lime,2,ton_ac,\na,,2026-04-02,lime,4.483,t_ha_cce,\na,,2026-04-02,lime,,,\na,,2026-04-02,lime,4000,lb_ac,\na,,2026-04-02,lime,70,ton_ac,\na,,2026-04-02,cut,,,\n")
	if len(got) != 6 || faults.Faults() != 2 {
		t.Fatalf("%v, %d faults", got, faults.Faults())
	}
	for i, want := range []struct{ pure, ok, unread bool }{{false, true, false}, {true, true, false}, {false, false, false}, {false, false, true}, {false, false, true}, {false, false, false}} {
		rate, pure, ok := got[i].Spread()
		if pure != want.pure || ok != want.ok || got[i].Unread != want.unread || ok && math.Abs(rate.TonnesPerHectare()-4.483) > 0.5e-3 {
			t.Errorf("%v: %v, %v, %v, unread %v", got[i], rate, pure, ok, got[i].Unread)
		}
	}
}

// Thresholds as their sources print them, from just below and from just on them; the sources stand in the names.
func TestScouting(t *testing.T) {
	at := func(k Kind, v float64, u string) Record {
		return Record{Kind: k, Value: unit.Some(v), Unit: u}
	}
	for _, c := range []struct {
		name   string
		r      Record
		height float64 // in; 0 not known
		want   int
	}{
		{"weevil, 25 % of tips (Checking for pests of the first cutting; read)", at("weevil_tips", 25, "pct"), 0, 1},
		{"weevil, 24 % of tips", at("weevil_tips", 24, "pct"), 0, 0},
		{"weevil, 2 larvae a tip (read)", at("weevil_larvae", 2, "per_tip"), 0, 1},
		{"leafhopper 0.2 in 3 in (Cullen, Wisconsin; read)", at("leafhopper", 0.2, "per_sweep"), 3, 1},
		{"leafhopper 0.4 in 6 in (read)", at("leafhopper", 0.4, "per_sweep"), 6, 0},
		{"leafhopper 1 in 10 in (read)", at("leafhopper", 1, "per_sweep"), 10, 1},
		{"leafhopper 1.9 in 14 in (read)", at("leafhopper", 1.9, "per_sweep"), 14, 0},
		{"leafhopper 2 in 14 in (read)", at("leafhopper", 2, "per_sweep"), 14, 1},
		{"leafhopper 0.3, height not known: the strictest", at("leafhopper", 0.3, "per_sweep"), 0, 1},
		{"armyworm 2 (Alabama; read), others say 3 and 5", at("armyworm", 2, "per_ft2"), 0, 1},
		{"armyworm 3 (Alabama, Missouri; read)", at("armyworm", 3, "per_ft2"), 0, 2},
		{"armyworm 5 (and Mississippi; read)", at("armyworm", 5, "per_ft2"), 0, 3},
		{"armyworm 22 a square metre are 2.04 a square foot", at("armyworm", 22, "per_m2"), 0, 1},
		{"aphids 50 a stem (Townsend; read)", at("aphid", 50, "per_stem"), 0, 1},
		{"grasshoppers 8 a square yard (Hamilton, Wisconsin; read)", at("grasshopper", 8, "per_yd2"), 0, 1},
		{"one blister beetle (common practice, no source)", at("blister_beetle", 1, "seen"), 0, 1},
		{"crickets have no number", at("cricket", 99, "per_ft2"), 0, 0},
		{"not counted", Record{Kind: "armyworm"}, 0, 0},
	} {
		h := unit.None[unit.Length]()
		if c.height > 0 {
			h = unit.Some(unit.Inches(c.height))
		}
		if got := Scout(c.r, h); len(got) != c.want {
			t.Errorf("%s: %d thresholds, want %d", c.name, len(got), c.want)
		}
	}
	for _, th := range Thresholds() {
		if th.Source == "" || !slices.Contains(suitability.Statuses(), th.Status) || th.From.Has() && !slices.Contains(th.Kind.Units(), th.Unit) || th.Kind.Units() == nil {
			t.Errorf("%+v is not whole", th)
		}
	}
}

// No range of the table is without a kind of record that reaches it.
func TestJudgeTissueCoversEveryRange(t *testing.T) {
	n := 0
	for _, e := range []string{"n", "p", "k", "ca", "mg", "s"} {
		n += len(JudgeTissue(Record{Kind: Kind(tissue + e), Value: unit.Some(1.0), Unit: "pct"}))
	}
	if n != len(nutrient.TissueRanges("")) {
		t.Errorf("%d of %d ranges are reached", n, len(nutrient.TissueRanges("")))
	}
}

// Any text that is read is written as a record that reads back to the same file.
func FuzzRead(f *testing.F) {
	f.Add(record)
	f.Add("field_id,date,kind,value,unit,note\na,2027-01-01,k2o,1e2,lb_ac,\" x\ny\"\n")
	f.Fuzz(func(t *testing.T, text string) {
		var faults, none diag.List
		records, err := Read("x.csv", strings.NewReader(text), &faults)
		if err != nil {
			return
		}
		var first, second bytes.Buffer
		if err := Write(&first, records); err != nil {
			t.Fatal(err)
		}
		again, err := Read("x.csv", bytes.NewReader(first.Bytes()), &none)
		if err != nil || none.Faults() > 0 || len(again) != len(records) {
			t.Fatalf("%d records came back as %d: %v %v", len(records), len(again), err, none.String())
		}
		if err := Write(&second, again); err != nil || !bytes.Equal(first.Bytes(), second.Bytes()) {
			t.Fatalf("another file:\n%s\n%s", first.String(), second.String())
		}
		History(records)
	})
}

// Codes are unique and plain, and units are those that people write.
func TestKindsAreWhole(t *testing.T) {
	seen := map[Kind]bool{}
	for _, k := range Kinds() {
		if seen[k] || strings.ToLower(string(k)) != string(k) {
			t.Errorf("%s stands twice or is not in small letters", k)
		}
		seen[k] = true
	}
	if Kind("mown").Units() != nil || !reflect.DeepEqual(Stems.Units(), []string{"per_ft2", "per_m2"}) {
		t.Error("units")
	}
	if got := fmt.Sprint(Record{Field: "a", Day: sownDay, Kind: Stems, Value: unit.Some(5.0), Unit: "per_ft2"}); got != "a 2026-10-20 stems 5 per_ft2" {
		t.Error(got)
	}
}
