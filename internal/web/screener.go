package web

import (
	"context"
	"slices"

	"rootworthy/internal/diag"
	"rootworthy/internal/field"
	"rootworthy/internal/job"
	"rootworthy/suitability"
)

// Screener screens boundaries for a page. Its functions open what must be opened and set every option; none but Check is
// called while another is at work.
type Screener struct {
	Survey string // what it screens against, as the user named it
	// First screens what the server was started with; nil: nothing.
	First func(ctx context.Context, progress job.Progress, faults *diag.List) (*suitability.Result, error)
	// Screen screens what came in through the page.
	Screen func(ctx context.Context, o Order, progress job.Progress, faults *diag.List) (*suitability.Result, error)
	// Bounds is how boundaries that come in through the page are read: whose they are, and what is cut out of them. One that is
	// corrected loses its set-backs otherwise.
	Bounds field.Options
	// Check says what of an order cannot be meant, before any work; nil lets all through.
	Check func(o Order) error
	// TestOptions are the options that say how tests are used, by name, in the order in which they are told.
	TestOptions []string
	// Lime is how lime is worked out where the page says nothing.
	Lime LimeOrder
	// Keep writes a run to where runs are kept and returns its name there; nil keeps it in memory alone. With it go the laboratory
	// files that the run was made with, as a zip to be kept beside its folder; nil where it has none.
	Keep func(r *suitability.Result, held []byte) (name string, err error)
}

func (s *Server) first(t *task) (*made, error) {
	r, err := s.screener.First(t.ctx, t.stage, t.faults)
	return &made{Name: t.What, Result: r, order: &Order{Start: true}}, err
}

// Among puts new boundaries among fields: one with the id of a field takes its place and keeps what else is known of it,
// others come behind.
func Among(fields, drawn []field.Field) []field.Field {
	out := slices.Clone(fields)
	place := map[string]int{}
	for i := range out {
		place[out[i].ID] = i
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

// fieldsOf returns the fields of a run that was read from its folder, as near to how they were brought as it holds them.
func fieldsOf(r *suitability.Result) []field.Field {
	out := make([]field.Field, 0, len(r.Fields))
	for i := range r.Fields {
		f := &r.Fields[i]
		x := field.Field{ID: f.ID, Name: f.Name, Customer: f.Customer, Farm: f.Farm, Shape: cornersOf(f.Shape, straight), Drained: f.Drained, Excluded: f.Excluded, Repairs: f.Repairs}
		if len(f.Shape) == 0 {
			x.Trouble = f.Trouble
		}
		for _, a := range f.Attributes {
			x.Attributes = append(x.Attributes, field.Attribute(a))
		}
		out = append(out, x)
	}
	return out
}
