package job

import (
	"context"
	"math"
	"strings"
	"testing"

	"rootworthy/internal/diag"
	"rootworthy/internal/geo/arrange"
	"rootworthy/raster"
	"rootworthy/raster/interp"
	"rootworthy/soils/lab"
	"rootworthy/soils/lime"
	"rootworthy/soils/unit"
	"rootworthy/suitability"
	"rootworthy/suitability/limeplan"
)

// limeSplitRun screens field F6 with bags over it; all ground is limed, so that no lime is lost to a class.
func limeSplitRun(t testing.TB, method string, split *Split, faults *diag.List, change func(*Options), bags ...lab.Sample) (*suitability.Result, error) {
	t.Helper()
	fields, s := tarnHollow(t)
	how := interp.OrdinaryKriging
	m, ok := lime.MethodByName(method)
	if !ok {
		t.Fatalf("no method %s", method)
	}
	if bags == nil {
		bags = gridOfBags(fields[5].Shape, 8)
	}
	opt := Options{Workers: 2, Tests: &Tests{Samples: bags, Method: &m, Surface: &how, Split: split}}
	opt.Lime.Date, opt.Lime.IncludeUnsuited = day, true
	if change != nil {
		change(&opt)
	}
	return Screen(context.Background(), fields[5:6], s, opt, faults)
}

// A field split along the lime requirement keeps its ground and its lime: zones tile it, the requirement of the parts of a
// map unit adds up to that of the whole, the product is its rate times area to the gram, and the rounding to the spreader
// moves the order by half a step at most. The zones differ more in lime than before.
func TestSplitByLimeKeepsTheLime(t *testing.T) {
	var faults, quiet diag.List
	whole, err := limeSplitRun(t, "nc-mehlich", nil, &quiet, nil)
	if err != nil {
		t.Fatal(err)
	}
	r, err := limeSplitRun(t, "nc-mehlich", &Split{Most: 3, Width: 20, By: SplitByLime}, &faults, nil)
	if err != nil {
		t.Fatal(err)
	}
	if !strings.Contains(faults.String(), "split by the lime requirement (nc-mehlich, to pH 6.5) into 3 zones") ||
		!strings.Contains(faults.String(), "short tons/ac; ordinary kriging through") {
		t.Errorf("not told:\n%s", faults.String())
	}
	type sums struct {
		area unit.Area
		need unit.Mass
		n    int
	}
	byUnit := func(r *suitability.Result) map[string]sums {
		out := map[string]sums{}
		for i := range r.Zones {
			z := &r.Zones[i]
			x := out[z.FieldID+" "+z.MapUnitKey]
			x.area, x.need, x.n = x.area+z.Area, x.need+z.Lime.Likely.Or(0).Over(z.Area), x.n+1
			out[z.FieldID+" "+z.MapUnitKey] = x
			if !strings.HasPrefix(z.Lime.Basis, limeplan.BasisTest) {
				t.Errorf("%s: lime by %q", z.ID, z.Lime.Basis)
			}
		}
		return out
	}
	before, after := byUnit(whole), byUnit(r)
	if len(before) != len(after) {
		t.Errorf("%d map units of fields, after the split %d", len(before), len(after))
	}
	for key, a := range before {
		b := after[key]
		// corners are rounded to a centimetre between the cut and the reading of the surface, hence 1e-4 of the lime
		if math.Abs(float64(b.area-a.area)) > 1e-6*float64(a.area) || math.Abs(float64(b.need-a.need)) > 1e-4*float64(a.need) {
			t.Errorf("%s: %v m² with %v kg of lime; split %v m² with %v kg", key, a.area, a.need, b.area, b.need)
		}
		if b.n <= a.n {
			t.Errorf("%s: %d zones, split %d", key, a.n, b.n)
		}
	}
	step := unit.ShortTonsPerAcre(r.Profile.Lime.Step.Value)
	apart := func(r *suitability.Result) (least, most unit.AreaRate) {
		least = unit.AreaRate(math.Inf(1))
		for i := range r.Zones {
			z := &r.Zones[i]
			likely, product := z.Lime.Likely.Or(-1), z.Lime.Product.Or(-1)
			least, most = min(least, likely), max(most, likely)
			if mass := z.Lime.ProductMass.Or(-1); math.Abs(float64(mass-product.Over(z.Area))) > 1e-3 {
				t.Errorf("%s: %v kg is not %v kg/m² over %v m²", z.ID, mass, product, z.Area)
			}
			if off := math.Abs(float64(product - likely)); off > float64(step)/2*(1+1e-9) && product != step {
				t.Errorf("%s: %v is spread for %v", z.ID, product, likely) // a method whose lime is as sold
			}
		}
		return least, most
	}
	a, b := apart(whole)
	c, d := apart(r)
	if !(d-c > b-a) {
		t.Errorf("lime from %v to %v before the split, from %v to %v after", a, b, c, d)
	}
	tiles(t, r, "F6")
}

// tiles says that the zones of a field are valid and do not overlap.
func tiles(t *testing.T, r *suitability.Result, field string) {
	t.Helper()
	var zones [][]arrange.Polygon
	for i := range r.Zones {
		if z := &r.Zones[i]; z.FieldID == field {
			parts, ok := arrange.FromOrb(z.Shape, writeStep)
			if !ok || arrange.CheckAll(parts) != (arrange.Finding{}) {
				t.Errorf("%s is not valid", z.ID)
			}
			zones = append(zones, parts)
		}
	}
	for i := range zones {
		for j := range i {
			if over := arrange.Intersection(zones[i], zones[j]); len(over) > 0 {
				t.Errorf("zones %d and %d overlap", i, j)
			}
		}
	}
}

// pH and requirement are two surfaces: where a buffer falls against the pH, the splits differ, and only the one along
// the requirement parts the lime.
func TestSplitByLimeIsNotByPH(t *testing.T) {
	fields, _ := tarnHollow(t)
	bags := gridOfBags(fields[5].Shape, 8)
	b := fields[5].Shape.Bound()
	for i := range bags { // one pH everywhere but for a ripple from west to east; acidity falls from south to north
		p := bags[i].Place.Point.Or(b.Min)
		y := (p[1] - b.Min[1]) / (b.Max[1] - b.Min[1])
		x := (p[0] - b.Min[0]) / (b.Max[0] - b.Min[0])
		bags[i].PH = unit.Some(unit.PH(5.7 + 0.05*x))
		bags[i].Buffer.Mehlich = unit.Some(unit.PHMehlich(5.9 + 0.6*y))
	}
	// how much of the lime's variance lies between zones, (kg/m²)² by area
	between := func(by SplitBy) float64 {
		quick := interp.InverseDistance
		r, err := limeSplitRun(t, "nc-mehlich", &Split{Most: 3, Width: 20, By: by}, &diag.List{}, func(o *Options) { o.Tests.Surface = &quick }, bags...)
		if err != nil {
			t.Fatal(err)
		}
		var area, sum, squares float64
		for i := range r.Zones {
			if z := &r.Zones[i]; z.FieldID == "F6" {
				a, l := float64(z.Area), float64(z.Lime.Likely.Or(0))
				area, sum, squares = area+a, sum+a*l, squares+a*l*l
			}
		}
		return squares/area - sum/area*sum/area
	}
	if ph, need := between(SplitByPH), between(SplitByLime); need < 1.5*ph {
		t.Errorf("a variance of lime between zones of %v where split by pH, of %v where split by lime", ph, need)
	}
}

// Where too few samples have a figure the field stays whole, and one sentence says why.
func TestSplitByLimeRefused(t *testing.T) {
	fields, _ := tarnHollow(t)
	few := gridOfBags(fields[5].Shape, 8)
	for i := range few {
		if i%3 > 0 { // two of three without a buffer
			few[i].Buffer.Mehlich = unit.None[unit.PHMehlich]()
		}
	}
	none := gridOfBags(fields[5].Shape, 8)
	for i := range none {
		none[i].PH = unit.Some(unit.PH(6.8)) // at the target: nothing to spread anywhere
	}
	whole, err := limeSplitRun(t, "nc-mehlich", nil, &diag.List{}, func(o *Options) { o.Tests.Surface = nil })
	if err != nil {
		t.Fatal(err)
	}
	for name, c := range map[string]struct {
		method string
		split  Split
		change func(*Options)
		bags   []lab.Sample
		want   string
	}{
		"two of three without a buffer": {"nc-mehlich", Split{Most: 3, Width: 20}, nil, few, "sampled spots only ("},
		"nothing that the method needs": {"georgia-lbc", Split{Most: 3, Width: 20}, nil, nil, "it can be worked out at 0 of"},
		"nine points":                   {"nc-mehlich", Split{Most: 3, Width: 20}, nil, gridOfBags(fields[5].Shape, 3), interp.FewPoints},
		"nothing asked for":             {"nc-mehlich", Split{Most: 3, Width: 20}, nil, none, interp.AllEqual},
		"a spreader set by the ton": {"nc-mehlich", Split{Most: 3, Width: 20}, func(o *Options) { o.Lime.Step = unit.ShortTonsPerAcre(2) }, nil,
			notApart},
	} {
		var faults diag.List
		c.split.By = SplitByLime
		r, err := limeSplitRun(t, c.method, &c.split, &faults, c.change, c.bags...)
		if err != nil {
			t.Fatal(name, err)
		}
		if len(r.Zones) != len(whole.Zones) {
			t.Errorf("%s: %d zones, without a split %d", name, len(r.Zones), len(whole.Zones))
		}
		said := 0
		for _, f := range faults.Kept() {
			if strings.HasPrefix(f.What, "not split by the lime requirement (") && strings.Contains(f.What, c.want) && f.Field == "lime" {
				said++
			}
		}
		if said != 1 {
			t.Errorf("%s: told %d times:\n%s", name, said, faults.String())
		}
	}
}

// A split by lime needs a method, and one without coordinates anywhere is told once and splits nothing.
func TestSplitByLimeNeeds(t *testing.T) {
	_, err := limeSplitRun(t, "nc-mehlich", &Split{Most: 3, By: SplitByLime}, &diag.List{}, func(o *Options) { o.Tests.Method = nil })
	if err == nil || !strings.Contains(err.Error(), "needs a lime method") {
		t.Error(err)
	}
	var faults diag.List
	if _, err := limeSplitRun(t, "nc-mehlich", &Split{Most: 3, By: SplitByLime}, &faults, nil, sample("whole", lab.Place{Field: "F6"}, 0, 15, 5.5, 6.1)); err != nil ||
		strings.Count(faults.String(), "no zone is split, because no sample has coordinates") != 1 {
		t.Errorf("%v\n%s", err, faults.String())
	}
}

// A step of the spreader is one of the product; the surface is in the method's lime. Half as strong a product is spread
// twice as thick, so its step is half of the figure.
func TestStepOfTheFigure(t *testing.T) {
	pure := limeplan.Answer{Need: lime.Requirement{Rate: lime.Of(0.4, lime.Carbonate)}}
	sold := limeplan.Answer{Need: lime.Requirement{Rate: lime.Of(0.4, lime.AsSold)}}
	for name, c := range map[string]struct {
		a       limeplan.Answer
		product lime.Product
		want    float64
	}{
		"pure":            {pure, lime.Product{}, 0.06},
		"half as strong":  {pure, lime.Product{ECCE: 50}, 0.03},
		"and a fifth wet": {pure, lime.Product{ECCE: 50, Moisture: 20}, 0.024},
		"as sold":         {sold, lime.Product{ECCE: 50, Moisture: 20}, 0.06},
		"none":            {limeplan.Answer{}, lime.Product{}, 0},
		"refused":         {limeplan.Answer{Refusal: &lime.Refusal{}}, lime.Product{}, 0},
	} {
		var p perSpread
		p.add(c.a, c.product)
		if got := p.figure(0.06); math.Abs(got-c.want) > 1e-12 {
			t.Errorf("%s: %v, want %v", name, got, c.want)
		}
	}
}

// What kriging swings below zero is no lime; what is missing stays missing.
func TestNoNegative(t *testing.T) {
	g, err := raster.New[float64](raster.Frame{Cols: 3, Rows: 1, DX: 1, DY: 1, North: 1})
	if err != nil {
		t.Fatal(err)
	}
	g.Set(0, 0, -0.1)
	g.Set(1, 0, 0.2)
	noNegative(g)
	a, _ := g.At(0, 0)
	b, _ := g.At(1, 0)
	if _, ok := g.At(2, 0); a != 0 || b != 0.2 || ok {
		t.Errorf("%v, %v, and a missing cell that has a value: %v", a, b, ok)
	}
}
