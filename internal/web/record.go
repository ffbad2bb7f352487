package web

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"net/http"
	"slices"
	"strconv"

	"rootworthy/export/words"
	"rootworthy/internal/diag"
	"rootworthy/suitability"
	"rootworthy/suitability/stand"
)

// RecordFile is the record of the fields. It stays a plain file that others may write too, so it is read anew for every page.
type RecordFile struct {
	Name string                 // as the user knows it
	Read func() ([]byte, error) // as it stands now; nothing for one that is not there yet
	// Write puts a text in the place of another, whole or not at all. Where the file holds that other no more it is left
	// alone, and the error is ErrChanged.
	Write func(was, text []byte) error
}

// ErrChanged says that the record was changed by somebody else since it was read.
var ErrChanged = errors.New("the record was changed by another program in the meantime")

// recordNow is the record as the file has it at this moment.
type recordNow struct {
	text    []byte
	seen    string // tells one state of the file from another
	records []stand.Record
	faults  []fault
}

func (s *Server) recordNow() (*recordNow, error) {
	text, err := s.record.Read()
	if err != nil {
		return nil, err
	}
	sum := sha256.Sum256(text)
	now := &recordNow{text: text, seen: hex.EncodeToString(sum[:8])}
	if len(bytes.TrimSpace(text)) == 0 {
		return now, nil
	}
	var faults diag.List
	if now.records, err = stand.Read(s.record.Name, bytes.NewReader(text), &faults); err != nil {
		return nil, err
	}
	for _, f := range faults.Kept() {
		now.faults = append(now.faults, fault{f.Severity.String(), f.String()})
	}
	return now, nil
}

// of returns the lines of a field.
func (n *recordNow) of(field string) []stand.Record {
	var out []stand.Record
	for _, r := range n.records {
		if r.Field == field {
			out = append(out, r)
		}
	}
	return out
}

// recordPage is the record of a field over its years.
type recordPage struct {
	frame
	fieldHead
	File   string // "": none was named, so nothing can be written down
	Begun  bool   // the file is there
	Years  []recordYear
	Later  string // what lies beyond the last year
	Stands []standPicture
	Caveat string
	Faults []fault
	Form   entryForm
	Added  string // what was just written
}

// fieldRecord shows the record of a field.
func (s *Server) fieldRecord(w http.ResponseWriter, r *http.Request) {
	h, l, f, ok := s.openedField(w, r, "record")
	if !ok {
		return
	}
	if s.record == nil {
		s.show(w, http.StatusOK, "record.html", &recordPage{frame: s.frame("Record of " + h.Name), fieldHead: h})
		return
	}
	now, err := s.recordNow()
	if err != nil {
		s.fail(w, r, http.StatusUnprocessableEntity, err.Error())
		return
	}
	p := s.recordOf(h, l, f, now)
	p.Form.begin(r.URL.Query(), l, f)
	if line, err := strconv.Atoi(r.URL.Query().Get("added")); err == nil {
		p.Added = addedText(now, s.record.Name, line)
	}
	s.show(w, http.StatusOK, "record.html", p)
}

// addedText says what a line holds, so that what was just written can be read once more.
func addedText(now *recordNow, file string, line int) string {
	i := slices.IndexFunc(now.records, func(r stand.Record) bool { return r.Line == line })
	if i < 0 {
		return ""
	}
	r := now.records[i]
	return fmt.Sprintf("Written in line %d of %s: %s, %s, %s.", line, file, words.Record(r), whereText(r), words.Date(r.Day.Format("2006-01-02")))
}

func (s *Server) recordOf(h fieldHead, l *loaded, f *suitability.Field, now *recordNow) *recordPage {
	p := &recordPage{frame: s.frame("Record of " + h.Name), fieldHead: h, File: s.record.Name, Begun: len(now.text) > 0, Faults: now.faults,
		Caveat: words.Sentence(words.StandCaveat(stand.PureStands, words.Landowner))}
	stories := stand.History(now.of(f.ID))
	p.Years, p.Later = yearsOf(stories, aimOf(l, f))
	p.Stands = picturesOf(stories)
	p.Form.Seen = now.seen
	p.Form.fill(l, f)
	return p
}

// aimOf is the pH that a field is limed to; where its zones differ, that of the first.
func aimOf(l *loaded, f *suitability.Field) suitability.Target {
	if len(f.Zones) == 0 {
		return suitability.Target{}
	}
	return l.result.Zones[f.Zones[0]].Rating.Target
}

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
		p.File, p.Begun, p.Faults = s.record.Name, len(now.text) > 0, now.faults
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
		if _, known := l.field[r.Field]; !known {
			f := diag.Fault{File: p.File, Line: r.Line, Field: "field_id", What: fmt.Sprintf("the run has no field %q", r.Field), Fix: "correct the line, or look at the run that has it"}
			p.Faults = append(p.Faults, fault{"notice", f.String()})
			if len(p.Faults) > mostOthers {
				return
			}
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
