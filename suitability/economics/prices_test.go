package economics_test

import (
	"bytes"
	"math"
	"os"
	"strings"
	"testing"

	"rootworthy/internal/diag"
	"rootworthy/suitability/economics"
)

const head = "date = 2026-11-25\nplace = \"here\"\ncurrency = \"USD\"\n"

// one is an item that has everything, but for what is put in the place of its lines.
func one(lines string) string { return head + "[hay]\n" + lines }

const rest = "unit = \"per short ton\"\nsource = \"me\"\nyear = 2026\n"

// Each « » marks the line that the fault must name.
func TestBadPricesNameTheirLine(t *testing.T) {
	for name, c := range map[string]struct{ text, field, kind string }{
		"no source":            {head + "«[hay]»\nvalue = 150\nunit = \"per short ton\"\nyear = 2026\n", "hay.source", "missing source"},
		"no year":              {head + "«[hay]»\nvalue = 150\nunit = \"per short ton\"\nsource = \"me\"\n", "hay.year", "missing year"},
		"no unit":              {head + "«[hay]»\nvalue = 150\nsource = \"me\"\nyear = 2026\n", "hay.unit", "missing unit"},
		"no figure":            {head + "«[hay]»\n" + rest, "hay", "no figure"},
		"empty source":         {one("value = 150\nunit = \"per short ton\"\n«source = \" \"»\nyear = 2026\n"), "hay.source", "no text"},
		"wrong unit":           {one("value = 150\n«unit = \"per bale\"»\nsource = \"me\"\nyear = 2026\n"), "hay.unit", "unit"},
		"unit of another item": {one("value = 150\n«unit = \"per acre\"»\nsource = \"me\"\nyear = 2026\n"), "hay.unit", "unit"},
		"letters":              {one("«value = \"dear\"»\n" + rest), "hay.value", "no number"},
		"negative":             {one("«value = -3»\n" + rest), "hay.value", "range"},
		"no finite number":     {one("«value = inf»\n" + rest), "hay.value", "range"},
		"not a number":         {one("«value = nan»\n" + rest), "hay.value", "range"},
		"beyond every price":   {one("«value = 1e9»\n" + rest), "hay.value", "range"},
		"two figures":          {one("«value = 3»\nlow = 1\nlikely = 2\nhigh = 3\n" + rest), "hay.value", "two figures"},
		"half a range":         {one("«low = 3»\nhigh = 4\n" + rest), "hay.low", "half a range"},
		"order":                {one("low = 3\n«likely = 2»\nhigh = 4\n" + rest), "hay.likely", "order"},
		"year to come":         {one("value = 3\nunit = \"per short ton\"\nsource = \"me\"\n«year = 2027»\n"), "hay.year", "year to come"},
		"no year of ours":      {one("value = 3\nunit = \"per short ton\"\nsource = \"me\"\n«year = 26»\n"), "hay.year", "year"},
		"unknown key of item":  {one("«valeu = 3»\nvalue = 3\n" + rest), "hay.valeu", "unknown key"},
		"unknown item":         {head + "«[heys]»\nvalue = 3\n" + rest, "heys", "unknown key"},
		"not a table":          {head + "«hay = 150»\n", "hay", "wrong type"},
		"inline, no year":      {head + "«hay = { value = 150, unit = \"per short ton\", source = \"me\" }»\n", "hay.year", "missing year"},
		"quality twice":        {head + "[quality]\nvalue = 3\n" + rest + "«[rfq_point]»\nvalue = 1\nunit = \"per point and short ton\"\nsource = \"me\"\nyear = 2026\n", "rfq_point", "given twice"},
		"sod twice":            {head + sod("sod_before_nitrogen", "") + sod("«sod_after_nitrogen", "»"), "sod_after_nitrogen", "given twice"},
		"product, no source":   {head + "«[product.\"0-0-60\"]»\nvalue = 3\nunit = \"per short ton\"\nyear = 2026\n", "product.0-0-60.source", "missing source"},
		"no nutrient":          {head + "«[nutrient.n]»\nvalue = 3\nunit = \"per lb\"\nsource = \"me\"\nyear = 2026\n", "nutrient.n", "nutrient"},
		"products, no tables":  {head + "«product = 3»\n", "product", "wrong type"},
		"bad date":             {"«date = \"25 Nov\"»\nplace = \"here\"\ncurrency = \"USD\"\n", "date", "date"},
		"no TOML":              {head + "«[hay\n»", "", "not TOML"},
	} {
		before, _, ok := strings.Cut(c.text, "«")
		if !ok {
			t.Fatalf("%s: no mark", name)
		}
		want := 1 + strings.Count(before, "\n")
		text := strings.NewReplacer("«", "", "»", "").Replace(c.text)
		var faults diag.List
		p, err := economics.ReadPrices("p.toml", strings.NewReader(text), &faults)
		if err != nil || p != nil {
			t.Errorf("%s: prices %v, error %v; want a fault", name, p, err)
		}
		found := false
		for _, f := range faults.Kept() {
			found = found || f.Line == want && f.Field == c.field && f.Kind == c.kind && f.Fix != ""
		}
		if !found {
			t.Errorf("%s: no %q at line %d, field %q, in:\n%s", name, c.kind, want, c.field, &faults)
		}
	}
}

// sod is a table of what the sod earns; mark stands behind its name, where the fault is looked for.
func sod(name, mark string) string {
	return "[" + name + "]" + mark + "\nvalue = 100\nunit = \"per acre and year\"\nsource = \"me\"\nyear = 2026\n"
}

// What is missing at the top is told too, and all faults at once; the nearest key is named.
func TestAllFaultsAtOnce(t *testing.T) {
	var faults diag.List
	_, err := economics.ReadPrices("p.toml", strings.NewReader("curency = \"USD\"\n[lime]\nvalue = 3\n[dril]\n"), &faults)
	if err != nil {
		t.Fatal(err)
	}
	got := faults.String()
	for _, want := range []string{"date is missing", "place is missing", "currency is missing", "did you mean currency?", "lime.year", "lime.source", "lime.unit", `"dril" means nothing`} {
		if !strings.Contains(got, want) {
			t.Errorf("no %q in:\n%s", want, got)
		}
	}
}

// One price in several units is one price.
func TestUnitsOfPrices(t *testing.T) {
	read := func(value, unit string) float64 {
		t.Helper()
		var faults diag.List
		p, err := economics.ReadPrices("p.toml", strings.NewReader(one("value = "+value+"\nunit = \""+unit+"\"\nsource = \"me\"\nyear = 2026\n")), &faults)
		if err != nil || p == nil {
			t.Fatalf("%v\n%s", err, &faults)
		}
		x, _ := p.Of(economics.Hay)
		return x.Value.Likely
	}
	near(t, "a short ton is 2,000 lb", read("200", "per short ton"), read("0.1", "per lb"), 1e-12)
	near(t, "a tonne is 1,000 kg", read("200", "per tonne"), read("0.2", "per kg"), 1e-12)
	near(t, "a tonne is 1.10231 short tons", read("110.231131", "per tonne"), read("100", "per short ton"), 1e-9)
}

// The file holds no price of the program's own, and what it lacks is not there.
func TestNoPriceOfOurOwn(t *testing.T) {
	var none economics.Prices
	for _, i := range economics.Items() {
		x, ok := none.Of(i)
		if ok && i.Part() != economics.Amount {
			t.Errorf("%s has a price of the program's own: %+v", i, x)
		}
		if ok && x.Source == "" {
			t.Errorf("%s has no source", i)
		}
	}
}

// Every item goes through its name and has units; the need of lime comes from no file.
func TestItems(t *testing.T) {
	for _, i := range economics.Items() {
		if back, ok := economics.ItemByCode(i.String()); !ok || back != i {
			t.Errorf("%s reads back as %v, %v", i, back, ok)
		}
		if len(i.Units()) == 0 {
			t.Errorf("%s has no unit", i)
		}
		for _, u := range i.Units() {
			if !(u.Scale > 0) || u.Name == "" {
				t.Errorf("%s: unit %+v", i, u)
			}
		}
	}
	if _, ok := economics.ItemByCode(economics.LimeNeed.String()); ok {
		t.Error("the need of lime comes from the plan, not from a file")
	}
}

// Any text is refused with faults, or gives prices that are written and read back alike.
func FuzzReadPrices(f *testing.F) {
	all, err := os.ReadFile("testdata/prices.toml")
	if err != nil {
		f.Fatal(err)
	}
	f.Add(string(all))
	f.Add(head + "[product.\"a\\\"b\"]\nvalue = 3\nunit = \"per lb\"\nsource = \"\\u0001\"\nyear = 2026\n[nutrient.k]\nlow=1\nlikely=2\nhigh=3\nunit=\"per kg\"\nsource=\"x\"\nyear=2020")
	f.Add("[[hay]]\nhay.x = 1\n[a.b.c]\nd = [[[[1]]]]")
	f.Add("hay = {low={}}\n\"\" = 1\n[\"a.b\"]")
	f.Fuzz(func(t *testing.T, text string) {
		var faults diag.List
		p, err := economics.ReadPrices("p.toml", strings.NewReader(text), &faults)
		if err != nil || (p == nil) != (faults.Faults() > 0) {
			t.Fatalf("prices %v, error %v, %d faults", p, err, faults.Faults())
		}
		if p == nil {
			return
		}
		var out bytes.Buffer
		if err := p.WriteTOML(&out); err != nil {
			t.Fatal(err)
		}
		back, err := economics.ReadPrices("p.toml", &out, &faults)
		if err != nil || back == nil {
			t.Fatalf("%v\n%s", err, &faults)
		}
		if len(back.Given) != len(p.Given) || len(back.Products) != len(p.Products) || back.Place != p.Place || !back.Date.Equal(p.Date) {
			t.Fatalf("%+v\nreads back as\n%+v", p, back)
		}
		for k, x := range p.Given {
			y := back.Given[k]
			if y.Item != x.Item || y.Source != x.Source || y.Year != x.Year || !alike(x.Value.Low, y.Value.Low) || !alike(x.Value.High, y.Value.High) {
				t.Fatalf("%+v\nreads back as\n%+v", x, y)
			}
		}
	})
}

// alike allows what units and twelve printed digits lose.
func alike(a, b float64) bool { return math.Abs(a-b) <= 1e-9*math.Abs(a) }
