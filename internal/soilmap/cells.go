package soilmap

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"github.com/paulmach/orb"

	"rootworthy/raster"
)

// tileSide is how many cells a side are read and outlined at once: some megabytes, whatever the raster's size.
const tileSide = 1024

// meshCells is how many cells an edge may run straight before it gets a corner, so that it bends as the cells do when it
// is brought to longitude and latitude: a straight line in the raster's system is none there. 16 cells of 30 m are 480 m,
// whose bend is under a centimetre.
const meshCells = 16

// ground is where the cells of a raster lie, and which of them matter.
type ground struct {
	frame raster.Frame
	tiles []raster.Window
}

// maxTiles bounds the tiles that are read in one run; the whole country at 30 m has 15,000.
const maxTiles = 50_000

// newGround lists the tiles that meet the boxes, by rows; nil boxes mean all ground. Tiles lie on one grid whatever
// the boxes are, so that the same cells give the same zones. The error says that there are absurdly many.
func newGround(f raster.Frame, around []orb.Bound) (ground, error) {
	// nil is not the empty list: without fields all ground is meant, with fields that have no place none
	windows := []raster.Window{f.All()}
	if around != nil {
		windows = windows[:0]
		for _, b := range around {
			windows = append(windows, windowOf(f, b))
		}
	}
	wanted := map[[2]int]bool{}
	// Tiles and not cells are gathered: what a tile is outlined into must not depend on which of its cells a field is near.
	for _, w := range windows {
		if w.Empty() {
			continue
		}
		c0, r0, c1, r1 := w.Col/tileSide, w.Row/tileSide, (w.Col+w.Cols-1)/tileSide, (w.Row+w.Rows-1)/tileSide
		// each side first, so that the product below cannot wrap round
		if c1-c0 >= maxTiles || r1-r0 >= maxTiles || (c1-c0+1)*(r1-r0+1)+len(wanted) > maxTiles {
			return ground{}, fmt.Errorf("over %d million cells are to be read; give a raster of larger cells, or a smaller window", maxTiles*tileSide*tileSide/1_000_000)
		}
		for row := r0; row <= r1; row++ {
			for col := c0; col <= c1; col++ {
				// boxes of neighbouring fields share tiles
				wanted[[2]int{row, col}] = true
			}
		}
	}
	at := make([][2]int, 0, len(wanted))
	for t := range wanted {
		at = append(at, t)
	}
	slices.SortFunc(at, func(a, b [2]int) int { return cmp.Or(cmp.Compare(a[0], b[0]), cmp.Compare(a[1], b[1])) })
	g := ground{frame: f}
	for _, t := range at {
		w := raster.Window{Col: t[1] * tileSide, Row: t[0] * tileSide}
		// The last tile of a row or column is cut off by the raster's edge.
		w.Cols, w.Rows = min(tileSide, f.Cols-w.Col), min(tileSide, f.Rows-w.Row)
		g.tiles = append(g.tiles, w)
	}
	return g, nil
}

// windowOf returns the cells that a box (degrees) may touch, one more on every side.
func windowOf(f raster.Frame, b orb.Bound) raster.Window {
	const side = 16 // points along each side: it bends in the raster's system
	var box orb.Bound
	some := false
	for i := range side + 1 {
		// Points inside the box as well as on its sides: a side may lie where the raster's system has no place and the inside
		// not.
		for j := range side + 1 {
			p := orb.Point{b.Min[0] + (b.Max[0]-b.Min[0])*float64(i)/side, b.Min[1] + (b.Max[1]-b.Min[1])*float64(j)/side}
			q, ok := f.CRS.FromLonLat(p)
			switch {
			// a point that the raster's system cannot show; the others still say where the box lies
			case !ok:
			case some:
				box = box.Extend(q)
			default:
				box, some = orb.Bound{Min: q, Max: q}, true
			}
		}
	}
	if !some {
		return raster.Window{}
	}
	// A cell more: between two of the points the side may bend outward.
	box.Min[0], box.Max[0] = box.Min[0]-f.DX, box.Max[0]+f.DX
	box.Min[1], box.Max[1] = box.Min[1]-f.DY, box.Max[1]+f.DY
	return f.Covering(box)
}

// corner returns longitude and latitude of a corner of cells; the same corner gives the same bits.
// Columns count eastward and rows southward from the north-west corner of the raster, not of the tile.
func (g *ground) corner(col, row int) (orb.Point, bool) {
	return g.frame.CRS.ToLonLat(orb.Point{g.frame.X(col), g.frame.Y(row)})
}

// toEarth brings a polygon of cell edges to longitude and latitude. An edge gets the corners of the mesh, and one on the
// border of a tile those of every cell: what lies beyond it was outlined apart and may turn anywhere.
func (g *ground) toEarth(p orb.Polygon) (orb.Polygon, bool) {
	out := make(orb.Polygon, 0, len(p))
	for _, ring := range p {
		done := make(orb.Ring, 0, len(ring)+8)
		for i := 0; i+1 < len(ring); i++ {
			c0, r0 := g.cell(ring[i])
			c1, r1 := g.cell(ring[i+1])
			step := meshCells
			// the edge runs along the border of a tile
			if c0 == c1 && c0%tileSide == 0 || r0 == r1 && r0%tileSide == 0 {
				step = 1
			}
			// One of the two stands still, since edges run along rows or columns. Steps end at multiples, so that the
			// neighbour, walked the other way, gets the same corners.
			for c, r := c0, r0; c != c1 || r != r1; c, r = toward(c, c1, step), toward(r, r1, step) {
				q, ok := g.corner(c, r)
				if !ok {
					return nil, false
				}
				done = append(done, q)
			}
		}
		// closed by its first corner, which the walk leaves to this
		if len(done) > 0 {
			done = append(done, done[0])
		}
		out = append(out, done)
	}
	return out, true
}

// cell returns which corner of cells a point is.
// The polygon comes from Polygonise, so every point is such a corner.
func (g *ground) cell(p orb.Point) (col, row int) {
	// Rounded, for the outline's points are products of cell sizes and a hair off the whole number.
	return int(math.Round((p[0] - g.frame.West) / g.frame.DX)), int(math.Round((g.frame.North - p[1]) / g.frame.DY))
}

// toward goes from one line of cells towards another, as far as the next multiple of step.
func toward(from, to, step int) int {
	switch {
	case from < to:
		// To multiples of step and not by steps from where the edge begins: two patches may share a part of a line and begin it
		// at different corners.
		return min(to, (from/step+1)*step)
	case from > to:
		return max(to, (from-1)/step*step)
	}
	return to
}
