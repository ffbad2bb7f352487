package managementzone

import (
	"context"
	"fmt"
	"math"

	"rootworthy/raster"
)

// Options tunes [Divide]. The zero value suits a first look.
type Options struct {
	Most  int     // zones at most; 0 means 3
	Width float64 // that a zone has at least, in the unit of the grid; 0 means one cell
	// LeastArea is the ground that a patch has at least, in square units of the grid; 0 means four squares of Width.
	LeastArea float64
	// LeastStep is how far the means of two zones must be apart: no less than the machine can be set to. 0 means any.
	LeastStep float64
	// LeastGain is the share of the variance that one zone more must take away; 0 means 0.05.
	// Source of the figure: proposal. An even slope gains 0.75 by the second zone, 0.14 by the third, 0.05 by the fourth.
	LeastGain float64
}

// mostZones bounds the zones; nobody manages a field in more.
const mostZones = 20

// Zone is ground of one label.
type Zone struct {
	Label             int32 // 1 for the zone with the lowest mean, and so on
	Mean, Least, Most float64
	Cells             int
	Area              float64 // of its cells, in square units of the grid
}

// Split is ground in zones.
type Split struct {
	Labels    *raster.Grid[int32] // missing where the surface is
	Zones     []Zone              // by label
	Explained float64             // share of the variance of the cells that lies between zones; 1 where there is none
	Width     float64             // of the blocks: Width of the options in whole cells
}

// Shapes returns the zones as polygons along cells, with common borders; see [raster.Polygonise].
func (s *Split) Shapes(ctx context.Context) ([]raster.Zone[int32], error) {
	return raster.Polygonise(ctx, s.Labels, raster.OutlineOptions{})
}

// filled puts in defaults and refuses what no division can be made by.
func (o Options) filled(f raster.Frame) (Options, error) {
	if o.Most == 0 {
		o.Most = 3
	}
	// zero would split until nothing is gained at all, which nobody means
	if o.LeastGain == 0 {
		o.LeastGain = 0.05
	}
	if o.Most < 0 || o.Most > mostZones || math.IsInf(o.Width+o.LeastArea, 0) ||
		!(o.Width >= 0 && o.LeastArea >= 0 && o.LeastStep >= 0 && o.LeastGain > 0) {
		return o, fmt.Errorf("%d zones of width %v, area %v, step %v, gain %v are not possible; "+
			"give up to %d zones and no negative figure",
			o.Most, o.Width, o.LeastArea, o.LeastStep, o.LeastGain, mostZones)
	}
	// no narrower than the surface can tell
	o.Width = math.Max(o.Width, math.Max(f.DX, f.DY))
	if o.LeastArea == 0 {
		o.LeastArea = 4 * o.Width * o.Width
	}
	return o, nil
}

// Divide splits the cells that hold a value into zones:
//
//   - A zone is made of whole blocks of at least Width by Width, cut only by the edge of the ground; what the edge leaves
//     of a block goes with a neighbour when it is under half.
//   - A patch is no smaller than LeastArea, unless it is an island that is.
//   - The means of zones lie LeastStep apart at least.
//
// A surface without a value gives a split without zones. An error means impossible options, or that ctx ended.
func Divide(ctx context.Context, g *raster.Grid[float64], o Options) (*Split, error) {
	f := g.Frame()
	o, err := o.filled(f)
	if err != nil {
		return nil, err
	}
	b := cut(g, o.Width)
	if err := ctx.Err(); err != nil {
		return nil, context.Cause(ctx)
	}
	// In this order: classes first, then patches too small for the machine, then zones too alike, since each step may
	// bring about the next.
	b.label(part(b.units, o))
	b.clean(o.LeastArea / (f.DX * f.DY))
	if err := ctx.Err(); err != nil {
		return nil, context.Cause(ctx)
	}
	b.join(o.LeastStep)
	return b.split(g)
}
