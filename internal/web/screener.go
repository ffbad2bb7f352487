package web

import (
	"context"
	"encoding/json"
	"fmt"
	"net/http"

	"rootworthy/internal/diag"
	"rootworthy/internal/field"
	"rootworthy/internal/job"
	"rootworthy/suitability"
)

// Screener screens boundaries for a page. Its functions open what must be opened and set every option; none is called
// while another is at work.
type Screener struct {
	Survey string // what it screens against, as the user named it
	// First screens what the server was started with; nil: nothing.
	First func(ctx context.Context, progress job.Progress, faults *diag.List) (*suitability.Result, error)
	// Screen screens boundaries that came in through the page.
	Screen func(ctx context.Context, fields []field.Field, inputs []suitability.Input, progress job.Progress, faults *diag.List) (*suitability.Result, error)
	// Keep writes a run to where runs are kept and returns its name there; nil keeps it in memory alone.
	Keep func(*suitability.Result) (name string, err error)
}

func (s *Server) first(t *task) (*made, error) {
	r, err := s.screener.First(t.ctx, t.stage, t.faults)
	return &made{t.What, r}, err
}

// order is what a page asks to be screened.
type order struct {
	Upload int    `json:"upload"`
	Run    int    `json:"run"`  // whose fields to put them among; 0: none
	Name   string `json:"name"` // of the new run
}

// screen begins to screen what was read before.
func (s *Server) screen(w http.ResponseWriter, r *http.Request) {
	if s.screener == nil {
		s.fail(w, r, http.StatusConflict, "No soil survey is open. Start the page with rootworthy view FIELDS --survey PATH to screen boundaries in it.")
		return
	}
	var o order
	if err := json.NewDecoder(http.MaxBytesReader(w, r.Body, 1<<16)).Decode(&o); err != nil {
		s.fail(w, r, http.StatusBadRequest, "The request cannot be read: "+err.Error())
		return
	}
	u := s.uploads.get(o.Upload)
	if u == nil {
		s.fail(w, r, http.StatusGone, "These boundaries are no longer here; drop the file again.")
		return
	}
	fields := u.fields
	if o.Run != 0 {
		b := s.shelf.get(o.Run)
		if b == nil {
			s.fail(w, r, http.StatusNotFound, "There is no such run.")
			return
		}
		l, err := s.shelf.open(b)
		if err != nil {
			s.fail(w, r, http.StatusUnprocessableEntity, err.Error())
			return
		}
		fields = among(l.result, u.fields)
	}
	t, err := s.begin(u.name, func(t *task) (*made, error) {
		r, err := s.screener.Screen(t.ctx, fields, []suitability.Input{u.input}, t.stage, t.faults)
		return &made{fmt.Sprintf("%s (%d)", u.name, t.Number), r}, err
	})
	if err != nil {
		s.fail(w, r, http.StatusConflict, err.Error())
		return
	}
	answer(w, http.StatusAccepted, map[string]int{"task": t.Number})
}

// among puts new boundaries among the fields of a run: one with the id of a field takes its place, others come behind.
func among(r *suitability.Result, drawn []field.Field) []field.Field {
	out := make([]field.Field, 0, len(r.Fields)+len(drawn))
	place := map[string]int{}
	for i := range r.Fields {
		f := &r.Fields[i]
		place[f.ID] = i
		x := field.Field{ID: f.ID, Name: f.Name, Customer: f.Customer, Farm: f.Farm, Shape: f.Shape, Drained: f.Drained, Excluded: f.Excluded, Repairs: f.Repairs}
		if len(f.Shape) == 0 {
			x.Trouble = f.Trouble
		}
		for _, a := range f.Attributes {
			x.Attributes = append(x.Attributes, field.Attribute(a))
		}
		out = append(out, x)
	}
	for _, d := range drawn {
		i, known := place[d.ID]
		if !known {
			out = append(out, d)
			continue
		}
		old := &out[i]
		if d.Name == d.ID {
			d.Name = old.Name
		}
		d.Customer, d.Farm, d.Drained, d.Attributes = old.Customer, old.Farm, d.Drained || old.Drained, old.Attributes
		out[i] = d
	}
	return out
}
