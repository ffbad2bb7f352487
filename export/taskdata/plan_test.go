package taskdata_test

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"math"
	"strings"
	"testing"

	"github.com/paulmach/orb"

	"rootworthy/export/taskdata"
	"rootworthy/internal/diag"
	"rootworthy/soils/unit"
	"rootworthy/suitability"
)

// readBack reads a plan's files and returns what each task would do.
func readBack(t *testing.T, p *taskdata.Plan) []taskdata.Effect {
	t.Helper()
	var faults diag.List
	f, err := taskdata.Read("made", written(t, p), &faults)
	if err != nil {
		t.Fatal(err)
	}
	effects, err := f.Effects(&faults)
	if err != nil {
		t.Fatal(err)
	}
	if s := faults.String(); s != "" {
		t.Errorf("our own file has faults:\n%s", s)
	}
	return effects
}

// massOf adds up what all tasks put on.
func massOf(effects []taskdata.Effect) (sum unit.Mass) {
	for _, e := range effects {
		sum += e.Mass
	}
	return sum
}

// near fails where got is off by more than a share of want, and for what is no number.
func near(t *testing.T, what string, got, want, share float64) {
	t.Helper()
	if !(math.Abs(got-want) <= share*math.Abs(want)) {
		t.Errorf("%s = %.6g, want %.6g within %g", what, got, want, share)
	}
}

// TestLimeIsConserved: from the run through the plan to the file read back, in every form.
func TestLimeIsConserved(t *testing.T) {
	r := twoZones()
	want := float64(r.Zones[0].Lime.ProductMass.Or(0) + r.Zones[1].Lime.ProductMass.Or(0))
	for _, form := range []taskdata.Form{taskdata.Grid2, taskdata.Grid1, taskdata.Polygons} {
		for _, version := range []int{3, 4} {
			p := plan(t, r, taskdata.Options{Form: form, Version: version})
			near(t, "planned", float64(p.Planned()), want, 1e-12)
			near(t, "set", float64(p.Set()), want, 1e-5) // whole mg/m²
			near(t, "spread", float64(p.Spread()), want, 1e-3)
			near(t, "read back", float64(massOf(readBack(t, p))), float64(p.Spread()), 1e-6)
		}
	}
}

// A rate from the survey must not go on the ground by mistake. Only the zone with lime is refused: no lime does no harm. A reason of blanks
// is none. With a reason, every file says so, in the names within the XML too; what would end a comment of XML or begin a tag is in the
// reason on purpose.
func TestUntestedRatesAreRefused(t *testing.T) {
	var m made
	m.field("A", "North Field", rect(0, 0, 300, 200))
	m.zone(2, "survey screening", rect(0, 0, 140, 200))
	m.zone(0, "survey screening", rect(140, 0, 300, 200))
	for _, reason := range []string{"", " \n "} {
		_, err := taskdata.NewPlan(context.Background(), &m.r, taskdata.Options{UntestedReason: reason})
		var untested *taskdata.UntestedError
		if !errors.As(err, &untested) || len(untested.Zones) != 1 || untested.Zones[0] != "A/1" {
			t.Fatalf("reason %q: NewPlan = %v, want it to refuse A/1 alone", reason, err)
		}
		for _, word := range []string{"soil survey and not from a lime test", "the rate of zone A/1", "Sample it", "--untested-ok"} {
			if !strings.Contains(err.Error(), word) {
				t.Errorf("the sentence lacks %q: %v", word, err)
			}
		}
	}
	p := plan(t, &m.r, taskdata.Options{UntestedReason: "trial -- <strip>"})
	for name, f := range written(t, p) {
		if strings.HasSuffix(name, ".bin") {
			continue
		}
		if !bytes.Contains(f.Data, []byte("UNTESTED")) || !bytes.Contains(f.Data, []byte("trial")) {
			t.Errorf("%s does not say that its rates are untested, and why", name)
		}
	}
	xml := string(written(t, p)["TASKDATA/TASKDATA.XML"].Data)
	for _, stamp := range []string{`B="UNTESTED North Field"`, `B="UNTESTED Ground limestone"`, `B="UNTESTED Grid"`} {
		if !strings.Contains(xml, stamp) {
			t.Errorf("the file lacks %s", stamp)
		}
	}
	if tested := plan(t, twoZones(), taskdata.Options{UntestedReason: "not needed"}); tested.Untested() || tested.UntestedText() != "" {
		t.Error("tested rates were stamped as untested")
	}
}

// A rate over the cap goes on in passes, each at the cap but for the last, which takes what is left.
func TestPassesAddUpToTheProduct(t *testing.T) {
	r := twoZones()
	z := &r.Zones[0]
	z.Lime.Product, z.Lime.Passes = unit.Some(unit.ShortTonsPerAcre(6.2)), 3
	r.Provenance.Options = []suitability.Option{{Name: "lime-cap", Value: "2.5"}}
	// 6.2 at 2.5 makes 2.5 + 2.5 + 1.2: check value cap-03 of the project's agronomy sheet, computed.
	var sum unit.Mass
	for pass, want := range []float64{2.5, 2.5, 1.2} {
		p := plan(t, r, taskdata.Options{Pass: pass + 1})
		near(t, "highest rate", readBack(t, p)[0].Most.ShortTonsPerAcre(), want, 1e-5)
		sum += p.Planned()
	}
	all := plan(t, r, taskdata.Options{Pass: taskdata.AllPasses})
	near(t, "sum of the passes", float64(sum), float64(all.Planned()), 1e-12)
	near(t, "all at once", readBack(t, all)[0].Most.ShortTonsPerAcre(), 6.2, 1e-5)
	if _, err := taskdata.NewPlan(context.Background(), r, taskdata.Options{Pass: 4}); err == nil || !strings.Contains(err.Error(), "in pass 4") {
		t.Errorf("pass 4 of 3: %v", err)
	}
}

// What is below the least setting is raised to it, what lies between two settings goes to the nearer, what is over the highest is held
// there and told, and no lime stays none.
func TestSpreaderLimits(t *testing.T) {
	var m made
	m.field("A", "North Field", rect(0, 0, 400, 200))
	for i, st := range []float64{0, 0.3, 1.6, 7} {
		m.zone(st, tested, rect(float64(100*i), 0, float64(100*i+100), 200))
	}
	p := plan(t, &m.r, taskdata.Options{Form: taskdata.Grid1, Machine: taskdata.Machine{Least: unit.ShortTonsPerAcre(0.5), Most: unit.ShortTonsPerAcre(5), Step: unit.ShortTonsPerAcre(0.5)}})
	xml := string(written(t, p)["TASKDATA/TASKDATA.XML"].Data)
	for code, name := range []string{"No lime", "0.50 st/ac", "1.50 st/ac", "5.00 st/ac"} {
		if !strings.Contains(xml, `<TZN A="`+string(rune('0'+code))+`" B="`+name+`">`) {
			t.Errorf("zone %d is not %q:\n%s", code, name, xml)
		}
	}
	if notes := strings.Join(p.Notes, "\n"); !strings.Contains(notes, "zone A/4 asks for more than the spreader can put on") {
		t.Errorf("nothing is said of what is left over:\n%s", notes)
	}
}

// TestSmallGroundJoinsItsNeighbour: by least harm, lime conserved, never onto water.
func TestSmallGroundJoinsItsNeighbour(t *testing.T) {
	var m made
	m.field("A", "North Field", rect(0, 0, 300, 200))
	m.zone(2, tested, rect(0, 0, 100, 200))
	m.zone(1, tested, orb.Polygon{ring(110, 0, 200, 0, 200, 200, 110, 200, 110, 20, 110, 0)})
	m.zone(1.2, tested, rect(100, 20, 110, 200)) // a strip, nearer to 1 than to 2
	m.zone(1.5, tested, rect(100, 0, 110, 20))   // a corner that touches 2, 1 and the strip
	m.zone(-1, tested, rect(200, 0, 300, 195))   // water
	m.zone(1.1, tested, rect(200, 195, 300, 200))
	p := plan(t, &m.r, taskdata.Options{Form: taskdata.Polygons, Machine: taskdata.Machine{Smallest: unit.Acres(0.6)}})
	near(t, "lime", float64(p.Set()), float64(p.Planned()), 1e-5)
	if notes := strings.Join(p.Notes, "\n"); !strings.Contains(notes, "2 pieces of ground smaller than 0.6 acres share") {
		t.Errorf("notes: %s", notes)
	}
	e := readBack(t, p)[0]
	if e.Treated > areaOf(orb.MultiPolygon{rect(0, 0, 200, 200), rect(200, 195, 300, 200)})*(1+1e-6) {
		t.Errorf("lime goes on %.0f m², which takes in the water", float64(e.Treated))
	}
	near(t, "highest rate", e.Most.ShortTonsPerAcre(), 2, 1e-5)
}

// A headland at the mean of its ground moves lime but neither adds nor loses any; one that gets none leaves its lime to be spread apart,
// and the notes say how much that is.
func TestHeadlandKeepsTheLime(t *testing.T) {
	r := twoZones()
	plain := plan(t, r, taskdata.Options{})
	mean := plan(t, r, taskdata.Options{Machine: taskdata.Machine{Headland: 24}})
	none := plan(t, r, taskdata.Options{Machine: taskdata.Machine{Headland: 24, Edge: taskdata.HeadlandNone}})
	near(t, "lime with a headland", float64(mean.Spread()), float64(plain.Spread()), 1e-5)
	// Steps are 0.94 m east and 1.11 m north, so the field is 280 × 222 m and its inside 232 × 174 m.
	e, w := readBack(t, none)[0], readBack(t, plain)[0]
	near(t, "ground inside the headland", float64(e.Treated/w.Treated), 232.0*174/(280*222), 0.03)
	if left := fmt.Sprintf("%.2f short tons must go on it", (plain.Spread() - none.Spread()).ShortTons()); !strings.Contains(strings.Join(none.Notes, " "), left) {
		t.Errorf("the headland that gets none is not told: %q; want %q", none.Notes, left)
	}
	if got := len(rates(t, mean)); got != 3 {
		t.Errorf("%d rates, want the two zones' and the headland's", got)
	}
}

// rates returns the rates above zero of the first grid.
func rates(t *testing.T, p *taskdata.Plan) map[int32]int {
	t.Helper()
	var faults diag.List
	f, err := taskdata.Read("made", written(t, p), &faults)
	if err != nil {
		t.Fatal(err)
	}
	out := map[int32]int{}
	err = f.Tasks[0].Grid.Each(func(_ int, values []int32) error {
		for _, v := range values {
			if v > 0 {
				out[v]++
			}
		}
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	return out
}

// TestManyRatesFitIntoCodes: 600 rates go into 252 codes, lime conserved.
func TestManyRatesFitIntoCodes(t *testing.T) {
	var m made
	m.field("A", "North Field", rect(0, 0, 600, 100))
	for i := range 600 {
		m.zone(1+float64(i)/200, tested, rect(float64(i), 0, float64(i+1), 100))
	}
	for _, form := range []taskdata.Form{taskdata.Grid1, taskdata.Polygons} {
		p := plan(t, &m.r, taskdata.Options{Form: form})
		near(t, "lime", float64(p.Set()), float64(p.Planned()), 1e-5)
		near(t, "read back", float64(massOf(readBack(t, p))), float64(p.Planned()), 0.01)
	}
}

// TestSameBytes: with 1 and 8 workers, and a second time.
func TestSameBytes(t *testing.T) {
	r := farm(t, 12)
	for _, o := range []taskdata.Options{{}, {PerFarm: true, Machine: taskdata.Machine{Smallest: 500, Headland: 15}}, {Form: taskdata.Polygons, Version: 4}} {
		o.Workers = 1
		first := written(t, plan(t, r, o))
		for _, workers := range []int{1, 8} {
			o.Workers = workers
			again := written(t, plan(t, r, o))
			for name, f := range first {
				if !bytes.Equal(f.Data, again[name].Data) {
					t.Errorf("%+v: %s differs", o, name)
				}
			}
		}
	}
}

// farm makes fields of a few zones each.
func farm(t testing.TB, fields int) *suitability.Result {
	t.Helper()
	var m made
	for i := range fields {
		x := float64(i * 400)
		m.field("F"+string(rune('A'+i%26))+strings.Repeat("x", i/26), "Field", rect(x, 0, x+300, 200))
		m.zone(float64(i%4)+0.5, tested, rect(x, 0, x+140, 200))
		m.zone(float64(i%3), tested, rect(x+140, 0, x+300, 190))
		m.zone(1.3, tested, rect(x+140, 190, x+300, 200))
	}
	return &m.r
}
