package web

import (
	"fmt"
	"net/http"

	"rootworthy/export/words"
	"rootworthy/internal/diag"
	"rootworthy/suitability/stand"
)

// recordsPage lists the fields of a run with what was written down of them.
type recordsPage struct {
	frame
	Run    int
	Name   string
	File   string
	Begun  bool
	Rows   []recordRow
	Others []recordRow // fields of which nothing is written down
	More   int
	Faults []fault
}

type recordRow struct {
	Name, Address     string
	Lines             string
	Sown, Last, Count string
}

// mostOthers is how many fields without a line are listed; the others are found on the page of the run.
const mostOthers = 60

// runRecord lists the fields with their records.
func (s *Server) runRecord(w http.ResponseWriter, r *http.Request) {
	b, l, ok := s.opened(w, r)
	if !ok {
		return
	}
	p := &recordsPage{frame: s.frame("Record of the fields"), Run: b.Number, Name: heading(b, l.result)}
	now := &recordNow{}
	if s.record != nil {
		var err error
		if now, err = s.recordNow(); err != nil {
			s.fail(w, r, http.StatusUnprocessableEntity, err.Error())
			return
		}
		p.File, p.Begun = s.record.Name, len(now.text) > 0
		for _, f := range now.faults {
			p.Faults = append(p.Faults, fault{f.Severity.String(), f.String()})
		}
	}
	p.list(l, now)
	s.show(w, http.StatusOK, "records.html", p)
}

func (p *recordsPage) list(l *loaded, now *recordNow) {
	lines := map[string]int{}
	for _, r := range now.records {
		lines[r.Field]++
	}
	stories := map[string][]stand.Story{}
	for _, st := range stand.History(now.records) {
		stories[st.Field] = append(stories[st.Field], st)
	}
	for i := range l.result.Fields {
		f := &l.result.Fields[i]
		row := recordRow{Name: fieldName(f), Address: fieldHead{Run: p.Run, Place: i}.Page("record")}
		switch {
		case lines[f.ID] > 0:
			row.Lines = words.Count(lines[f.ID], "line", "lines")
			row.tell(stories[f.ID])
			p.Rows = append(p.Rows, row)
		case len(p.Others) < mostOthers:
			p.Others = append(p.Others, row)
		default:
			p.More++
		}
	}
	for _, r := range now.records {
		n := lines[r.Field]
		if _, known := l.field[r.Field]; known || n == 0 {
			continue
		}
		delete(lines, r.Field) // one record may serve several runs: a field of another is told once, at its first line
		f := diag.Fault{File: p.File, Line: r.Line, Field: "field_id", What: fmt.Sprintf("the run has no field %q (%s)", r.Field, words.Count(n, "line", "lines")),
			Fix: "look at the run that has it, or correct the id in the file"}
		p.Faults = append(p.Faults, fault{"notice", f.String()})
		if len(p.Faults) > mostOthers {
			return
		}
	}
}

// tell sums up a field: when it was sown, when something was last written down, and what the last counts call for.
func (r *recordRow) tell(stories []stand.Story) {
	var last stand.Record
	actions := map[stand.Action]int{}
	for _, st := range stories {
		if day := st.Sown; !day.IsZero() && r.Sown == "" {
			r.Sown = words.Date(day.Format("2006-01-02"))
		}
		var decided *stand.Decision
		for i := range st.Years {
			if st.Years[i].Decision != nil {
				decided = st.Years[i].Decision
			}
			for _, x := range st.Years[i].Records {
				if x.Day.After(last.Day) {
					last = x
				}
			}
		}
		if decided != nil {
			actions[decided.Action]++
		}
	}
	if last.Line > 0 {
		r.Last = words.Date(last.Day.Format("2006-01-02")) + ": " + words.Record(last)
	}
	for _, a := range stand.Actions() {
		if n := actions[a]; n > 0 {
			if r.Count != "" {
				r.Count += ", "
			}
			r.Count += string(a)
			if len(stories) > 1 {
				r.Count += " (" + words.Count(n, "zone", "zones") + ")"
			}
		}
	}
}
