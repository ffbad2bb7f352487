package web

import (
	"bytes"
	"encoding/json"
	"fmt"
	"math"
	"math/rand/v2"
	"regexp"
	"strings"
	"testing"

	"github.com/paulmach/orb"
	"github.com/paulmach/orb/planar"

	"rootworthy/internal/run"
	"rootworthy/suitability"
)

func parse(t *testing.T, text string) part {
	t.Helper()
	var p part
	if err := json.Unmarshal([]byte(text), &p); err != nil {
		t.Fatalf("%.200s: %v", text, err)
	}
	return p
}

// The page, before any script, holds every zone with the class and the lime of the files.
func TestListHoldsTheNumbersOfTheFiles(t *testing.T) {
	s := serve(t, nil)
	r := screenDemo(t, nil)
	_, text := s.get("/")
	for _, z := range r.Zones {
		row := regexp.MustCompile(`(?s)<tr data-zone="\d+"><th scope="row"><a class="zone"[^>]*>` + regexp.QuoteMeta(z.ID) + `</a>.*?</tr>`).FindString(text)
		want := []string{markOf(z.Rating.Class).Word, z.Rating.Confidence.Level}
		if x, ok := z.Lime.Likely.Get(); ok {
			want = append(want, fmt.Sprintf(`data-tons="%.4f"`, x.ShortTonsPerAcre()))
		} else {
			want = append(want, `data-tons=""`)
		}
		for _, w := range want {
			if !strings.Contains(row, w) {
				t.Errorf("zone %s: the row lacks %q:\n%s", z.ID, w, row)
			}
		}
	}
}

// A download is written anew and yet the same file, byte by byte.
func TestDownloadsAreTheFilesOfTheRun(t *testing.T) {
	s := serve(t, nil)
	r := screenDemo(t, nil)
	r.Provenance.Schema = run.Schema
	for _, name := range run.Files() {
		var want bytes.Buffer
		if err := run.WriteFile(&want, name, r); err != nil {
			t.Fatal(err)
		}
		if code, text := s.get("/run/1/file/" + name); code != 200 || text != want.String() {
			t.Errorf("%s: %d, %d bytes, want %d", name, code, len(text), want.Len())
		}
	}
}

// Every sift lists what passes it, and the digits for the map agree with the list.
func TestSiftsAgreeWithTheMap(t *testing.T) {
	s := serve(t, nil)
	all := parse(t, second(s.get("/run/1/part?part=1")))
	n := len(all.Classes)
	for _, q := range []string{"class=unsuited", "class=not+rated", "factor=drainage", "factor=none", "lime=some", "lime=0", "lime=missing", "sure=low", "field=F6", "find=kiln", "find=nothing-like-it"} {
		p := parse(t, second(s.get("/run/1/part?part=1&"+q)))
		rows := strings.Count(p.List, "<tr data-zone=")
		if ones := strings.Count(p.Shown, "1"); len(p.Shown) != n || ones != rows || ones == n {
			t.Errorf("%s: %d rows, %d of %d on the map", q, rows, ones, n)
		}
		if q != "find=nothing-like-it" && rows == 0 {
			t.Errorf("%s: nothing passes, so nothing is shown", q)
		}
	}
}

func second(_ int, s string) string { return s }

// Each order is one: what it sorts by never goes the wrong way.
func TestOrders(t *testing.T) {
	l := newLoaded(screenDemo(t, nil))
	sc, err := l.scene(ask{})
	if err != nil {
		t.Fatal(err)
	}
	key := map[string]func(*suitability.Zone) float64{
		"class": func(z *suitability.Zone) float64 { return float64(place(z.Rating.Class)) }, "area": func(z *suitability.Zone) float64 { return float64(z.Area) },
		"lime": func(z *suitability.Zone) float64 { return float64(z.Lime.Likely.Or(-1)) }, "sure": func(z *suitability.Zone) float64 { return float64(sureness(z)) },
		"factor": func(z *suitability.Zone) float64 { return float64(codePlace(z)) },
	}
	for name, of := range key {
		for _, turn := range []float64{1, -1} {
			f := sift{sort: map[float64]string{1: name, -1: "-" + name}[turn]}
			zones := f.zones(sc)
			for i := 1; i < len(zones); i++ {
				if turn*of(sc.zones[zones[i]]) < turn*of(sc.zones[zones[i-1]]) {
					t.Errorf("%s: row %d goes the wrong way", f.sort, i)
				}
			}
		}
	}
}

// A what-if moves classes, says so, and changes nothing that is kept.
func TestWhatIfLooksOnly(t *testing.T) {
	s := serve(t, nil)
	_, before := s.get("/run/1/file/zones.geojson")
	plain := parse(t, second(s.get("/run/1/part?part=1")))
	moved := parse(t, second(s.get("/run/1/part?part=1&water_table.suited=60&drainage.suited=Moderately+well+drained&depth.suited=80&available_water.suited=110")))
	if moved.Classes == plain.Classes || !strings.Contains(moved.Status, "1 class changed") || !strings.Contains(moved.List, "was Marginal") {
		t.Errorf("nothing moved: %s, %s", moved.Status, moved.Classes)
	}
	if again := parse(t, second(s.get("/run/1/part?part=1"))); again.Classes != plain.Classes || again.List != plain.List {
		t.Error("the run was changed by looking")
	}
	if _, after := s.get("/run/1/file/zones.geojson"); after != before {
		t.Error("the files were changed by looking")
	}
	if usual := parse(t, second(s.get("/run/1/part?part=1&depth.suited=100&target=6.5"))); strings.Contains(usual.Status, "changed") {
		t.Errorf("usual values count as moved: %s", usual.Status)
	}
	for _, q := range []string{"depth.suited=5000", "depth.suited=x", "depth.suited=NaN", "target=9", "target=-1", "works=some", "drainage.suited=dry", "drainage.suited=Excessively+drained"} {
		if code, text := s.get("/run/1/part?part=1&" + q); code != 400 || !strings.Contains(text, "error") {
			t.Errorf("%s: %d %.100s", q, code, text)
		}
	}
}

// A letter stands inside its zone and off its holes, whatever the shape.
func TestInnerPointIsInside(t *testing.T) {
	const seed = 11
	r := rand.New(rand.NewPCG(seed, 1))
	for n := range 300 {
		shape := star(r)
		if p := innerPoint(orb.MultiPolygon{shape}); !planar.PolygonContains(shape, p) {
			t.Fatalf("seed %d, case %d: %v is not inside %v", seed, n, p, shape)
		}
	}
	for _, z := range screenDemo(t, nil).Zones {
		if p := innerPoint(z.Shape); !planar.MultiPolygonContains(z.Shape, p) {
			t.Errorf("zone %s: %v is not inside", z.ID, p)
		}
	}
}

// star is a ragged polygon with a hole around its middle.
func star(r *rand.Rand) orb.Polygon {
	var outer, hole orb.Ring
	for k := range 24 {
		a := orb.Point{}
		d := 2 + 6*r.Float64()
		a[0], a[1] = d*cos(k, 24), d*sin(k, 24)
		outer = append(outer, a)
	}
	for k := 11; k >= 0; k-- {
		hole = append(hole, orb.Point{1.5 * cos(k, 12), 1.5 * sin(k, 12)})
	}
	return orb.Polygon{append(outer, outer[0]), append(hole, hole[0])}
}

func cos(k, n int) float64 { return math.Cos(2 * math.Pi * float64(k) / float64(n)) }
func sin(k, n int) float64 { return math.Sin(2 * math.Pi * float64(k) / float64(n)) }
