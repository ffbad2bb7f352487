package web

import (
	"fmt"
	"html/template"
	"net/http"
	"net/url"
	"slices"
	"strconv"
	"strings"

	"rootworthy/export"
	"rootworthy/export/words"
	"rootworthy/internal/run"
	"rootworthy/suitability"
)

// mostRows is how many zones the list shows at a time.
const mostRows = 100

// mostInline is how many fields a map may have that stands in the page itself: more take long to draw, and a browser
// with WebGL needs none.
const mostInline = 200

// runPage is a run as a page.
type runPage struct {
	frame
	Run        int
	Name       string
	Base       string   // address of the run, with a stroke at its end
	Answer     []string // the first thing anybody wants to know
	List       list
	Strip      []patch
	Map        template.HTML // drawn by us, every text in it escaped
	MapSays    string        // under the map
	Picture    string        // address of the map where it is too large to stand in the page
	Fields     []fieldLine
	MoreFields int
	Knobs      []knobGroup
	Choices    choices
	Files      []string
	Facts      []fact
	Sources    []string
	Cautions   []string
	Faults     []fault
	CanScreen  bool
	Survey     string
	Others     []*book // runs to compare with
	Before     *book   // the run that it came from; nil: none
	Exports    exportPage
	Relief     *relief // nil: no heights are given
}

type fact struct{ Name, Value string }

// fault is a fault or notice in words.
type fault struct{ Severity, Text string }

// run shows a run.
func (s *Server) run(w http.ResponseWriter, r *http.Request) {
	b, sc, ok := s.staged(w, r)
	if !ok {
		return
	}
	s.showRun(w, r, b, sc)
}

func (s *Server) showRun(w http.ResponseWriter, r *http.Request, b *book, sc *scene) {
	q := r.URL.Query()
	sift := readSift(q)
	zones := sift.zones(sc)
	p := &runPage{frame: s.frame(heading(b, sc.result)), Run: b.Number, Name: heading(b, sc.result), Base: fmt.Sprintf("/run/%d/", b.Number), Answer: words.Answer(sc.result),
		List: sc.list(zones, &sift, q, b.Number), Strip: sc.strip(zones, sift.show), Knobs: knobs(sc), Choices: sc.choices(&sift),
		Files: run.Files(), Facts: facts(sc.result), Sources: export.Sources(&sc.result.Provenance), Cautions: words.Cautions(),
		Faults: faultsOf(sc.result), CanScreen: s.screener != nil, Before: b.Before, Exports: s.exports(b, sc.loaded.result), Relief: sc.relief()}
	if s.screener != nil {
		p.Survey = s.screener.Survey
	}
	if len(sc.sums) <= mostInline || sift.field != "" {
		p.Map = template.HTML(sc.svg(&sift, "map")) // mapdraw escapes
	} else {
		p.Picture = p.Base + "map.svg?" + q.Encode()
	}
	p.MapSays = sc.mapSays(&sift)
	p.Fields, p.MoreFields = sc.fieldLines(q)
	for _, other := range s.shelf.list() {
		if other.Number != b.Number && other.Err == nil {
			p.Others = append(p.Others, other)
		}
	}
	s.show(w, http.StatusOK, "run.html", p)
}

// heading names a run by its farm too, where it has one.
func heading(b *book, r *suitability.Result) string {
	farm := ""
	for i := range r.Fields {
		switch f := r.Fields[i].Farm; {
		case f == "" || farm != "" && f != farm:
			return b.Name
		default:
			farm = f
		}
	}
	if farm == "" {
		return b.Name
	}
	return farm + ": " + b.Name
}

// facts say what a run was made from.
func facts(r *suitability.Result) []fact {
	p := &r.Provenance
	out := []fact{{"Made by", p.Program}, {"Counted from", words.Date(p.Date)}, {"Crop profile", p.Profile}}
	for _, in := range p.Inputs {
		out = append(out, fact{in.Role, in.Name})
	}
	for _, o := range p.Options {
		out = append(out, fact{o.Name, o.Value})
	}
	return gathered(out)
}

// gathered puts values of one name together; what has none was not given.
func gathered(list []fact) []fact {
	var out []fact
	for _, f := range list {
		if f.Value == "" {
			f.Value = "not given"
		}
		if i := slices.IndexFunc(out, func(x fact) bool { return x.Name == f.Name }); i >= 0 {
			if out[i].Value != f.Value {
				out[i].Value += ", " + f.Value
			}
			continue
		}
		out = append(out, f)
	}
	return out
}

func faultsOf(r *suitability.Result) []fault {
	var out []fault
	for _, f := range r.Faults {
		out = append(out, fault{f.Severity.String(), f.String()})
	}
	return out
}

// list is the list of zones as it stands on the page.
type list struct {
	Rows     []row
	Heads    []head
	Status   string
	Moved    int
	From, To int
	Total    int
	Previous string // addresses; "" at an end
	Next     string
	Run      int
	Query    string // of a what-if, for the addresses of zones
	Note     string // what the what-if cannot say
}

// head is the head of a column, with the address that sorts by it.
type head struct {
	Name, Label, Sorted, Address string
	Number                       bool // its cells stand at the right
}

// list shows one screenful of zones.
func (s *scene) list(zones []int, sift *sift, q url.Values, number int) list {
	from := min(sift.from, max(0, len(zones)-1))
	from -= from % mostRows
	to := min(from+mostRows, len(zones))
	l := list{From: from + 1, To: to, Total: len(zones), Run: number, Heads: s.heads(sift, q)}
	for _, i := range zones[from:to] {
		l.Rows = append(l.Rows, s.row(i))
	}
	acres := 0.0
	for _, i := range zones {
		acres += s.zones[i].Area.Acres()
		if s.moved(i) {
			l.Moved++
		}
	}
	if from > 0 {
		l.Previous = with(q, "from", strconv.Itoa(max(0, from-mostRows)+1))
	}
	if to < len(zones) {
		l.Next = with(q, "from", strconv.Itoa(to+1))
	}
	if s.ask.key != "" {
		l.Query = "?" + askOnly(q).Encode()
		if s.kept > 0 {
			l.Note = words.Count(s.kept, "zone keeps", "zones keep") + " the lime that laboratory tests gave: the samples are not part of a run."
		}
	}
	l.Status = listStatus(&l, len(s.zones), acres)
	return l
}

func listStatus(l *list, all int, acres float64) string {
	text := words.Count(l.Total, "zone", "zones")
	if l.Total < all {
		text = fmt.Sprintf("%s of %s zones", export.Thousands(l.Total), export.Thousands(all))
	}
	text += ", " + words.Decimal(acres, 1) + " acres"
	if l.Query != "" {
		text += "; " + words.Count(l.Moved, "class", "classes") + " changed by what you moved"
	}
	return text
}

// heads lists the columns; sorting by one again turns it round.
func (s *scene) heads(sift *sift, q url.Values) []head {
	labels := map[string]string{"zone": "Zone", "class": "Class", "area": "Acres", "factor": "What limits it", "lime": "Lime, tons/ac", "sure": "How sure"}
	var out []head
	for _, name := range sorts {
		h := head{Name: name, Label: labels[name], Sorted: "none", Number: name == "area" || name == "lime"}
		by := name
		switch sift.sort {
		case name:
			h.Sorted, by = "ascending", "-"+name
		case "-" + name:
			h.Sorted = "descending"
		}
		if name == "zone" && sift.sort == "" {
			h.Sorted, by = "ascending", "-zone"
		}
		if (name == "area" || name == "lime") && h.Sorted == "none" {
			by = "-" + name // the most first
		}
		h.Address = with(without(q, "from"), "sort", by)
		out = append(out, h)
	}
	return out
}

// with returns the address of the same page with one parameter changed.
func with(q url.Values, name, value string) string {
	out := url.Values{}
	for k, v := range q {
		if k != "part" {
			out[k] = v
		}
	}
	out.Set(name, value)
	return "?" + out.Encode()
}

func without(q url.Values, name string) url.Values {
	out := url.Values{}
	for k, v := range q {
		if k != name {
			out[k] = v
		}
	}
	return out
}

// askOnly keeps the parameters of a what-if.
func askOnly(q url.Values) url.Values {
	out := url.Values{}
	for k, v := range q {
		if strings.Contains(k, ".") || k == paramTarget || k == paramWorks {
			out[k] = v
		}
	}
	return out
}
