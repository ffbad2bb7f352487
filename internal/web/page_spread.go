package web

import (
	"context"
	"fmt"
	"io"
	"net/http"
	"net/url"
	"slices"
	"strings"

	"rootworthy/export/taskdata"
	"rootworthy/export/words"
	"rootworthy/soils/unit"
)

// Setting is what a page says of a spreader, by the name of the flag of spread.
type Setting struct{ Name, Value string }

// spreadPage is what a spreader loads, for the spreader that one has.
type spreadPage struct {
	frame
	Base, Name string
	Form       spreadForm
	Refusal    string // why there is nothing to load
	Tasks      []spreadTask
	Total      spreadTask
	Notes      []string
	Left       []string // fields on which nothing is spread, with the reason
	Files      []exportFile
}

// spreadTask is a line of the table: tons as they were planned, as the spreader can be set to them, and as the file holds them.
type spreadTask struct{ Name, Planned, Set, Spread, Off, Cells string }

// spreadForm is the form by which one says what the spreader can do. It stands in the address, so that a page can be kept for the
// next run of the same spreader.
type spreadForm struct {
	Base  string
	Knobs []spreadKnob
	Wrong []string // what is about none of them
}

// spreadKnob is one field of the form.
type spreadKnob struct {
	Name, Label, Hint, Value string
	Choices                  []choice // empty for a field to type into
	Wrong                    string
	about                    []string // how faults begin, or what they speak of, that are about it
}

// spreadKnobs are the settings in the order of the page, each named as the flag of spread. What is usual is that of spread too.
func spreadKnobs() []spreadKnob {
	return []spreadKnob{
		{Name: "width", Label: "Working width", Hint: "between two passes: feet (60) or metres (18m); usual 50", about: []string{"working width"}},
		{Name: "hopper", Label: "What the hopper holds", Hint: "short tons, for the loads on the sheet", about: []string{"a hopper of"}},
		{Name: "min-rate", Label: "Least rate", Hint: "short tons an acre; empty for any", about: []string{"the least rate", "a least rate"}},
		{Name: "max-rate", Label: "Highest rate", Hint: "short tons an acre; empty for any", about: []string{"a highest rate"}},
		{Name: "rate-step", Label: "Step of the rate", Hint: "short tons an acre; empty for any", about: []string{"a step of", "the step is"}},
		{Name: "smallest", Label: "Smallest zone", Hint: "acres; smaller ground gets the rate of a neighbour", about: []string{"a smallest zone"}},
		{Name: "zones", Label: "How the file says what goes where", Hint: "the first is what most controllers take", about: []string{"zones must be"},
			Choices: []choice{{"grid2", "cells with rates (grid type 2)"}, {"grid1", "cells with codes (grid type 1)"}, {"polygons", "outlines of zones"}}},
		{Name: "taskdata-version", Label: "Version of the task data", Hint: "terminals of version 4 read 3 too", about: []string{"task data of version"}, Choices: []choice{{"3", "3"}, {"4", "4"}}},
	}
}

// spreadFormOf fills the form from an address.
func spreadFormOf(base string, q url.Values) spreadForm {
	f := spreadForm{Base: base, Knobs: spreadKnobs()}
	for i := range f.Knobs {
		f.Knobs[i].Value = strings.TrimSpace(q.Get(f.Knobs[i].Name))
	}
	return f
}

// settings are those that were given.
func (f *spreadForm) settings() (out []Setting) {
	for _, k := range f.Knobs {
		if k.Value != "" {
			out = append(out, Setting{k.Name, k.Value})
		}
	}
	return out
}

// query is the address of a file made for the same spreader.
func (f *spreadForm) query() string {
	q := url.Values{}
	for _, s := range f.settings() {
		q.Set(s.Name, s.Value)
	}
	if len(q) == 0 {
		return ""
	}
	return "?" + q.Encode()
}

// blame puts each fault beside the field that it is about. The faults are those of spread, where flags stand in a line.
func (f *spreadForm) blame(err error) {
	for _, line := range strings.Split(err.Error(), "\n") {
		i := slices.IndexFunc(f.Knobs, func(k spreadKnob) bool {
			return strings.HasPrefix(line, "--"+k.Name+":") || slices.ContainsFunc(k.about, func(a string) bool { return strings.Contains(line, a) })
		})
		if i < 0 {
			f.Wrong = append(f.Wrong, words.Sentence(line))
			continue
		}
		k := &f.Knobs[i]
		k.Wrong = strings.TrimSpace(k.Wrong + " " + words.Sentence(strings.TrimPrefix(line, "--"+k.Name+": ")))
	}
}

// spreadOptions reads an address as spread reads its flags.
func (s *Server) spreadOptions(f *spreadForm) (taskdata.Options, error) {
	if s.exporter.Spread == nil {
		return taskdata.Options{Software: s.exporter.Version}, nil
	}
	return s.exporter.Spread(f.settings())
}

// spreadFor shows what a spreader loads, and what will come of it.
func (s *Server) spreadFor(w http.ResponseWriter, r *http.Request) {
	b, l, ok := s.opened(w, r)
	if !ok {
		return
	}
	base := fmt.Sprintf("/run/%d/", b.Number)
	p := &spreadPage{frame: s.frame("For the spreader"), Base: base, Name: heading(b, l.result), Form: spreadFormOf(base, r.URL.Query())}
	if err := taskdata.Refusal(l.result, taskdata.Options{}); err != nil {
		p.Refusal = err.Error()
		s.show(w, http.StatusOK, "spread.html", p)
		return
	}
	o, err := s.spreadOptions(&p.Form)
	if err != nil {
		p.Form.blame(err)
		p.Title = "Not possible: " + p.Title
		s.show(w, http.StatusUnprocessableEntity, "spread.html", p)
		return
	}
	leave, err := s.making.seat(r.Context())
	if err != nil {
		s.fail(w, r, http.StatusServiceUnavailable, err.Error())
		return
	}
	defer leave()
	plan, err := taskdata.NewPlan(r.Context(), stamped(l.result), o)
	if err != nil { // no field needs lime, say
		p.Form.Wrong = append(p.Form.Wrong, words.Sentence(err.Error()))
		s.show(w, http.StatusUnprocessableEntity, "spread.html", p)
		return
	}
	p.tell(plan)
	s.show(w, http.StatusOK, "spread.html", p)
}

// tell lists what the file does, as spread prints it.
func (p *spreadPage) tell(plan *taskdata.Plan) {
	tons := func(m unit.Mass) string { return words.Decimal(m.ShortTons(), 2) }
	off := func(x float64) string { return fmt.Sprintf("%+.2f %%", 100*x) }
	for _, t := range plan.Tasks {
		line := spreadTask{t.Name, tons(t.Planned), tons(t.Set), tons(t.Spread), off(t.Difference()), "outlines"}
		if t.Frame.Rows > 0 {
			east, _ := t.Frame.CellMetres()
			line.Cells = fmt.Sprintf("%d × %d of %.1f m", t.Frame.Columns, t.Frame.Rows, east)
		}
		p.Tasks = append(p.Tasks, line)
	}
	p.Total = spreadTask{"All", tons(plan.Planned()), tons(plan.Set()), tons(plan.Spread()), off(plan.Difference()), ""}
	for _, n := range plan.Notes {
		p.Notes = append(p.Notes, words.Sentence(n))
	}
	p.Left = plan.LeftLines()
	for _, name := range spreadFiles {
		p.Files = append(p.Files, exportFile{name, p.Base + "spread/" + name + p.Form.query()})
	}
}

// asTaskData sends what a spreader needs, by the code and with the bytes of the verb spread; it refuses what that refuses.
func (s *Server) asTaskData(w http.ResponseWriter, r *http.Request) {
	name := r.PathValue("name")
	if !slices.Contains(spreadFiles, name) {
		s.fail(w, r, http.StatusNotFound, "There is no such file for a spreader.")
		return
	}
	_, l, ok := s.opened(w, r)
	if !ok {
		return
	}
	form := spreadFormOf("", r.URL.Query())
	o, err := s.spreadOptions(&form)
	if err != nil {
		s.fail(w, r, http.StatusBadRequest, err.Error())
		return
	}
	s.attachment(w, r, name, kindOf(name), func(ctx context.Context, out io.Writer) error {
		plan, err := taskdata.NewPlan(ctx, stamped(l.result), o)
		if err != nil {
			return err
		}
		if name == spreadFiles[0] {
			return plan.WriteZip(out)
		}
		return plan.WriteFile(name, out)
	})
}
