package web

import (
	"fmt"
	"net/http"
	"strconv"

	"rootworthy/suitability"
)

// fieldHead is what the pages of one field have in common: its name, and the way to its other pages.
type fieldHead struct {
	Run, Place int
	Name       string
	Here       string // "record", "plan" or "chances"
}

// Base is the address of the run, with a stroke at its end.
func (h fieldHead) Base() string { return fmt.Sprintf("/run/%d/", h.Run) }

// Page is the address of a page of the field.
func (h fieldHead) Page(name string) string {
	return fmt.Sprintf("/run/%d/field/%d/%s", h.Run, h.Place, name)
}

// openedField returns the field that an address names, or has told that there is none.
func (s *Server) openedField(w http.ResponseWriter, r *http.Request, here string) (h fieldHead, l *loaded, f *suitability.Field, ok bool) {
	b, l, ok := s.opened(w, r)
	if !ok {
		return h, nil, nil, false
	}
	place, err := strconv.Atoi(r.PathValue("field"))
	if err != nil || place < 0 || place >= len(l.result.Fields) {
		s.fail(w, r, http.StatusNotFound, "There is no such field in this run.")
		return h, nil, nil, false
	}
	f = &l.result.Fields[place]
	return fieldHead{b.Number, place, fieldName(f), here}, l, f, true
}
