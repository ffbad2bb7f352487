package web

import (
	"bytes"
	"html/template"
	"io"
	"net/http"

	pick "rootworthy/export/choice"
	"rootworthy/export/report"
)

// letterPage is the letter of one field.
type letterPage struct {
	frame
	fieldHead
	Query string
	Head  string
	Body  template.HTML // written by package report, every text in it escaped
}

// letter shows the letter of a field under the weights of the address.
func (s *Server) letter(w http.ResponseWriter, r *http.Request) {
	h, l, f, ok := s.openedField(w, r, "letter")
	if !ok {
		return
	}
	c := s.choiceOf(w, r, s.shelf.get(h.Run), l)
	if c == nil {
		return
	}
	d := c.LetterOf(s.shelf.get(h.Run).Name, f.ID)
	if d == nil {
		s.fail(w, r, http.StatusNotFound, "The ranking has no such field.")
		return
	}
	var body bytes.Buffer
	if err := report.WriteHTML(&body, d.Blocks); err != nil {
		s.fail(w, r, http.StatusInternalServerError, err.Error())
		return
	}
	p := &letterPage{frame: s.frame(d.Title), fieldHead: h, Head: d.Title, Body: template.HTML(body.String())}
	if r.URL.RawQuery != "" {
		p.Query = "?" + r.URL.Query().Encode()
	}
	s.show(w, http.StatusOK, "letter.html", p)
}

// choiceOf ranks under the weights of an address; nil where that was told to be impossible.
func (s *Server) choiceOf(w http.ResponseWriter, r *http.Request, b *book, l *loaded) *pick.Choice {
	if s.ranker == nil {
		s.fail(w, r, http.StatusNotFound, "This program ranks nothing.")
		return nil
	}
	a, wrong := readRankAsk(r.URL.Query())
	// in the order of the form, so that the same address always tells the same fault
	for _, name := range append(weightNames(), "top") {
		if wrong[name] != "" {
			s.fail(w, r, http.StatusBadRequest, wrong[name])
			return nil
		}
	}
	c, err := s.ranked(r.Context(), b, l, a)
	if err != nil {
		s.fail(w, r, http.StatusUnprocessableEntity, err.Error())
		return nil
	}
	return c
}

// rankFiles are the files of a ranking, with their types, as the command line writes them.
var rankFiles = map[string]string{"rank.csv": "text/csv; charset=utf-8", "rank.html": "text/html; charset=utf-8", "rank.pdf": "application/pdf", "letters.pdf": "application/pdf"}

// usualLetters is how many letters are written, as on the command line.
const usualLetters = 50

// rankFile sends a file of the ranking.
func (s *Server) rankFile(w http.ResponseWriter, r *http.Request) {
	name := r.PathValue("name")
	kind, ok := rankFiles[name]
	if !ok {
		s.fail(w, r, http.StatusNotFound, "A ranking has no such file.")
		return
	}
	b, l, opened := s.opened(w, r)
	if !opened {
		return
	}
	c := s.choiceOf(w, r, b, l)
	if c == nil {
		return
	}
	// whole before the first byte goes out: half a list must not pass for one
	var out bytes.Buffer
	if err := writeRank(&out, name, c); err != nil {
		s.fail(w, r, http.StatusInternalServerError, err.Error())
		return
	}
	w.Header().Set("Content-Type", kind)
	w.Header().Set("Content-Disposition", `attachment; filename="`+name+`"`)
	w.Write(out.Bytes())
}

func writeRank(w io.Writer, name string, c *pick.Choice) error {
	switch name {
	case "rank.csv":
		return pick.WriteCSV(w, c)
	case "rank.html":
		return pick.WritePage(w, c.Document())
	case "rank.pdf":
		return c.Document().PDF(w, report.Letter)
	}
	return c.Letters(usualLetters).PDF(w, report.Letter)
}
