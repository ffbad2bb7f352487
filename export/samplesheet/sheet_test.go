package samplesheet

import (
	"bytes"
	"context"
	"encoding/csv"
	"encoding/json"
	"encoding/xml"
	"fmt"
	"io"
	"math"
	"slices"
	"strconv"
	"strings"
	"testing"
	"unicode/utf8"

	"pgregory.net/rapid"

	"rootworthy/export/quillmoor"
	"rootworthy/internal/diag"
	"rootworthy/soils/lab"
	"rootworthy/soils/unit"
	"rootworthy/suitability"
	"rootworthy/suitability/sampling"
	"rootworthy/suitability/uncertainty"
)

// planned is a plan of the invented farm Quillmoor, with names that try to break out of every format.
func planned(t *testing.T) *sampling.Plan {
	t.Helper()
	r := quillmoor.Result()
	r.Fields[0].Name = `<script>alert("x")</script>]]> & =1+1`
	z := &r.Zones[r.Fields[0].Zones[0]]
	z.Rating.HingesOn = []suitability.Code{suitability.SubsoilPH}
	p, err := sampling.New(context.Background(), r, sampling.Options{SetBack: 10, Price: 18, DeepPrice: 30})
	if err != nil {
		t.Fatal(err)
	}
	if len(p.Bags) < 3 {
		t.Fatalf("only %d bags: %+v", len(p.Bags), p.Left)
	}
	return p
}

func written(t *testing.T, p *sampling.Plan, name string) string {
	t.Helper()
	var b bytes.Buffer
	if err := Write(&b, name, p); err != nil {
		t.Fatalf("%s: %v", name, err)
	}
	return b.String()
}

// A plan made twice writes the same files; a name that is none of them is an error.
func TestSamePlanSameBytes(t *testing.T) {
	a, b := planned(t), planned(t)
	for _, name := range Files() {
		if written(t, a, name) != written(t, b, name) {
			t.Errorf("%s differs from itself", name)
		}
	}
	if err := Write(io.Discard, "other", a); err == nil {
		t.Error("a file that is none was written")
	}
}

// Every core is in every file of places, at the same place, in the same order.
func TestPlacesAgree(t *testing.T) {
	p := planned(t)
	var want []string
	for _, f := range p.Fields {
		for _, s := range f.Stops {
			want = append(want, degrees(s.At[0])+" "+degrees(s.At[1]))
		}
	}
	var gpx struct {
		Version string `xml:"version,attr"`
		Points  []struct {
			Lat  string `xml:"lat,attr"`
			Lon  string `xml:"lon,attr"`
			Name string `xml:"name"`
		} `xml:"wpt"`
		Routes []struct {
			Points []struct {
				Lat string `xml:"lat,attr"`
				Lon string `xml:"lon,attr"`
			} `xml:"rtept"`
		} `xml:"rte"`
	}
	text := written(t, p, gpxFile)
	if err := xml.Unmarshal([]byte(text), &gpx); err != nil || gpx.Version != "1.1" {
		t.Fatal(err)
	}
	// GPX 1.1 prescribes the order of its elements.
	if a, b, c := strings.Index(text, "<metadata>"), strings.Index(text, "<wpt"), strings.Index(text, "<rte"); !(a < b && b < c) {
		t.Error("elements out of order")
	}
	var points, routes, names []string
	for _, x := range gpx.Points {
		points = append(points, x.Lon+" "+x.Lat)
		if slices.Contains(names, x.Name) {
			t.Errorf("two waypoints are called %q", x.Name)
		}
		names = append(names, x.Name)
	}
	for _, x := range gpx.Routes {
		for _, y := range x.Points {
			routes = append(routes, y.Lon+" "+y.Lat)
		}
	}
	var collection struct {
		Features []struct {
			ID       string
			Geometry struct{ Coordinates []json.Number }
		}
	}
	if err := json.Unmarshal([]byte(written(t, p, jsonFile)), &collection); err != nil {
		t.Fatal(err)
	}
	var features []string
	for _, x := range collection.Features {
		features = append(features, string(x.Geometry.Coordinates[0])+" "+string(x.Geometry.Coordinates[1]))
	}
	rows, err := csv.NewReader(strings.NewReader(written(t, p, stopsFile))).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	var stops []string
	for _, r := range rows[1:] {
		stops = append(stops, r[2]+" "+r[3])
	}
	for name, got := range map[string][]string{"waypoints": points, "routes": routes, "features": features, "stops": stops} {
		if !slices.Equal(got, want) {
			t.Errorf("%s: %d places, want %d, or others", name, len(got), len(want))
		}
	}
	page := written(t, p, SheetHTML)
	plain := written(t, p, SheetText)
	for _, w := range want {
		lon, lat, _ := strings.Cut(w, " ")
		for name, s := range map[string]string{"page": page, "text": plain} {
			if !strings.Contains(s, lon) || !strings.Contains(s, lat) {
				t.Errorf("%s lacks the stop at %s", name, w)
			}
		}
	}
}

// The list of bags, filled in, is a file of tests: read with nothing left open, each bag in its zone and depth.
func TestBagsComeBackAsTests(t *testing.T) {
	p := planned(t)
	rows, err := csv.NewReader(strings.NewReader(written(t, p, bagsFile))).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	for i := range rows[1:] {
		// A pH of its own for each bag shows a mix-up of rows.
		rows[i+1][slices.Index(rows[0], "ph_water")] = strconv.FormatFloat(5+float64(i)/10, 'f', 1, 64)
	}
	var b bytes.Buffer
	if err := csv.NewWriter(&b).WriteAll(rows); err != nil {
		t.Fatal(err)
	}
	var faults diag.List
	samples, err := lab.Read("bags.csv", bytes.NewReader(b.Bytes()), int64(b.Len()), nil, &faults)
	if err != nil {
		t.Fatal(err)
	}
	if n := faults.Faults(); n > 0 {
		t.Errorf("%d faults: %v", n, faults.String())
	}
	for i, s := range samples.Samples {
		bag := p.Bags[i]
		if s.ID != bag.ID || s.Top.Or(-1) != bag.From || s.Bottom.Or(-1) != bag.To || s.Cores.Or(0) != bag.Cores || math.Abs(float64(s.PH.Or(0))-5-float64(i)/10) > 1e-9 {
			t.Errorf("bag %s came back as %+v", bag.ID, s)
		}
	}
	if len(samples.Samples) != len(p.Bags) {
		t.Errorf("%d of %d bags came back", len(samples.Samples), len(p.Bags))
	}
}

// Names come from files of others; none breaks out of a page or a line.
func TestNamesStayNames(t *testing.T) {
	p := planned(t)
	page := written(t, p, SheetHTML)
	if strings.Contains(page, "<script") || !strings.Contains(page, "&lt;script") {
		t.Error("a name became markup")
	}
	if !strings.Contains(page, "overflow-wrap: anywhere }") {
		t.Error("a long name does not break, and the page scrolls sideways on a phone")
	}
	for i, l := range strings.Split(written(t, p, SheetText), "\n") {
		if utf8.RuneCountInString(l) > textWidth+10 { // a name alone may be longer
			t.Errorf("line %d has %d columns: %s", i+1, utf8.RuneCountInString(l), l)
		}
	}
}

// The summary names as many zones as it is allowed to, and counts the rest.
func TestSummaryNamesEveryZone(t *testing.T) {
	p := planned(t)
	s := Summary(p, 1000)
	for _, z := range p.Zones {
		if !strings.Contains(s, z.Zone.ID+",") {
			t.Errorf("zone %s is not told", z.Zone.ID)
		}
	}
	if short := Summary(p, 1); !strings.Contains(short, fmt.Sprintf("and %d more", len(p.Zones)-1)) {
		t.Error(short)
	}
}

// The mark of a run, an empty one and none at all are not that of a sampling plan, so such a folder is left alone.
func TestOurs(t *testing.T) {
	if err := Ours(strings.NewReader(written(t, planned(t), markFile))); err != nil {
		t.Error(err)
	}
	for _, s := range []string{"", "{}", `{"rootworthy":"run"}`, "junk"} {
		if Ours(strings.NewReader(s)) == nil {
			t.Errorf("%q was taken for a sampling plan", s)
		}
	}
}

// Every reason for leaving a zone out has words.
func TestReasonsHaveWords(t *testing.T) {
	for _, why := range sampling.Reasons() {
		if left(why) == why {
			t.Errorf("%q has no words", why)
		}
	}
}

// Chances of a row add up to 1 as printed, whatever the draws, and no chance is off by a thousandth.
func TestPrintedChancesAddUp(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		draws := rapid.IntRange(1, 5000).Draw(t, "draws")
		cuts := rapid.SliceOfN(rapid.IntRange(0, draws), 3, 3).Draw(t, "cuts")
		slices.Sort(cuts)
		n := [4]int{cuts[0], cuts[1] - cuts[0], cuts[2] - cuts[1], draws - cuts[2]}
		var c uncertainty.Chances
		for i := range n {
			c[i] = float64(n[i]) / float64(draws)
		}
		sum := 0
		for k, x := range wholeThousandths(c) {
			sum += x
			if d := float64(x) - 1000*c.Of(k); d <= -1 || d >= 1 {
				t.Fatalf("%v of %v is printed as %d thousandths", k, c, x)
			}
		}
		if sum != 1000 {
			t.Fatalf("%v comes to %d thousandths", c, sum)
		}
	})
}

// One of a kind is no many.
func TestOneBag(t *testing.T) {
	p := planned(t)
	one := *p
	one.Bags, one.Fields = p.Bags[:1], p.Fields[:1]
	if s := total(&one); !strings.HasPrefix(s, "1 bag (") || !strings.Contains(s, " in 1 field,") {
		t.Error(s)
	}
}

// The scale bar stays on the sheet however small or large the ground: a plot of 30 ft as well as a ranch of ten miles, in lengths that
// can be paced off.
func TestScaleBarStaysOnTheSheet(t *testing.T) {
	for _, metres := range []float64{3, 10, 30, 100, 800, 16000} {
		v := view{scale: (mapWidth - 2*mapMargin) / metres}
		feet := barFeet(v)
		if w := feet * 0.3048 * v.scale; feet > 10 && w >= 200 || feet < 10 {
			t.Errorf("over %g m a bar of %g ft is %.0f pixels long", metres, feet, w)
		}
		if lead := feet / math.Pow(10, math.Floor(math.Log10(feet)+1e-9)); math.Abs(lead-1) > 1e-6 && math.Abs(lead-2) > 1e-6 && math.Abs(lead-5) > 1e-6 {
			t.Errorf("over %g m the bar is %g ft, no round length", metres, feet)
		}
	}
	if v := (view{scale: (mapWidth - 2*mapMargin) / 30}); barFeet(v)*0.3048*v.scale > mapWidth/2 {
		t.Errorf("the bar of a small plot runs off the sheet: %g ft", barFeet(v))
	}
}

// Figures of a zone read as on every other sheet: an acre keeps its tenth, so that nothing reads "1 acres", and ground that is there is not 0.
func TestFiguresOfZones(t *testing.T) {
	p := planned(t)
	z := p.Zones[0].Zone
	was := z.Area
	defer func() { z.Area = was }()
	for _, c := range []struct {
		acres float64
		want  string
	}{{0.98, "1.0 acres"}, {4, "4.0 acres"}, {0.02, "<0.1 acres"}} {
		z.Area = unit.Acres(c.acres)
		for _, name := range []string{SheetText} {
			if s := written(t, p, name); !strings.Contains(s, ", "+c.want) {
				t.Errorf("%s does not say %s", name, c.want)
			}
		}
		if s := Summary(p, 9); !strings.Contains(s, ", "+c.want) {
			t.Errorf("the summary does not say %s:\n%s", c.want, s)
		}
	}
}

// A walk reads as a walk, however short: "0.0 miles" would be none at all.
func TestShortWalks(t *testing.T) {
	p := planned(t)
	for i := range p.Fields {
		p.Fields[i].Way = 0
	}
	p.Fields[0].Way = 50
	if s := total(p); !strings.HasSuffix(s, " 164 ft (50 m) on foot.") && !strings.Contains(s, " 164 ft (50 m) on foot. Cost") {
		t.Error(s)
	}
	p.Fields[0].Way = 1290
	if s := total(p); !strings.Contains(s, " 0.8 miles (1.3 km) on foot.") {
		t.Error(s)
	}
	if s := walk(1290); s != "4,232 ft (1,290 m)" {
		t.Error(s)
	}
}

// What the choice rests on reads as on the page of chances: sentences, each with how well it is founded said once.
func TestJudgementsReadAsSentences(t *testing.T) {
	for _, s := range judgements() {
		if s[:1] != strings.ToUpper(s[:1]) && !strings.HasPrefix(s, "pH") || !strings.HasSuffix(s, ".") || strings.HasPrefix(s, "PH") || strings.Contains(s, "; memory)") || strings.Contains(s, "; proposal)") {
			t.Error(s)
		}
	}
}
