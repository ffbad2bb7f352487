package web

import (
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"net/http"
	"net/url"
	"strconv"

	"rootworthy/export/words"
	"rootworthy/internal/diag"
	"rootworthy/suitability"
	"rootworthy/suitability/stand"
)

// linePage is one line of the record, to be corrected or taken out. Both are forms of the page itself: a question that a script asks
// could not be answered without one, and on a phone it covers what it asks about.
type linePage struct {
	frame
	fieldHead
	File  string
	Line  int
	Mark  string // tells this line from any other, wherever in the file it has moved
	Holds string // what stands there, in words
	Form  entryForm
	Out   string // what is wrong with taking it out
}

// recordLine shows one line.
func (s *Server) recordLine(w http.ResponseWriter, r *http.Request) {
	a, ok := s.askedLine(w, r)
	if !ok {
		return
	}
	p, ok := s.lineOf(a, a.line)
	if !ok {
		s.lineGone(w, a, http.StatusNotFound, "This line is not there.", diag.Fault{File: s.record.Name, Line: a.line, What: "no entry of this field stands in this line",
			Fix: "look below for where it stands now"})
		return
	}
	s.show(w, http.StatusOK, "line.html", p)
}

// askedLine is a line of a field's record that a request is about.
type askedLine struct {
	h    fieldHead
	l    *loaded
	f    *suitability.Field
	now  *recordNow
	line int
}

// askedLine opens what a request is about, or has told that it is not there.
func (s *Server) askedLine(w http.ResponseWriter, r *http.Request) (a askedLine, ok bool) {
	if a.h, a.l, a.f, ok = s.openedField(w, r, "record"); !ok {
		return a, false
	}
	if s.record == nil {
		s.fail(w, r, http.StatusConflict, "No record is open. Start the page with --record FILE to keep one.")
		return a, false
	}
	var err error
	if a.line, err = strconv.Atoi(r.PathValue("line")); err != nil {
		s.fail(w, r, http.StatusNotFound, "There is no such line.")
		return a, false
	}
	if a.now, err = s.recordNow(); err != nil {
		s.fail(w, r, http.StatusUnprocessableEntity, err.Error())
		return a, false
	}
	return a, true
}

// lineOf sets out a line with its cells as they were typed; ok is false where it is none of the field's.
func (s *Server) lineOf(a askedLine, line int) (p *linePage, ok bool) {
	e, raw, ok := stand.Find(a.now.text, line)
	if !ok || e.Field != a.f.ID {
		return nil, false
	}
	p = &linePage{frame: s.frame(fmt.Sprintf("Change line %d: record of %s", line, a.h.Name)), fieldHead: a.h, File: s.record.Name, Line: line, Mark: markOfLine(raw)}
	p.Form.Seen = a.now.seen
	p.Form.fill(a.l, a.f)
	p.Form.Typed = map[string]string{"zone": e.Zone, "date": e.Day, "kind": e.Kind, "value": e.Value, "unit": e.Unit, "note": e.Note}
	if e.Zone != "" && !hasZone(a.l, a.f, e.Zone) { // of a run that cut the field otherwise; it stays unless another is chosen
		p.Form.Zones = append(p.Form.Zones, choice{e.Zone, fmt.Sprintf("zone %s, which this run does not have", e.Zone)})
	}
	p.Holds = fmt.Sprintf("“%s”, which cannot be read", string(raw[:min(len(raw), 200)]))
	for _, r := range a.now.records {
		if r.Line == line {
			p.Holds = recordText(r)
		}
	}
	return p, true
}

// recordText is a line of the record in words.
func recordText(r stand.Record) string {
	text := fmt.Sprintf("%s, %s, %s", words.Record(r), whereText(r), words.Date(r.Day.Format("2006-01-02")))
	if r.Note != "" {
		text += ", “" + r.Note + "”"
	}
	return text
}

func markOfLine(raw []byte) string {
	sum := sha256.Sum256(raw)
	return hex.EncodeToString(sum[:8])
}

// correctLine writes what was typed in the place of a line.
func (s *Server) correctLine(w http.ResponseWriter, r *http.Request) {
	s.changeLine(w, r, func(a askedLine, faults *diag.List) ([]byte, bool) {
		e := entryOf(a.f.ID, r.PostForm)
		if was, _, _ := stand.Find(a.now.text, a.line); e.Zone != was.Zone {
			s.needsZone(a.l, a.f, e.Zone, faults)
		}
		text, _, ok := stand.Correct(s.record.Name, a.now.text, a.line, e, faults)
		return text, ok
	}, "corrected", "")
}

// takeLineOut takes a line out of the record.
func (s *Server) takeLineOut(w http.ResponseWriter, r *http.Request) {
	unsure := "Tick the box to say that the line is to go. Nothing was changed."
	s.changeLine(w, r, func(a askedLine, faults *diag.List) ([]byte, bool) {
		if r.PostForm.Get("sure") == "" {
			return nil, false
		}
		return stand.Remove(s.record.Name, a.now.text, a.line, faults)
	}, "out", unsure)
}

// changeLine changes a line, if the file still is as the page showed it. unsure is what is told where a change is refused without
// a fault.
func (s *Server) changeLine(w http.ResponseWriter, r *http.Request, change func(askedLine, *diag.List) ([]byte, bool), done, unsure string) {
	if err := r.ParseForm(); err != nil {
		s.fail(w, r, http.StatusBadRequest, "The form cannot be read: "+err.Error())
		return
	}
	s.writing.Lock()
	defer s.writing.Unlock()
	a, ok := s.askedLine(w, r)
	if !ok {
		return
	}
	if p, ok := s.lineOf(a, a.line); !ok || r.PostForm.Get("seen") != a.now.seen || r.PostForm.Get("mark") != p.Mark { // another field's too
		s.lineMoved(w, a, r.PostForm)
		return
	}
	var faults diag.List
	text, ok := change(a, &faults)
	if !ok || faults.Faults() > 0 {
		s.lineRefused(w, a, a.line, r.PostForm, http.StatusUnprocessableEntity, unsure, faults.Kept()...)
		return
	}
	switch err := s.record.Write(a.now.text, text); {
	case errors.Is(err, ErrChanged):
		if again, err := s.recordNow(); err == nil {
			a.now = again
		}
		s.lineMoved(w, a, r.PostForm)
	case err != nil:
		s.lineRefused(w, a, a.line, r.PostForm, http.StatusInternalServerError, "", unwritten(s.record.Name, err))
	default:
		http.Redirect(w, r, fmt.Sprintf("%s?%s=%d", a.h.Page("record"), done, a.line), http.StatusSeeOther)
	}
}

// lineMoved refuses to change a file that somebody else has changed. The line is looked for where it stands now; of two that
// are alike it does not matter which.
func (s *Server) lineMoved(w http.ResponseWriter, a askedLine, typed url.Values) {
	at, away := 0, 0
	for _, l := range stand.Lines(a.now.text) {
		if far := max(l.Number-a.line, a.line-l.Number); l.Field == a.f.ID && markOfLine(l.Raw) == typed.Get("mark") && (at == 0 || far < away) {
			at, away = l.Number, far
		}
	}
	if at > 0 {
		s.lineRefused(w, a, at, typed, http.StatusConflict, "", changedFault(s.record.Name))
		return
	}
	s.lineGone(w, a, http.StatusConflict, "Nothing was written.", diag.Fault{File: s.record.Name, What: "it was changed by another program or page, and the line no longer stands there as this page showed it",
		Fix: "look at what stands there now, below"})
}

// lineRefused shows the page of a line again with what was typed and what is wrong.
func (s *Server) lineRefused(w http.ResponseWriter, a askedLine, line int, typed url.Values, status int, unsure string, faults ...diag.Fault) {
	p, ok := s.lineOf(a, line)
	if !ok {
		s.lineGone(w, a, http.StatusNotFound, "Nothing was written.", faults...)
		return
	}
	p.Title = "Not written: " + p.Title
	if typed.Has("kind") || typed.Has("date") { // the form that takes a line out carries no entry
		p.Form.take(typed)
	}
	p.Form.Head, p.Out = "Nothing was written.", unsure
	for _, x := range faults {
		if x.Severity == diag.Wrong {
			p.Form.wrong(x)
		}
	}
	s.show(w, status, "line.html", p)
}

// lineGone shows the record in the place of a line that is not there.
func (s *Server) lineGone(w http.ResponseWriter, a askedLine, status int, head string, faults ...diag.Fault) {
	p := s.recordOf(a.h, a.l, a.f, a.now)
	p.Form.Head = head
	for _, x := range faults {
		p.Form.wrong(x)
	}
	s.show(w, status, "record.html", p)
}
