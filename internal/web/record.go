package web

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"net/http"
	"net/url"
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
	faults  []diag.Fault
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
	now.faults = faults.Kept()
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
	Lime   []string // what was spread against what the run asks
	Caveat string
	Unsown bool // counts are there, and nobody wrote down when the stand was sown
	Faults []recordFault
	Form   entryForm
	Added  string // what was just written, corrected or taken out
}

// recordFault is what is wrong in the file, with the way to mend it here.
type recordFault struct {
	fault
	Line int // 0 where it is no line of the field
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
	p.Added = s.doneText(now, r.URL.Query())
	s.show(w, http.StatusOK, "record.html", p)
}

// doneText says what was just done, by the address that a change leads to; what a line holds can so be read once more.
func (s *Server) doneText(now *recordNow, q url.Values) string {
	if line, err := strconv.Atoi(q.Get("out")); err == nil {
		return fmt.Sprintf("Line %d was taken out of %s; what stood behind it has moved up.", line, s.record.Name)
	}
	for _, x := range [][2]string{{"added", "Written"}, {"corrected", "Corrected"}} { // an address has one of them
		line, err := strconv.Atoi(q.Get(x[0]))
		i := slices.IndexFunc(now.records, func(r stand.Record) bool { return r.Line == line })
		if err == nil && i >= 0 {
			return fmt.Sprintf("%s in line %d of %s: %s.", x[1], line, s.record.Name, recordText(now.records[i]))
		}
	}
	return ""
}

func (s *Server) recordOf(h fieldHead, l *loaded, f *suitability.Field, now *recordNow) *recordPage {
	p := &recordPage{frame: s.frame("Record of " + h.Name), fieldHead: h, File: s.record.Name, Begun: len(now.text) > 0, Faults: now.faultsFor(f.ID),
		Caveat: words.Sentence(words.StandCaveat(stand.PureStands, words.Landowner))}
	stories := stand.History(now.of(f.ID))
	p.Years, p.Later = yearsOf(stories, aimOf(l, f))
	p.Stands = picturesOf(stories)
	p.Lime = limeRecord(l.result, f, now.of(f.ID))
	p.Unsown = slices.ContainsFunc(stories, func(s stand.Story) bool {
		return s.Sown.IsZero() && slices.ContainsFunc(s.Years, func(y stand.Year) bool { return y.Decision != nil })
	})
	p.Form.Seen = now.seen
	p.Form.fill(l, f)
	return p
}

// faultsFor tells what is wrong in the file to somebody who looks at one field.
func (n *recordNow) faultsFor(field string) (out []recordFault) {
	for _, f := range n.faults {
		told := recordFault{fault: fault{f.Severity.String(), f.String()}}
		if e, _, ok := stand.Find(n.text, f.Line); ok && e.Field == field {
			told.Line = f.Line
		}
		out = append(out, told)
	}
	return out
}

// aimOf is the pH that a field is limed to; where its zones differ, that of the first.
func aimOf(l *loaded, f *suitability.Field) suitability.Target {
	if len(f.Zones) == 0 {
		return suitability.Target{}
	}
	return l.result.Zones[f.Zones[0]].Rating.Target
}
