package web

import (
	"bytes"
	"html/template"
	"net/http"
	"path"
	"slices"
	"sync"

	"rootworthy/export/money"
	"rootworthy/export/report"
	"rootworthy/internal/diag"
	"rootworthy/suitability"
)

// Reckoner works out what a stand may cost and bring by the user's prices, by the function of the command line.
type Reckoner func(r *suitability.Result, faults *diag.List) (*money.Book, error)

// reckoned is what came of it for a run, worked out when it is first asked for.
type reckoned struct {
	once   sync.Once
	book   *money.Book
	doc    *report.Document
	faults []fault
	err    error
}

func (s *Server) reckon(l *loaded) *reckoned {
	m := &l.money
	// prices and run stay as they are while the program runs, so once is enough, and a fault in the prices is told again as it was
	m.once.Do(func() {
		var faults diag.List
		if m.book, m.err = s.reckoner(l.result, &faults); m.err != nil {
			return
		}
		m.doc = m.book.Document()
		for _, f := range faults.Kept() {
			m.faults = append(m.faults, fault{f.Severity.String(), f.String()})
		}
	})
	return m
}

// moneyPage is what a stand may cost and bring.
type moneyPage struct {
	frame
	Run     int
	RunName string
	Body    template.HTML // written by package report, every text in it escaped
	Faults  []fault
	Files   []string
}

// moneyOf shows what the fields of a run may cost and bring; without prices, how to give them.
func (s *Server) moneyOf(w http.ResponseWriter, r *http.Request) {
	b, l, ok := s.opened(w, r)
	if !ok {
		return
	}
	p := &moneyPage{frame: s.frame("Money"), Run: b.Number, RunName: heading(b, l.result)}
	if s.reckoner == nil {
		s.show(w, http.StatusOK, "money.html", p)
		return
	}
	m := s.reckon(l)
	if m.err != nil {
		s.fail(w, r, http.StatusUnprocessableEntity, m.err.Error())
		return
	}
	var body bytes.Buffer
	if err := report.WriteHTML(&body, m.doc.Blocks); err != nil {
		s.fail(w, r, http.StatusInternalServerError, err.Error())
		return
	}
	p.Body, p.Faults, p.Files = template.HTML(body.String()), m.faults, moneyFiles()
	s.show(w, http.StatusOK, "money.html", p)
}

// moneyFiles are those that say something by themselves: the mark of a folder does not.
func moneyFiles() []string {
	all := money.Files()
	return all[:len(all)-1]
}

// moneyTypes are their types by the ends of their names.
var moneyTypes = map[string]string{".html": "text/html; charset=utf-8", ".pdf": "application/pdf", ".csv": "text/csv; charset=utf-8", ".svg": "image/svg+xml", ".toml": "application/toml"}

// moneyFile sends a file as the verb money writes it.
func (s *Server) moneyFile(w http.ResponseWriter, r *http.Request) {
	name := r.PathValue("name")
	if !slices.Contains(moneyFiles(), name) || s.reckoner == nil {
		s.fail(w, r, http.StatusNotFound, "There is no such file.")
		return
	}
	_, l, opened := s.opened(w, r)
	if !opened {
		return
	}
	m := s.reckon(l)
	if m.err != nil {
		s.fail(w, r, http.StatusUnprocessableEntity, m.err.Error())
		return
	}
	var out bytes.Buffer
	if err := m.book.Write(&out, name, report.Letter); err != nil {
		s.fail(w, r, http.StatusInternalServerError, err.Error())
		return
	}
	w.Header().Set("Content-Type", moneyTypes[path.Ext(name)])
	w.Header().Set("Content-Disposition", `attachment; filename="`+name+`"`)
	w.Write(out.Bytes())
}
