package web

import (
	"bytes"
	"errors"
	"io"
	"net/http"

	"rootworthy/export/calendar"
	"rootworthy/export/grower"
	"rootworthy/internal/diag"
)

// mostCalendar bounds the calendar that a page brings: a plan of some thousand zones.
const mostCalendar = 16 << 20

// updateCalendar writes plan.ics as an update of the one that was loaded before, as planning into the folder of the earlier plan does.
// The page has no such folder, so the user brings the file; without it a calendar program takes every entry for the one it has.
func (s *Server) updateCalendar(w http.ResponseWriter, r *http.Request) {
	b, l, ok := s.opened(w, r)
	if !ok {
		return
	}
	if s.planner == nil {
		s.fail(w, r, http.StatusNotFound, "This program makes no plans.")
		return
	}
	a, wrong := s.planAskOf(r.URL.Query(), l.result)
	if len(wrong) > 0 {
		s.fail(w, r, http.StatusBadRequest, wrong["region"]+" "+wrong["date"])
		return
	}
	m, err := s.plan(l, a)
	if err != nil {
		s.fail(w, r, http.StatusUnprocessableEntity, err.Error())
		return
	}
	c := grower.Calendar(m.farm)
	before, err := formerOf(r, &c)
	var out bytes.Buffer
	if err == nil {
		err = c.Write(&out, before)
	}
	if err != nil {
		p := &planPage{frame: s.frame("Not brought up to date: plan"), fieldHead: fieldHead{Run: b.Number}, Whole: true, RunName: heading(b, l.result), Stale: err.Error(), status: http.StatusUnprocessableEntity}
		s.showFarmPlan(w, r, p, l)
		return
	}
	w.Header().Set("Content-Type", planFiles["plan.ics"])
	w.Header().Set("Content-Disposition", `attachment; filename="plan.ics"`)
	w.Write(out.Bytes())
}

// formerOf reads the calendar that a form brings. One that cannot be read whole, or that is about other ground, is refused: the command
// line finds the calendar in the folder of the plan, but here a wrong file may be picked, and all that stands in it would be called off.
func formerOf(r *http.Request, c *calendar.Calendar) (*calendar.Former, error) {
	file, head, err := r.FormFile("former")
	if err != nil {
		return nil, errors.New("choose the plan.ics that you loaded last")
	}
	defer file.Close()
	text, err := io.ReadAll(io.LimitReader(file, mostCalendar))
	if err != nil {
		return nil, err
	}
	var faults diag.List
	before, err := calendar.Read(head.Filename, bytes.NewReader(text), &faults)
	if err != nil {
		return nil, err
	}
	if kept := faults.Kept(); len(kept) > 0 {
		return nil, errors.New(kept[0].String())
	}
	all := func(string) bool { return true }
	if c.Others == nil {
		c = &calendar.Calendar{Entries: c.Entries, Others: all}
	}
	has, foreign := (calendar.Calendar{Others: all}).Untouched(before), c.Untouched(before)
	if has == 0 || has == foreign {
		return nil, errors.New(head.Filename + ": none of its entries is about a step of this plan; choose the plan.ics of these fields")
	}
	return before, nil
}
