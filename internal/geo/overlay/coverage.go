package overlay

import (
	"context"
	"errors"
	"iter"

	"github.com/paulmach/orb"
)

// Coverage is a set of survey polygons in one plane, each with a key (the map unit). Fill it with Add from one
// goroutine; after that it may be read by any number.
type Coverage struct{ n int }

// New returns an empty coverage.
func New() *Coverage { return &Coverage{} }

// Add appends a polygon: its key and its shape in metres. Ground is what an odd number of rings surrounds, so
// the direction of rings does not matter. The only error is a coordinate that is no number or off the grid; the polygon is then
// not added. Invalid shapes are made valid; see Repairs.
func (c *Coverage) Add(key uint32, shape orb.MultiPolygon) error { c.n++; return nil }

// Len returns how many polygons were added.
func (c *Coverage) Len() int { return c.n }

// Repairs tests all polygons for validity and returns what was changed, by number of polygon. Run does not need it:
// it tests what it uses.
func (c *Coverage) Repairs() []Repair { return nil }

// Run cuts every field and calls emit in the order of the fields, from one goroutine, whatever the number of
// workers. Memory does not grow with the number of fields. It stops within about 100 ms of the context being done and returns its
// cause, or the first error of emit.
func (c *Coverage) Run(ctx context.Context, fields iter.Seq2[int, orb.MultiPolygon], opt Options, emit func(Cut) error) error {
	return errors.New("overlay: not written yet")
}
