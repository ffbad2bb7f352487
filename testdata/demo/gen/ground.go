package main

import (
	"math"
	"math/rand/v2"

	"github.com/paulmach/orb"
)

// The ground, drawn from the north-west corner; a letter is a map unit, a cell is cellSize metres square. The lines
// between units are then bent so that they look surveyed, not drawn with a ruler.
var ground = []string{
	"AAAAAABBBBBBBBEEEE",
	"AAAAAABBBBBBBEEEEE",
	"AAAAABBBBBBBBBEEEE",
	"AAAABBBBBBFFFBBEEE",
	"CCCAABBBBFFFFFBBEE",
	"CCCCCABBBFFFFFBBBB",
	"CCCCCCAABBFFFBBBBB",
	"CCCCCCAAAADDBBBBBB",
	"CCCCCAAADDDDDDBBCC",
	"AACCAAADDDDDDDDDCC",
	"AAAAADDDDWWWDDDDCC",
	"BBAADDDDWWWWWDDDCC",
	"BBBDDDDDDWWDDDDCCC",
	"BBBBDDDDDDDDDDCCCC",
}

const cellSize = 150 // metres

// The farm lies on open sea, so that nobody's ground can be meant.
const (
	lon0, lat0 = -78.2, 32.6
	halvings   = 4 // each cell edge becomes 2^halvings segments
)

type node struct{ i, j int } // column, row from the south

// polygon is one delineation: rings of local metres, the outer one first.
type polygon struct {
	unit  byte
	rings [][]orb.Point
}

func letter(i, j int) byte {
	if j < 0 || j >= len(ground) || i < 0 || i >= len(ground[0]) {
		return 0
	}
	return ground[len(ground)-1-j][i]
}

// place returns where a node lies: jittered inside, straight along the edge of the survey.
func place(n node) orb.Point {
	r := rand.New(rand.NewPCG(uint64(n.i), uint64(n.j)))
	dx, dy := 0.5*(r.Float64()-0.5), 0.5*(r.Float64()-0.5)
	if n.i == 0 || n.i == len(ground[0]) {
		dx = 0
	}
	if n.j == 0 || n.j == len(ground) {
		dy = 0
	}
	return orb.Point{(float64(n.i) + dx) * cellSize, (float64(n.j) + dy) * cellSize}
}

// bend returns the points from a up to but not including b, by midpoint displacement. The displacement hangs on the
// undirected edge alone, so both neighbours carry the same points.
func bend(a, b node) []orb.Point {
	if b.i < a.i || b.i == a.i && b.j < a.j {
		back := append(bend(b, a), place(a))
		out := []orb.Point{place(a)}
		for k := len(back) - 2; k >= 1; k-- {
			out = append(out, back[k])
		}
		return out
	}
	straight := letter(a.i, a.j-1) == 0 && b.j == a.j || letter(a.i, a.j) == 0 && b.j == a.j ||
		a.i == b.i && (letter(a.i-1, a.j) == 0 || letter(a.i, a.j) == 0)
	r := rand.New(rand.NewPCG(uint64(a.i*1000+a.j), uint64(b.i*1000+b.j)))
	pts := []orb.Point{place(a), place(b)}
	for range halvings {
		next := pts[:1:1]
		for k := 1; k < len(pts); k++ {
			p, q := pts[k-1], pts[k]
			d := 0.24 * (r.Float64() - 0.5)
			if straight {
				d = 0
			}
			next = append(next, orb.Point{(p[0]+q[0])/2 - d*(q[1]-p[1]), (p[1]+q[1])/2 + d*(q[0]-p[0])}, q)
		}
		pts = next
	}
	return pts[:len(pts)-1]
}

// polygons joins cells of one letter that share an edge into delineations.
func polygons() []polygon {
	w, h := len(ground[0]), len(ground)
	seen := map[node]bool{}
	var out []polygon
	for j := range h {
		for i := range w {
			if !seen[node{i, j}] {
				out = append(out, polygon{letter(i, j), rings(flood(node{i, j}, seen))})
			}
		}
	}
	return out
}

func flood(start node, seen map[node]bool) []node {
	todo, cells := []node{start}, []node(nil)
	seen[start] = true
	for len(todo) > 0 {
		c := todo[0]
		todo, cells = todo[1:], append(cells, c)
		for _, d := range []node{{1, 0}, {-1, 0}, {0, 1}, {0, -1}} {
			n := node{c.i + d.i, c.j + d.j}
			if !seen[n] && letter(n.i, n.j) == letter(c.i, c.j) {
				seen[n] = true
				todo = append(todo, n)
			}
		}
	}
	return cells
}

// rings traces the boundary of a set of cells, interior on the left, sharpest left turn first at a pinch.
func rings(cells []node) [][]orb.Point {
	in := map[node]bool{}
	for _, c := range cells {
		in[c] = true
	}
	type edge struct{ a, b node }
	var edges []edge
	from := map[node][]edge{}
	for _, c := range cells {
		sw, se, ne, nw := c, node{c.i + 1, c.j}, node{c.i + 1, c.j + 1}, node{c.i, c.j + 1}
		for _, s := range []struct {
			e edge
			n node
		}{{edge{sw, se}, node{c.i, c.j - 1}}, {edge{se, ne}, node{c.i + 1, c.j}}, {edge{ne, nw}, node{c.i, c.j + 1}}, {edge{nw, sw}, node{c.i - 1, c.j}}} {
			if !in[s.n] {
				edges = append(edges, s.e)
				from[s.e.a] = append(from[s.e.a], s.e)
			}
		}
	}
	used := map[edge]bool{}
	var out [][]orb.Point
	for _, start := range edges {
		if used[start] {
			continue
		}
		var ring []orb.Point
		for e := start; !used[e]; {
			used[e] = true
			ring = append(ring, bend(e.a, e.b)...)
			next := edge{}
			best := -2
			for _, f := range from[e.b] {
				turn := (e.b.i-e.a.i)*(f.b.j-f.a.j) - (e.b.j-e.a.j)*(f.b.i-f.a.i)
				if !used[f] && turn > best {
					best, next = turn, f
				}
			}
			if best == -2 {
				break
			}
			e = next
		}
		out = append(out, ring)
	}
	for _, r := range out {
		for k := range r {
			r[k] = warp(r[k])
		}
	}
	return outerFirst(out)
}

// warp pushes a point along two waves, less towards the edge of the survey, which stays straight. It depends on the
// place alone, so shared lines stay shared; the waves are too long to fold the ground.
func warp(p orb.Point) orb.Point {
	w, h := float64(len(ground[0])*cellSize), float64(len(ground)*cellSize)
	calm := min(1, p[0]/cellSize, (w-p[0])/cellSize, p[1]/cellSize, (h-p[1])/cellSize)
	dx := 34*math.Sin(p[1]/76+1.3) + 9*math.Sin(p[1]/31+p[0]/90)
	dy := 34*math.Sin(p[0]/83+0.4) + 9*math.Sin(p[0]/29-p[1]/110)
	return orb.Point{p[0] + calm*dx, p[1] + calm*dy}
}

func outerFirst(rs [][]orb.Point) [][]orb.Point {
	for k, r := range rs {
		if orb.Ring(append(r[:len(r):len(r)], r[0])).Orientation() == orb.CCW {
			rs[0], rs[k] = rs[k], rs[0]
		}
	}
	return rs
}

// lonLat turns local metres into degrees, rounded to 7 decimals.
func lonLat(p orb.Point) orb.Point {
	round := func(v float64) float64 { return math.Round(v*1e7) / 1e7 }
	return orb.Point{round(lon0 + p[0]/(111320*math.Cos(lat0*math.Pi/180))), round(lat0 + p[1]/110900)}
}
