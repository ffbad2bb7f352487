package ranking

import (
	"math"
	"testing"
	"time"

	"rootworthy/soils/unit"
	"rootworthy/suitability"
	"rootworthy/suitability/limeplan"
	"rootworthy/suitability/season"
	"rootworthy/suitability/uncertainty"
)

// ac is a made zone: its class once limed and today, its lime in tons an acre (negative: no figure), months of waiting, passes.
type ac struct {
	acres          float64
	class, today   suitability.Class
	lime           float64
	months, passes int
	chance         float64 // of being suited
}

// madeRun makes one field of zones, with the study of it.
func madeRun(uncovered float64, zones ...ac) (*suitability.Result, *uncertainty.Study) {
	r := &suitability.Result{Profile: suitability.DefaultProfile(), Fields: []suitability.Field{{ID: "F", Area: unit.Acres(uncovered), Uncovered: unit.Acres(uncovered)}}}
	s := &uncertainty.Study{}
	suited := 0.0
	for i, a := range zones {
		z := suitability.Zone{ID: "F", FieldID: "F", Number: i + 1, Area: unit.Acres(a.acres)}
		z.Rating.Class, z.Rating.ClassToday, z.Rating.Confidence.Level = a.class, a.today, suitability.Medium
		z.Lime.Basis, z.Lime.WaitMonths, z.Lime.Passes = limeplan.BasisSurvey, a.months, a.passes
		if a.lime >= 0 {
			l := unit.ShortTonsPerAcre(a.lime)
			z.Lime.Low, z.Lime.Likely, z.Lime.High = unit.Some(l/2), unit.Some(l), unit.Some(2*l)
		}
		r.Fields[0].Zones, r.Fields[0].Area = append(r.Fields[0].Zones, i), r.Fields[0].Area+z.Area
		r.Zones = append(r.Zones, z)
		s.Zones = append(s.Zones, uncertainty.Zone{Area: z.Area, Class: uncertainty.Chances{suitability.Suited: a.chance, suitability.Unsuited: 1 - a.chance}, Error: 0.02})
		if a.class == suitability.Suited {
			suited += a.acres
		}
	}
	s.Fields = []uncertainty.Field{{ID: "F", Error: 0.01, Enough: unit.Some(0.7),
		Suited: uncertainty.Interval{Low: float64(unit.Acres(suited / 2)), High: float64(unit.Acres(suited))}}}
	return r, s
}

// near compares the three figures of a known measure.
func near(t *testing.T, what string, m Measure, low, likely, high float64) {
	t.Helper()
	for _, x := range [][2]float64{{m.Low, low}, {m.Likely, likely}, {m.High, high}} {
		if m.State != Known || math.Abs(x[0]-x[1]) > 1e-9*math.Max(1, math.Abs(x[1])) {
			t.Errorf("%s: %+v, want %v (%v to %v)", what, m, likely, low, high)
			return
		}
	}
}

// A field worked out by hand: 30 acres suited once limed with 2 tons, 10 acres suited as they are, 20 acres unsuited, 5 outside.
func TestGatherByHand(t *testing.T) {
	r, s := madeRun(5,
		ac{30, suitability.Suited, suitability.Unsuited, 2, 12, 1, 0.8},
		ac{10, suitability.Suited, suitability.Suited, 0, 0, 0, 1},
		ac{20, suitability.Unsuited, suitability.Unsuited, -1, 0, 0, 0.1})
	r.Zones[2].Rating.Limiting, r.Zones[0].Rating.HingesOn = suitability.Drainage, []suitability.Code{suitability.SubsoilPH}
	r.Zones[0].Rating.Confidence.Level = suitability.Low
	f := Gather("run", r, s, GatherOptions{})[0]
	acre, ton := float64(unit.Acre), float64(unit.ShortTonsPerAcre(1))
	near(t, "suited", f.Measures[Suited], 20*acre, 40*acre, 40*acre)
	near(t, "lime of a suited acre", f.Measures[Cost], 0.75*ton, 1.5*ton, 3*ton)
	near(t, "wait", f.Measures[Ready], 0, 12*daysOfMonth, 12*daysOfMonth) // half of 40 acres is reached with the limed ones
	near(t, "chance of enough", f.Measures[Sure], 0.69, 0.7, 0.71)
	near(t, "risk", f.Measures[Risk], 0.13, 0.15, 0.17) // 30 acres at 0.2 of 40
	x := f.Facts
	if x.SuitedToday != unit.Acres(10) || x.Enough != unit.Acres(20) || math.Abs(x.Unknown-5.0/65) > 1e-12 || x.Hinges != 0.5 || x.LowConfidence != 0.5 ||
		len(x.Limits) != 1 || x.Limits[0] != suitability.Drainage || len(x.HingesOn) != 1 {
		t.Errorf("facts %+v", x)
	}
}

// Missing and hopeless are two things: no figure for the ground, or no ground.
func TestGatherWhatIsMissing(t *testing.T) {
	r, s := madeRun(0, ac{30, suitability.Suited, suitability.Unsuited, -1, 0, 0, 0.8}, ac{10, suitability.Suited, suitability.Suited, 0, 0, 0, 1})
	f := Gather("run", r, s, GatherOptions{})[0]
	if f.Measures[Cost].State != Missing || f.Measures[Ready].State != Missing || f.Facts.Lime.Or(Lime{}).Figured != unit.Acres(10) {
		t.Errorf("three quarters have no lime figure: %+v, %+v", f.Measures, f.Facts.Lime)
	}
	r, s = madeRun(0, ac{30, suitability.Unsuited, suitability.Unsuited, -1, 0, 0, 0})
	f = Gather("run", r, s, GatherOptions{})[0]
	if f.Measures[Cost].State != Hopeless || f.Measures[Ready].State != Hopeless || f.Measures[Risk].State != Hopeless || f.Measures[Suited].State != Known {
		t.Errorf("nothing is suited: %+v", f.Measures)
	}
	s.Fields[0].Enough = unit.None[float64]()
	if f = Gather("run", r, s, GatherOptions{})[0]; f.Measures[Sure].State != Missing {
		t.Errorf("nobody asked for the chance of enough: %+v", f.Measures[Sure])
	}
	r, s = madeRun(50)
	if f = Gather("run", r, s, GatherOptions{})[0]; f.answered() || f.Facts.Trouble != "outside the survey" {
		t.Errorf("no zones: %+v", f)
	}
}

// Counted to a sowing window: the first autumn for ground that needs no lime, the next after a year's wait.
func TestGatherToAWindow(t *testing.T) {
	r, s := madeRun(0, ac{30, suitability.Suited, suitability.Unsuited, 2, 12, 1, 0.8}, ac{10, suitability.Suited, suitability.Suited, 0, 0, 0, 1})
	window, err := season.Region(r.Profile, "coastal plain")
	if err != nil {
		t.Fatal(err)
	}
	day := time.Date(2026, 3, 1, 0, 0, 0, 0, time.UTC)
	f := Gather("run", r, s, GatherOptions{Start: ByWindow, Day: day, Window: window})[0]
	near(t, "days", f.Measures[Ready], 228, 593, 593) // October 15, 2026 and 2027
	if season.Day(f.Facts.Sow.First) != "2027-10-15" || f.Facts.Next.Code != season.Sample || f.Facts.Next.Due.IsZero() {
		t.Errorf("sow %s, next %+v", f.Facts.Sow, f.Facts.Next)
	}
}

// Prices take the place of lime.
func TestGatherMoney(t *testing.T) {
	r, s := madeRun(0, ac{30, suitability.Suited, suitability.Suited, 0, 0, 0, 1})
	f := Gather("run", r, s, GatherOptions{Money: []Money{{Cost: Between(1, 2, 3), Value: Between(-1, 0, 1)}}})[0]
	near(t, "cost", f.Measures[Cost], 1, 2, 3)
	near(t, "value", f.Facts.Value, -1, 0, 1)
}

// Half of the suited ground is enough to tell its lime and its day; less is not.
func TestGatherByHalf(t *testing.T) {
	for figured, want := range map[float64]State{20: Known, 19.9: Missing} {
		r, s := madeRun(0, ac{40 - figured, suitability.Suited, suitability.Unsuited, -1, 0, 0, 1}, ac{figured, suitability.Suited, suitability.Unsuited, 2, 12, 1, 1})
		f := Gather("run", r, s, GatherOptions{})[0]
		if f.Measures[Cost].State != want || f.Measures[Ready].State != want {
			t.Errorf("%v of 40 acres have a figure: cost %+v, ready %+v", figured, f.Measures[Cost], f.Measures[Ready])
		}
	}
	r, s := madeRun(0, ac{21, suitability.Suited, suitability.Suited, 0, 0, 0, 1}, ac{19, suitability.Suited, suitability.Unsuited, 2, 12, 1, 1})
	near(t, "days of the larger part", Gather("run", r, s, GatherOptions{})[0].Measures[Ready], 0, 0, 12*daysOfMonth)
}
