package web

import (
	"cmp"
	"fmt"
	"net/http"
	"net/url"
	"slices"
	"strconv"
	"strings"

	"rootworthy/export/words"
	"rootworthy/soils/unit"
	"rootworthy/suitability"
)

// chanceListPage is how sure the fields or the zones of a run are, to be sorted and sifted.
type chanceListPage struct {
	frame
	Run            int
	Name           string
	Zones          bool // zones are listed, not fields
	Class          string
	Classes        []choice
	Least          string
	Sort           string
	Sorts          []choice
	Rows           []chanceListRow
	Status         string
	Previous, Next string
	Wrong          string
}

type chanceListRow struct {
	Name, Address        string
	Class                mark
	Chance, Asked, Acres string
	Suited, Lime         string
}

// likely is a row before it is put into words.
type likely struct {
	place int // of the field, or of the zone in the list of the run
	// of: chance, 0…1, of the class that the run says; asked: of the class that the page asks for
	of, asked  float64
	class      suitability.Class
	area       unit.Area
	orderIndex int
}

// chanceSorts are the orders of the list.
var chanceSorts = []choice{{"", "likeliest first"}, {"unsure", "least sure of its class first"}, {"area", "largest first"}, {"name", "order of the files"}}

// runChances lists fields or zones by chance.
func (s *Server) runChances(w http.ResponseWriter, r *http.Request) {
	b, l, ok := s.opened(w, r)
	if !ok {
		return
	}
	q := r.URL.Query()
	p := &chanceListPage{frame: s.frame("How likely"), Run: b.Number, Name: heading(b, l.result), Zones: q.Get("of") == "zones", Sort: q.Get("sort"), Sorts: chanceSorts}
	class := suitability.Suited
	for _, c := range suitability.Classes() {
		p.Classes = append(p.Classes, choice{c.String(), c.String()})
		if q.Get("class") == c.String() {
			class = c
		}
	}
	p.Class = class.String()
	least, err := leastChance(q.Get("least"))
	if p.Least = q.Get("least"); err != nil {
		p.Wrong = err.Error()
	}
	list := l.likelies(p.Zones, class)
	all := len(list)
	list = slices.DeleteFunc(list, func(x likely) bool { return x.asked < least })
	slices.SortStableFunc(list, likelyOrder(p.Sort))
	p.page(l, list, all, q)
	s.show(w, http.StatusOK, "chancelist.html", p)
}

// leastChance reads a chance as people write one: 7 of 10, 70 %, 0.7.
func leastChance(s string) (float64, error) {
	s = strings.TrimSpace(s)
	if s == "" {
		return 0, nil
	}
	text, percent := strings.CutSuffix(s, "%")
	v, err := strconv.ParseFloat(strings.TrimSpace(text), 64)
	switch {
	case err != nil || !(v >= 0):
	case percent && v <= 100:
		return v / 100, nil
	case !percent && v <= 1:
		return v, nil
	case !percent && v <= 10:
		return v / 10, nil
	}
	return 0, fmt.Errorf("%q is no chance; write 7 for 7 chances in 10, or 70 %%", s)
}

// likelies gathers the chance of a class by field or by zone.
func (l *loaded) likelies(zones bool, class suitability.Class) []likely {
	c := l.chances()
	var out []likely
	if zones {
		for i, z := range l.zones {
			sure := c.of(z)
			out = append(out, likely{place: i, of: sure.Class.Of(z.Rating.Class), asked: sure.Class.Of(class), class: z.Rating.Class, area: z.Area, orderIndex: i})
		}
		return out
	}
	for i := range l.result.Fields {
		sure, of := &c.study.Fields[i], l.sums[i].Class()
		out = append(out, likely{place: i, of: sure.Class.Of(of), asked: sure.Class.Of(class), class: of, area: l.result.Fields[i].Area, orderIndex: i})
	}
	return out
}

func likelyOrder(name string) func(a, b likely) int {
	// the last word in every order: equal chances are the rule, and must not change places from page to page
	files := func(a, b likely) int { return cmp.Compare(a.orderIndex, b.orderIndex) }
	switch name {
	case "unsure":
		return func(a, b likely) int {
			return cmp.Or(cmp.Compare(a.of, b.of), cmp.Compare(b.area, a.area), files(a, b))
		}
	case "area":
		return func(a, b likely) int { return cmp.Or(cmp.Compare(b.area, a.area), files(a, b)) }
	case "name":
		return files
	}
	return func(a, b likely) int {
		return cmp.Or(cmp.Compare(b.asked, a.asked), cmp.Compare(b.area, a.area), files(a, b))
	}
}

// page puts one screenful into words.
func (p *chanceListPage) page(l *loaded, list []likely, all int, q url.Values) {
	from, _ := strconv.Atoi(q.Get("from"))
	from = max(0, min(from-1, len(list)-1))
	from -= from % mostRows
	to := min(from+mostRows, len(list))
	for _, x := range list[from:to] {
		p.Rows = append(p.Rows, p.row(l, x))
	}
	one, many := "field", "fields"
	if p.Zones {
		one, many = "zone", "zones"
	}
	p.Status = words.Count(len(list), one, many)
	if len(list) < all {
		p.Status += fmt.Sprintf(" of %d", all)
	}
	if len(list) > mostRows {
		p.Status += fmt.Sprintf(", rows %d to %d", from+1, to)
	}
	if from > 0 {
		p.Previous = with(q, "from", strconv.Itoa(from-mostRows+1))
	}
	if to < len(list) {
		p.Next = with(q, "from", strconv.Itoa(to+1))
	}
}

func (p *chanceListPage) row(l *loaded, x likely) chanceListRow {
	row := chanceListRow{Class: markOf(x.class), Chance: words.ChanceOf(x.of), Asked: words.ChanceOf(x.asked), Acres: words.Acres(x.area)}
	if p.Zones {
		z := l.zones[x.place]
		row.Name, row.Address = "Zone "+z.ID, fmt.Sprintf("/run/%d/zone/%d", p.Run, x.place)
		row.Lime = zoneLime(z, l.chances().of(z))
		return row
	}
	f, sure := &l.result.Fields[x.place], &l.chances().study.Fields[x.place]
	row.Name, row.Address = fieldName(f), fieldHead{Run: p.Run, Place: x.place}.Page("chances")
	row.Suited = words.Between(unit.Area(sure.Suited.Low).Acres(), unit.Area(sure.Suited.High).Acres())
	row.Lime = fieldLime(&l.sums[x.place], sure)
	if f.Trouble != "" {
		row.Chance, row.Asked, row.Suited, row.Lime = words.Trouble(f), "–", "–", "–"
	}
	return row
}
