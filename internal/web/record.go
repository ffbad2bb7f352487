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
	Unsown bool // counts are there, and nobody wrote down when the stand was sown
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
	p.Unsown = slices.ContainsFunc(stories, func(s stand.Story) bool {
		return s.Sown.IsZero() && slices.ContainsFunc(s.Years, func(y stand.Year) bool { return y.Decision != nil })
	})
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
