package web

import (
	"bytes"
	"fmt"
	"math"
	"net/http"
	"sync"
	"time"

	"rootworthy/export"
	"rootworthy/export/mapdraw"
	"rootworthy/export/words"
	"rootworthy/soils/unit"
	"rootworthy/suitability"
)

// part is what changes on the page when something is sifted, sorted or moved.
type part struct {
	List    string   `json:"list"`
	Strip   string   `json:"strip"`
	Answer  []string `json:"answer"`
	Status  string   `json:"status"`
	Classes string   `json:"classes"`         // a digit a zone: 0 not rated, 1 suited, 2 marginal, 3 unsuited
	Shown   string   `json:"shown"`           // a digit a zone: 1 where it passes the sift
	Rates   []string `json:"rates,omitempty"` // lime by zone, when the map shows lime
	Steps   string   `json:"steps,omitempty"` // shade by zone: 0 none … 5, "-" no figure
	Map     string   `json:"map,omitempty"`   // drawn by us, for pages without WebGL
	Millis  float64  `json:"ms"`              // to work all this out
}

// part answers the script of a page.
func (s *Server) part(w http.ResponseWriter, r *http.Request) {
	begin := time.Now()
	q := r.URL.Query()
	b, sc, ok := s.staged(w, r)
	if !ok {
		return
	}
	sift := readSift(q)
	zones := sift.zones(sc)
	p := part{Answer: words.Answer(sc.result), Classes: sc.digits(sift.show == "today"), Shown: shown(zones, len(sc.zones))}
	list := sc.list(zones, &sift, without(q, "draw"), b.Number)
	p.Status = list.Status
	var err error
	if p.List, err = s.html("list", list); err == nil {
		p.Strip, err = s.html("strip", sc.strip(zones, sift.show))
	}
	if err != nil {
		s.fail(w, r, http.StatusInternalServerError, err.Error())
		return
	}
	if sift.show == "lime" {
		p.Rates, p.Steps = sc.rates()
	}
	if q.Has("draw") {
		p.Map = sc.svg(&sift, "map")
		if say := sc.mapSays(&sift); say != "" {
			p.Map += "<figcaption>" + say + "</figcaption>"
		}
	}
	p.Millis = math.Round(float64(time.Since(begin).Microseconds())/100) / 10
	answer(w, http.StatusOK, p)
}

func (s *scene) digits(today bool) string {
	b := make([]byte, len(s.zones))
	for i, z := range s.zones {
		c := z.Rating.Class
		if today {
			c = z.Rating.ClassToday
		}
		b[i] = '0' + byte(c)
	}
	return string(b)
}

func shown(zones []int, n int) string {
	b := bytes.Repeat([]byte{'0'}, n)
	for _, i := range zones {
		b[i] = '1'
	}
	return string(b)
}

// rates returns the lime of every zone in words for the map, and its shade.
func (s *scene) rates() ([]string, string) {
	words, steps := make([]string, len(s.zones)), make([]byte, len(s.zones))
	for i, z := range s.zones {
		words[i], _ = shortLime(&z.Lime)
		steps[i] = limeStep(z.Lime.Likely)
	}
	return words, string(steps)
}

// limeStep is one shade a short ton an acre, five at most.
func limeStep(rate unit.Opt[unit.AreaRate]) byte {
	r, ok := rate.Get()
	if !ok {
		return '-'
	}
	return '0' + byte(min(5, math.Ceil(r.ShortTonsPerAcre()-1e-9)))
}

// svg draws the map that needs neither script nor WebGL: the field asked for, the only one there is, or all of them.
func (s *scene) svg(f *sift, prefix string) string {
	kind := mapdraw.Class
	switch f.show {
	case "today":
		kind = mapdraw.Today
	case "lime":
		kind = mapdraw.Lime
	}
	key := fmt.Sprintf("%d %s", kind, f.field)
	s.drawn.Lock()
	defer s.drawn.Unlock()
	if s.drawn.key != key {
		s.drawn.key, s.drawn.svg = key, s.svgWith(f, prefix, mapdraw.Options{Kind: kind, Style: mapdraw.Screen(), Width: 720, Parts: mapdraw.Legend})
	}
	return s.drawn.svg
}

// mapSays is what must be known of the map: where it shows all fields, its acres by class are not those of the zones.
func (s *scene) mapSays(f *sift) string {
	_, one := s.field[f.field]
	switch {
	case one || len(s.sums) < 2:
		return ""
	case f.show == "lime":
		return "The map of all fields shows classes. Pick a field to see its lime."
	}
	return "Each field is drawn, and counted in the legend, as most of it is; the list has its zones."
}

// drawn keeps the latest map of a scene: a page that sifts and sorts asks for the same one again.
type drawn struct {
	sync.Mutex
	key, svg string
}

func (s *scene) drawing(field string, o mapdraw.Options) *mapdraw.Drawing {
	if i, ok := s.field[field]; ok {
		return mapdraw.Field(s.result, &s.sums[i], o)
	}
	if len(s.sums) == 1 {
		return mapdraw.Field(s.result, &s.sums[0], o)
	}
	o.Kind = mapdraw.Class // as the caption says
	return mapdraw.Overview(s.result, s.sums, o)
}

// picture sends the map of one field or of all as SVG.
func (s *Server) picture(w http.ResponseWriter, r *http.Request) {
	_, sc, ok := s.staged(w, r)
	if !ok {
		return
	}
	sift := readSift(r.URL.Query())
	w.Header().Set("Content-Type", "image/svg+xml")
	w.Write([]byte(sc.svg(&sift, "map")))
}

// acresBy adds up a run by class, for lists and comparisons.
func acresBy(sums []export.Sum) (by export.Areas) {
	for i := range sums {
		for _, c := range suitability.Classes() {
			by[c] += sums[i].ByClass.Of(c)
		}
	}
	return by
}

func round(x float64, decimals int) float64 {
	p := math.Pow(10, float64(decimals))
	return math.Round(x*p) / p
}
