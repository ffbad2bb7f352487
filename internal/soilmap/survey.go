package soilmap

import (
	"context"
	"errors"

	"github.com/paulmach/orb"

	"rootworthy/internal/diag"
	"rootworthy/soils"
	"rootworthy/soils/ssurgo"
)

// Survey is a soil survey that stands open, put together from one source or several. It is for one goroutine.
type Survey struct {
	Export *ssurgo.Export
	Found  []string // what each source is, in the order given

	survey *soils.Survey
	stack  *stack               // modelled properties; nil when there are none
	named  map[string][2]string // symbol and name by key, of map units that the map names and no table has
	// in the order in which they are to be called
	closing []func() error
	faults  *diag.List
}

// Survey returns the attribute side. Nobody may change it.
func (s *Survey) Survey() *soils.Survey { return s.survey }

// Polygons calls emit for every polygon of the map (longitude, latitude): the survey area's symbol, the key of the map
// unit and the shape, which is emit's to keep. It stops at emit's first error.
func (s *Survey) Polygons(ctx context.Context, emit func(area, key string, shape orb.MultiPolygon) error) error {
	if s.stack != nil {
		return s.stack.polygons(ctx, emit)
	}
	return s.Export.Polygons(ctx, func(p ssurgo.Polygon) error {
		if p.Symbol != "" || p.Name != "" {
			// on the way, since a second pass over a state for names alone would take as long as the first
			s.named[p.Unit] = [2]string{p.Symbol, p.Name}
		}
		return emit(p.Area, p.Unit, p.Shape)
	})
}

// Named returns symbol and name of a map unit as the polygons carry them, empty where they do not. It knows polygons
// that were emitted before.
func (s *Survey) Named(key string) (symbol, name string) {
	n := s.named[key]
	return n[0], n[1]
}

// Close frees what the sources hold.
func (s *Survey) Close() error {
	var errs []error
	for _, c := range s.closing {
		// All of them, whatever the first one says: what stays open would keep its file.
		errs = append(errs, c())
	}
	s.closing = nil
	return errors.Join(errs...)
}

// Check reads everything and sums it up.
func (s *Survey) Check(ctx context.Context) (ssurgo.Summary, error) {
	if s.stack == nil {
		return s.Export.Check(ctx)
	}
	out := ssurgo.Summary{Kind: "modelled soil properties, a stand-in for a survey", Areas: s.survey.Areas, Units: len(s.survey.Units)}
	for i := range s.survey.Units {
		for _, c := range s.survey.Units[i].Components {
			out.Components++
			out.Horizons += len(c.Horizons)
		}
	}
	err := s.stack.polygons(ctx, func(string, string, orb.MultiPolygon) error { out.Polygons++; return nil })
	return out, err
}
