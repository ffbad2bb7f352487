package web

import (
	"context"
	"html"
	"reflect"
	"regexp"
	"strings"
	"testing"

	"rootworthy/export"
	"rootworthy/export/words"
	"rootworthy/soils/unit"
	"rootworthy/suitability"
	"rootworthy/suitability/sampling"
	"rootworthy/suitability/uncertainty"
)

// The page says of every zone what the study says, words before figures, and of every field which test is worth taking.
func TestChancesAreThoseOfTheStudy(t *testing.T) {
	s := serve(t, nil)
	r := screenDemo(t, nil)
	study := uncertainty.Of(r, uncertainty.Options{})
	plan, err := sampling.New(context.Background(), r, sampling.Options{})
	if err != nil {
		t.Fatal(err)
	}
	tests := map[string]bool{}
	for i := range plan.Zones {
		tests[plan.Zones[i].Zone.ID] = true
	}
	for i := range r.Fields {
		_, page := s.get(fieldHead{Run: 1, Place: i}.Page("chances"))
		for _, k := range r.Fields[i].Zones {
			z := &r.Zones[k]
			row := regexp.MustCompile(`(?s)>` + zoneNumber(z) + `</a></th>.*?</tr>`).FindString(page)
			for _, want := range append(chanceCells(study.Zones[k].Class), zoneLime(&r.Zones[k], &study.Zones[k])) {
				if !strings.Contains(row, ">"+html.EscapeString(want)+"<") {
					t.Errorf("%s: the row lacks %q:\n%s", z.ID, want, row)
				}
			}
			if got := strings.Contains(page, `<th scope="row">`+zoneNumber(z)+`</th><td>`) && strings.Contains(page, "bag"); tests[z.ID] && !got {
				t.Errorf("%s: its test is not on the page", z.ID)
			}
		}
		if !strings.Contains(page, `<svg`) || !strings.Contains(page, "our proposal") {
			t.Errorf("%s: no picture, or nothing about what it rests on", r.Fields[i].ID)
		}
	}
	if _, zone := s.get("/run/1/zone/0"); !strings.Contains(zone, "<dt>How likely</dt>") {
		t.Error("the page of a zone does not say how likely its class is")
	}
}

// A field alone is sampled as it is among all: a zone is drawn by what it is made of.
func TestAFieldAloneIsSampledAsAmongAll(t *testing.T) {
	r := screenDemo(t, nil)
	all, err := sampling.New(context.Background(), r, sampling.Options{})
	if err != nil {
		t.Fatal(err)
	}
	worth := map[string]sampling.Worth{}
	for i := range all.Zones {
		worth[all.Zones[i].Zone.ID] = all.Zones[i].Worth
	}
	seen := 0
	for i := range r.Fields {
		p, err := sampling.New(context.Background(), fieldAlone(r, i), sampling.Options{})
		if err != nil {
			t.Fatal(err)
		}
		for k := range p.Zones {
			seen++
			if id := p.Zones[k].Zone.ID; !reflect.DeepEqual(p.Zones[k].Worth, worth[id]) {
				t.Errorf("%s: worth %+v alone, %+v among all", id, p.Zones[k].Worth, worth[id])
			}
		}
	}
	if seen != len(worth) || seen == 0 {
		t.Errorf("%d zones are sampled alone, %d among all", seen, len(worth))
	}
}

// The list goes by chance, and leaves out what is less likely than asked for.
func TestChanceList(t *testing.T) {
	l := newLoaded(screenDemo(t, nil))
	for name, key := range map[string]func(likely) float64{"": func(x likely) float64 { return -x.asked }, "unsure": func(x likely) float64 { return x.of }, "area": func(x likely) float64 { return -float64(x.area) }} {
		list := l.likelies(true, 1)
		by := likelyOrder(name)
		for i := range list {
			for j := range list {
				if by(list[i], list[j]) < 0 && key(list[i]) > key(list[j]) {
					t.Errorf("order %q puts %v before %v", name, list[i], list[j])
				}
			}
		}
	}
	s := serve(t, nil)
	for _, q := range []string{"least=7", "least=70+%25", "least=0.7"} {
		_, page := s.get("/run/1/chances?class=suited&of=zones&" + q)
		rows, want := strings.Count(page, `class="field"`), 0
		for _, x := range l.likelies(true, 1) {
			if x.asked >= 0.7 {
				want++
			}
		}
		if rows != want || want == 0 || want == len(l.zones) {
			t.Errorf("%s: %d rows, want %d", q, rows, want)
		}
	}
	if _, page := s.get("/run/1/chances?least=many"); !strings.Contains(page, "is no chance; write 7 for 7 chances in 10") {
		t.Error("what is no chance is not told")
	}
	if _, page := s.get("/run/1/chances"); !strings.Contains(page, words.ChanceOf(0)) {
		t.Error("fields without a chance are left out")
	}
}

// Where nobody published the error of a lime method, the page gives the figure and says that its range is not known.
func TestLimeWithoutARange(t *testing.T) {
	low, none := unit.ShortTonsPerAcre(1), unit.AreaRate(0)
	zone := func(id string, likely unit.AreaRate) suitability.Zone {
		return suitability.Zone{ID: id, Area: unit.Acres(10), Lime: suitability.Lime{Likely: unit.Some(likely)}}
	}
	a, b := zone("a", low), zone("b", none)
	c := &chances{zone: map[string]int{"a": 0, "b": 1}, study: &uncertainty.Study{Zones: []uncertainty.Zone{{}, {Need: unit.Some(uncertainty.Interval{})}}}}
	sum := &export.Sum{Zones: []*suitability.Zone{&a, &b}, HasLime: true, Likely: 10 * unit.ShortTon}
	// Ground that the plan does not lime has no need either, whatever the study knows of its pH: the field's sum is without it.
	unlimed := a
	unlimed.Lime = suitability.Lime{}
	needy := uncertainty.Zone{Need: unit.Some(uncertainty.Interval{Low: 0.1, Middle: 0.2, High: 0.3})}
	if got := zoneLime(&unlimed, &needy); strings.Contains(got, "tons/ac") {
		t.Errorf("lime of ground without a figure: %q", got)
	}
	if got := zoneLime(&a, c.of(&a)); got != "1.0 tons/ac, range not known" {
		t.Errorf("the tested zone: %q", got)
	}
	if got := fieldLime(sum, &uncertainty.Field{}); got != "10 tons in all, range not known" && got != "10.0 tons in all, range not known" {
		t.Errorf("the field: %q", got)
	}
	if got := fieldLime(sum, &uncertainty.Field{Lime: unit.Some(uncertainty.Interval{})}); !strings.HasSuffix(got, "tons in all") {
		t.Errorf("with every range known: %q", got)
	}
	if got := fieldLime(&export.Sum{}, &uncertainty.Field{}); got != "–" {
		t.Errorf("without lime: %q", got)
	}
}
