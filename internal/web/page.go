package web

import (
	"bytes"
	"encoding/json"
	"html/template"
	"net/http"
	"net/url"

	"rootworthy/export/words"
)

// frame is what every page has.
type frame struct {
	Title, Program, Token string
	Several               bool // there is a list of runs to go back to
	Script                bool
}

func (s *Server) frame(title string) frame {
	return frame{Title: title, Program: s.program, Token: s.token, Several: s.screener != nil || len(s.shelf.list()) > 1, Script: true}
}

// speak are the words that templates call for.
func speak() template.FuncMap {
	return template.FuncMap{"date": words.Date, "count": words.Count, "inc": func(i int) int { return i + 1 }}
}

// show writes a page. It is made whole before the first byte goes out, so that a fault of ours is not half a page.
func (s *Server) show(w http.ResponseWriter, status int, name string, data any) {
	var b bytes.Buffer
	if err := s.pages.ExecuteTemplate(&b, name, data); err != nil {
		http.Error(w, "the page could not be made: "+err.Error(), http.StatusInternalServerError)
		return
	}
	w.Header().Set("Content-Type", "text/html; charset=utf-8")
	w.WriteHeader(status)
	w.Write(b.Bytes())
}

// html makes a part of a page.
func (s *Server) html(name string, data any) (string, error) {
	var b bytes.Buffer
	err := s.pages.ExecuteTemplate(&b, name, data)
	return b.String(), err
}

func (s *Server) fail(w http.ResponseWriter, r *http.Request, status int, what string) {
	if r.URL.Query().Has("part") || r.Method == http.MethodPost || r.Header.Get("Accept") == "application/json" {
		answer(w, status, map[string]string{"error": what})
		return
	}
	s.show(w, status, "fault.html", struct {
		frame
		What string
	}{s.frame("Not found"), what})
}

// answer writes JSON.
func answer(w http.ResponseWriter, status int, data any) {
	b, err := json.Marshal(data)
	if err != nil {
		http.Error(w, err.Error(), http.StatusInternalServerError)
		return
	}
	w.Header().Set("Content-Type", "application/json")
	w.WriteHeader(status)
	w.Write(b)
}

// opened returns the run that an address names, or has told that there is none.
func (s *Server) opened(w http.ResponseWriter, r *http.Request) (*book, *loaded, bool) {
	b := s.book(r.PathValue("run"))
	if b == nil {
		s.fail(w, r, http.StatusNotFound, "There is no such run.")
		return nil, nil, false
	}
	l, err := s.shelf.open(b)
	if err != nil {
		s.fail(w, r, http.StatusUnprocessableEntity, err.Error())
		return nil, nil, false
	}
	return b, l, true
}

// staged returns the run under the what-if of an address.
func (s *Server) staged(w http.ResponseWriter, r *http.Request) (*book, *scene, bool) {
	b, l, ok := s.opened(w, r)
	if !ok {
		return nil, nil, false
	}
	sc, err := l.staged(r.URL.Query())
	if err != nil {
		s.fail(w, r, http.StatusBadRequest, err.Error())
		return nil, nil, false
	}
	return b, sc, true
}

func (l *loaded) staged(q url.Values) (*scene, error) {
	a, err := readAsk(q, l.result.Profile, l.target())
	if err != nil {
		return nil, err
	}
	return l.scene(a)
}
