package web

import (
	"bytes"
	"cmp"
	"errors"
	"fmt"
	"html/template"
	"io"
	"net/http"
	"net/url"
	"strings"

	"rootworthy/export"
	"rootworthy/export/calendar"
	"rootworthy/export/grower"
	"rootworthy/export/report"
	"rootworthy/export/words"
)

// planPage is the plan of a run, or of one of its fields.
type planPage struct {
	frame
	fieldHead
	Whole   bool   // of the run
	RunName string // of the run
	Ask     planAsk
	Query   string // of what was asked for otherwise than usual; "" or "?…"
	Wrong   map[string]string
	Regions []choice
	Made    bool          // there is a plan
	Before  template.HTML // what stands ahead of the parts: the answer of a run, the calendar of a field
	Parts   []planPart
	Fields  []fieldLink
	Faults  []fault
	Error   string
	NoDates bool   // the calendar would be empty
	Stale   string // why an earlier calendar was not brought up to date
	status  int    // of the answer; 0 for what the page itself comes to
}

type fieldLink struct{ Name, Address, Say, Answer string }

// fieldPlan shows the plan of a field.
func (s *Server) fieldPlan(w http.ResponseWriter, r *http.Request) {
	h, l, _, ok := s.openedField(w, r, "plan")
	if !ok {
		return
	}
	p := &planPage{frame: s.frame("Plan for " + h.Name), fieldHead: h, RunName: heading(s.shelf.get(h.Run), l.result)}
	s.showPlan(w, r, p, l, func(m *planMade) []report.Block { return grower.FieldBlocks(m.doc, h.Place) })
}

// runPlan shows the plan of a run: what all fields have in common, and the way to each of them.
func (s *Server) runPlan(w http.ResponseWriter, r *http.Request) {
	b, l, ok := s.opened(w, r)
	if !ok {
		return
	}
	s.showFarmPlan(w, r, &planPage{frame: s.frame("Plan"), fieldHead: fieldHead{Run: b.Number}, Whole: true, RunName: heading(b, l.result)}, l)
}

func (s *Server) showFarmPlan(w http.ResponseWriter, r *http.Request, p *planPage, l *loaded) {
	s.showPlan(w, r, p, l, func(m *planMade) []report.Block {
		p.Fields = planLinks(p, m.farm)
		return grower.FarmBlocks(m.doc)
	})
}

// planLinks leads to the plan of each field and says what the field is worth and how much of it is planned.
func planLinks(p *planPage, farm *grower.Farm) []fieldLink {
	var out []fieldLink
	sums := export.Sums(farm.Run)
	for i := range farm.Run.Fields {
		f := &farm.Run.Fields[i]
		planned := 0
		for _, z := range f.Zones {
			if farm.Zones[z].Why == "" {
				planned++
			}
		}
		say := fmt.Sprintf("%d of %d zones planned", planned, len(f.Zones))
		if planned == 0 {
			say = "no plan"
		}
		out = append(out, fieldLink{fieldName(f), fieldHead{Run: p.Run, Place: i}.Page("plan") + p.Query, say, words.FieldAnswer(&sums[i])})
	}
	return out
}

func (s *Server) showPlan(w http.ResponseWriter, r *http.Request, p *planPage, l *loaded, blocks func(*planMade) []report.Block) {
	if s.planner == nil {
		s.fail(w, r, http.StatusNotFound, "This program makes no plans.")
		return
	}
	q := r.URL.Query()
	p.Ask, p.Wrong = s.planAskOf(q, l.result)
	if l.result.Profile != nil {
		for _, win := range l.result.Profile.Windows {
			label := win.Region
			if win.Where != "" && win.Where != label {
				label += ": " + win.Where
			}
			p.Regions = append(p.Regions, choice{win.Region, label})
		}
	}
	if q.Has("region") || q.Has("date") {
		p.Query = "?" + url.Values{"region": {p.Ask.Region}, "date": {p.Ask.Date}}.Encode()
	}
	status := cmp.Or(p.status, http.StatusOK)
	if len(p.Wrong) > 0 {
		if q.Has("region") || q.Has("date") {
			status = http.StatusBadRequest
		}
		s.show(w, status, "plan.html", p)
		return
	}
	m, err := s.plan(l, p.Ask)
	if err != nil {
		p.Error = err.Error()
		s.show(w, http.StatusUnprocessableEntity, "plan.html", p)
		return
	}
	before, sections, err := report.Sections(blocks(m))
	if err != nil {
		s.fail(w, r, http.StatusInternalServerError, err.Error())
		return
	}
	p.Made, p.Faults = true, m.faults
	p.Before, p.Parts = template.HTML(before), planParts(sections)
	p.NoDates = len(grower.Entries(m.farm)) == 0
	s.show(w, status, "plan.html", p)
}

// planFiles are the files of a plan, with their types, as the command line writes them.
var planFiles = map[string]string{"plan.html": "text/html; charset=utf-8", "plan.pdf": "application/pdf", "plan.csv": "text/csv; charset=utf-8", "materials.csv": "text/csv; charset=utf-8", "order.csv": "text/csv; charset=utf-8", "plan.ics": "text/calendar; charset=utf-8"}

// planFile sends a file of the plan.
func (s *Server) planFile(w http.ResponseWriter, r *http.Request) {
	name := r.PathValue("name")
	kind, ok := planFiles[name]
	if !ok || s.planner == nil {
		s.fail(w, r, http.StatusNotFound, "A plan has no such file.")
		return
	}
	_, l, opened := s.opened(w, r)
	if !opened {
		return
	}
	a, wrong := s.planAskOf(r.URL.Query(), l.result)
	if len(wrong) > 0 {
		s.fail(w, r, http.StatusBadRequest, strings.TrimSpace(wrong["region"]+" "+wrong["date"]))
		return
	}
	m, err := s.plan(l, a)
	if err != nil {
		s.fail(w, r, http.StatusUnprocessableEntity, err.Error())
		return
	}
	var b bytes.Buffer // whole before the first byte goes out: half a calendar must not pass for one
	switch err := m.write(&b, name, r.URL.Query().Get("paper")); {
	case errors.Is(err, calendar.ErrEmpty):
		s.fail(w, r, http.StatusNotFound, "No step of the plan has a day, so there is no calendar.")
		return
	case err != nil:
		s.fail(w, r, http.StatusInternalServerError, err.Error())
		return
	}
	w.Header().Set("Content-Type", kind)
	w.Header().Set("Content-Disposition", `attachment; filename="`+name+`"`)
	w.Write(b.Bytes())
}

func (m *planMade) write(w io.Writer, name, paper string) error {
	switch name {
	case "plan.html":
		return m.doc.HTML(w)
	case "plan.pdf":
		size := report.Letter
		if paper == "a4" {
			size = report.A4
		}
		return m.doc.PDF(w, size)
	case "plan.csv":
		return grower.WriteSteps(w, m.farm)
	case "materials.csv":
		return grower.WriteMaterials(w, m.farm)
	case "order.csv":
		return grower.WriteOrder(w, m.farm)
	}
	return grower.Calendar(m.farm).Write(w, nil)
}
