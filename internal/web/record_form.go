package web

import (
	"errors"
	"fmt"
	"net/http"
	"net/url"
	"slices"
	"strings"

	"rootworthy/export/words"
	"rootworthy/internal/diag"
	"rootworthy/suitability"
	"rootworthy/suitability/stand"
)

// entryForm is the form by which a line is written into the record, with what was typed and what is wrong with it.
type entryForm struct {
	Seen   string // the state of the file that the page was made from
	Head   string // says in a few words that what was asked for was not done
	Zones  []choice
	Groups []kindGroup
	Units  []choice
	Wrong  []wrongEntry
	Typed  map[string]string // by name of the field of the form
	Faults map[string]string // likewise
}

// kindGroup is the kinds of one group, to choose from.
type kindGroup struct {
	Name  string
	Kinds []kindChoice
}

type kindChoice struct{ Value, Label, Units string }

// wrongEntry is a fault with the field of the form that it is about.
type wrongEntry struct{ Name, Text string }

// The fields of the form, and the columns of the file that they fill.
var entryFields = map[string]string{"zone_id": "zone", "date": "date", "kind": "kind", "value": "value", "unit": "unit", "note": "note"}

// fill sets out what there is to choose from.
func (e *entryForm) fill(l *loaded, f *suitability.Field) {
	e.Typed, e.Faults = map[string]string{}, map[string]string{}
	e.Zones = []choice{{"", "whole field"}}
	for _, i := range f.Zones {
		z := &l.result.Zones[i]
		e.Zones = append(e.Zones, choice{z.ID, fmt.Sprintf("zone %s: %s, %s acres", z.ID, z.Rating.Class, words.Acres(z.Area))})
	}
	e.Groups = make([]kindGroup, len(groupNames))
	e.Units = []choice{{"", "none"}}
	for _, k := range stand.Kinds() {
		g := groupOf(k)
		e.Groups[g].Name = groupNames[g]
		label := words.RecordKind(k)
		e.Groups[g].Kinds = append(e.Groups[g].Kinds, kindChoice{string(k), strings.ToUpper(label[:1]) + label[1:], strings.Join(k.Units(), " ")})
		for _, u := range k.Units() {
			if !slices.ContainsFunc(e.Units, func(c choice) bool { return c.Value == u }) {
				e.Units = append(e.Units, choice{u, words.RecordUnit(u)})
			}
		}
	}
}

// begin takes a zone and a kind from the address, so that another page can lead straight to an entry.
func (e *entryForm) begin(q url.Values, l *loaded, f *suitability.Field) {
	if z := q.Get("zone"); hasZone(l, f, z) {
		e.Typed["zone"] = z
	}
	if k := stand.Kind(q.Get("kind")); slices.Contains(stand.Kinds(), k) {
		e.Typed["kind"] = string(k)
	}
}

func hasZone(l *loaded, f *suitability.Field, id string) bool {
	return slices.ContainsFunc(f.Zones, func(i int) bool { return l.result.Zones[i].ID == id })
}

// take keeps what was typed.
func (e *entryForm) take(q url.Values) {
	for _, name := range entryFields {
		e.Typed[name] = q.Get(name)
	}
}

// wrong puts a fault beside its field, and into the list at the top.
func (e *entryForm) wrong(f diag.Fault) {
	name := entryFields[f.Field]
	e.Wrong = append(e.Wrong, wrongEntry{name, f.String()})
	if name != "" && e.Faults[name] == "" {
		e.Faults[name] = words.Sentence(f.What)
		if f.Fix != "" {
			e.Faults[name] += " " + words.Sentence(f.Fix)
		}
	}
}

// addRecord writes a line into the record.
func (s *Server) addRecord(w http.ResponseWriter, r *http.Request) {
	h, l, f, ok := s.openedField(w, r, "record")
	if !ok {
		return
	}
	if s.record == nil {
		s.fail(w, r, http.StatusConflict, "No record is open. Start the page with --record FILE to keep one.")
		return
	}
	if err := r.ParseForm(); err != nil {
		s.fail(w, r, http.StatusBadRequest, "The form cannot be read: "+err.Error())
		return
	}
	s.writing.Lock()
	defer s.writing.Unlock()
	now, err := s.recordNow()
	if err != nil {
		s.refuse(w, h, l, f, &recordNow{}, r.PostForm, http.StatusUnprocessableEntity, diag.Fault{File: s.record.Name, What: err.Error()})
		return
	}
	if r.PostForm.Get("seen") != now.seen {
		s.refuse(w, h, l, f, now, r.PostForm, http.StatusConflict, changedFault(s.record.Name))
		return
	}
	e := entryOf(f.ID, r.PostForm)
	var faults diag.List
	s.needsZone(l, f, e.Zone, &faults)
	text, line, ok := stand.Append(s.record.Name, now.text, e, &faults)
	if !ok || faults.Faults() > 0 {
		s.refuse(w, h, l, f, now, r.PostForm, http.StatusUnprocessableEntity, faults.Kept()...)
		return
	}
	switch err := s.record.Write(now.text, text); {
	case errors.Is(err, ErrChanged):
		if again, err := s.recordNow(); err == nil {
			now = again
		}
		s.refuse(w, h, l, f, now, r.PostForm, http.StatusConflict, changedFault(s.record.Name))
	case err != nil:
		s.refuse(w, h, l, f, now, r.PostForm, http.StatusInternalServerError, unwritten(s.record.Name, err))
	default:
		http.Redirect(w, r, fmt.Sprintf("%s?added=%d", h.Page("record"), line.Line), http.StatusSeeOther)
	}
}

// entryOf is the entry that a form holds.
func entryOf(field string, q url.Values) stand.Entry {
	return stand.Entry{Field: field, Zone: q.Get("zone"), Day: q.Get("date"), Kind: q.Get("kind"), Value: q.Get("value"), Unit: q.Get("unit"), Note: q.Get("note")}
}

// needsZone refuses a zone that the field does not have: the file takes any, but a plan would look for it in vain.
func (s *Server) needsZone(l *loaded, f *suitability.Field, zone string, faults *diag.List) {
	if zone != "" && !hasZone(l, f, zone) {
		faults.Add(diag.Fault{File: s.record.Name, Field: "zone_id", What: fmt.Sprintf("the field has no zone %q", zone), Fix: "choose one of its zones"})
	}
}

// unwritten tells of a disk that refused.
func unwritten(name string, err error) diag.Fault {
	return diag.Fault{File: name, What: "it could not be written: " + err.Error(), Fix: "nothing was changed; mend that and try again"}
}

// changedFault tells that somebody else wrote, so that nothing is lost of what he wrote.
func changedFault(name string) diag.Fault {
	return diag.Fault{File: name, What: "it was changed by another program or page since this page was made, so nothing was written",
		Fix: "look at what stands there now, below, and press the button again: what you typed is kept"}
}

// refuse shows the page again with what was typed and what is wrong.
func (s *Server) refuse(w http.ResponseWriter, h fieldHead, l *loaded, f *suitability.Field, now *recordNow, typed url.Values, status int, faults ...diag.Fault) {
	p := s.recordOf(h, l, f, now)
	p.Title, p.Form.Head = "Not written: "+p.Title, "Nothing was written."
	p.Form.take(typed)
	for _, x := range faults {
		if x.Severity == diag.Wrong {
			p.Form.wrong(x)
		}
	}
	s.show(w, status, "record.html", p)
}
