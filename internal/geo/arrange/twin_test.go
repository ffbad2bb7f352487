package arrange

import (
	"fmt"
	"strconv"
	"strings"
	"testing"

	"rootworthy/internal/geo"
)

// rings reads rings from one line of text: "0,0 4,0 4,4; 1,1 1,2 2,2". A bar begins a new polygon.
func rings(t testing.TB, text string) [][]geo.Pt {
	t.Helper()
	var out [][]geo.Pt
	for r := range strings.SplitSeq(text, ";") {
		var ring []geo.Pt
		for f := range strings.FieldsSeq(r) {
			x, y, ok := strings.Cut(f, ",")
			xv, err := strconv.ParseInt(x, 10, 64)
			yv, err2 := strconv.ParseInt(y, 10, 64)
			if !ok || err != nil || err2 != nil {
				t.Fatalf("bad point %q in test text", f)
			}
			ring = append(ring, geo.Pt{X: xv, Y: yv})
		}
		if len(ring) > 0 {
			out = append(out, ring)
		}
	}
	return out
}

// shapes reads polygons: "0,0 4,0 4,4; 1,1 1,2 2,2 | 8,8 9,8 9,9".
func shapes(t testing.TB, text string) []Polygon {
	t.Helper()
	var out []Polygon
	for p := range strings.SplitSeq(text, "|") {
		if r := rings(t, p); len(r) > 0 {
			out = append(out, r)
		}
	}
	return out
}

// show writes polygons the way shapes reads them.
func show(parts []Polygon) string {
	var ps []string
	for _, p := range parts {
		var rs []string
		for _, r := range p {
			var fs []string
			for _, q := range r {
				fs = append(fs, fmt.Sprintf("%d,%d", q.X, q.Y))
			}
			rs = append(rs, strings.Join(fs, " "))
		}
		ps = append(ps, strings.Join(rs, "; "))
	}
	return strings.Join(ps, " | ")
}

// slowFault is an independent test of validity in O(n²): every pair of edges, every vertex against every ring. It
// returns what is wrong, or "". It shares no code with the package but geo.Orient.
func slowFault(parts []Polygon) string {
	for i, p := range parts {
		if f := slowPolygonFault(p); f != "" {
			return fmt.Sprintf("part %d: %s", i, f)
		}
		for j := range parts[:i] {
			if f := slowPairFault(parts[j], p); f != "" {
				return fmt.Sprintf("parts %d and %d: %s", j, i, f)
			}
		}
	}
	return ""
}

func slowPolygonFault(p Polygon) string {
	if len(p) == 0 {
		return "no rings"
	}
	touches := map[[2]int]geo.Pt{} // pairs of rings
	groups := map[geo.Pt]map[int]bool{}
	for i, r := range p {
		if len(r) < 3 {
			return fmt.Sprintf("ring %d has %d points", i, len(r))
		}
		if a := slowTwice(r); a == 0 || (a > 0) != (i == 0) {
			return fmt.Sprintf("ring %d has twice the area %d", i, a)
		}
		for k, pt := range r {
			if pt.Less(r[0]) {
				return fmt.Sprintf("ring %d does not begin with its least point", i)
			}
			for m := range r[:k] {
				if r[m] == pt {
					return fmt.Sprintf("ring %d has %v twice", i, pt)
				}
			}
		}
		for j, s := range p[:i+1] {
			for k, a := range r {
				b := r[(k+1)%len(r)]
				for m, c := range s {
					d := s[(m+1)%len(s)]
					if i == j && m == k {
						continue
					}
					n, at := slowMeet(a, b, c, d)
					if n == 2 {
						return fmt.Sprintf("rings %d and %d overlap or cross at %v", j, i, at)
					}
					if n == 1 && i == j && (k+1)%len(r) != m && (m+1)%len(r) != k {
						return fmt.Sprintf("ring %d touches itself at %v", i, at)
					}
					if n == 1 && i != j {
						if old, ok := touches[[2]int{j, i}]; ok && old != at {
							return fmt.Sprintf("rings %d and %d touch twice", j, i)
						}
						touches[[2]int{j, i}] = at
						if groups[at] == nil {
							groups[at] = map[int]bool{}
						}
						groups[at][i], groups[at][j] = true, true
					}
				}
			}
		}
		for j, s := range p[:i] {
			in := slowInside(s, r)
			if j == 0 && in < 0 || j > 0 && in > 0 || j > 0 && slowInside(r, s) > 0 {
				return fmt.Sprintf("ring %d lies wrongly to ring %d", i, j)
			}
		}
	}
	return slowCircle(len(p), groups)
}

// slowCircle looks for a circle among n rings and the points where some of them touch: it cuts the ground.
func slowCircle(n int, groups map[geo.Pt]map[int]bool) string {
	parent := make([]int, n)
	for i := range parent {
		parent[i] = i
	}
	root := func(i int) int {
		for parent[i] != i {
			i = parent[i]
		}
		return i
	}
	for at, g := range groups {
		first := -1
		for i := range g {
			if first >= 0 {
				if root(first) == root(i) {
					return fmt.Sprintf("ground cut in two near %v", at)
				}
				parent[root(i)] = root(first)
			}
			first = i
		}
	}
	return ""
}

// slowPairFault says what is wrong between two valid polygons of one multipolygon.
func slowPairFault(p, q Polygon) string {
	for _, r := range p {
		for k, a := range r {
			b := r[(k+1)%len(r)]
			for _, s := range q {
				for m, c := range s {
					if n, at := slowMeet(a, b, c, s[(m+1)%len(s)]); n == 2 {
						return fmt.Sprintf("edges cross or overlap at %v", at)
					}
				}
			}
		}
	}
	// Edges only touch, in ends of one of them; so cut all edges there and test the midpoints.
	if at, bad := slowMidpoint(p, q); bad {
		return fmt.Sprintf("ground shared near %v (doubled)", at)
	}
	if at, bad := slowMidpoint(q, p); bad {
		return fmt.Sprintf("ground shared near %v (doubled)", at)
	}
	return ""
}

// slowMidpoint says whether the midpoint of some edge of p lies inside q. Edges are cut at vertices of q on them.
func slowMidpoint(p, q Polygon) (geo.Pt, bool) {
	var double Polygon
	for _, s := range q {
		var r []geo.Pt
		for _, pt := range s {
			r = append(r, geo.Pt{X: 2 * pt.X, Y: 2 * pt.Y})
		}
		double = append(double, r)
	}
	for _, r := range p {
		for k, a := range r {
			b := r[(k+1)%len(r)]
			cuts := []geo.Pt{a, b}
			for _, s := range q {
				for _, v := range s {
					if n, _ := slowMeet(a, b, v, v); n > 0 {
						cuts = append(cuts, v)
					}
				}
			}
			for _, u := range cuts {
				for _, v := range cuts {
					mid := geo.Pt{X: u.X + v.X, Y: u.Y + v.Y}
					if u == v {
						continue
					}
					if n := slowDepth(double, mid); n == 1 {
						return mid, true
					}
				}
			}
		}
	}
	return geo.Pt{}, false
}

// slowDepth returns 1 for a point inside polygon p, 0 on its border, -1 outside.
func slowDepth(p Polygon, at geo.Pt) int {
	in := slowAt(p[0], at)
	for _, h := range p[1:] {
		in = min(in, -slowAt(h, at))
	}
	return in
}

// slowInside says where ring s lies to ring r, judged by the first vertex of s off r: 1 inside, -1 outside, 0 unknown.
func slowInside(r, s []geo.Pt) int {
	for _, v := range s {
		if w := slowAt(r, v); w != 0 {
			return w
		}
	}
	return 0
}

// slowAt returns 1 if v is inside ring r, 0 on it, -1 outside.
func slowAt(r []geo.Pt, v geo.Pt) int {
	in := -1
	for k, a := range r {
		b := r[(k+1)%len(r)]
		if n, _ := slowMeet(a, b, v, v); n > 0 {
			return 0
		}
		if (a.Y > v.Y) != (b.Y > v.Y) && (geo.Orient(a, b, v) > 0) == (b.Y > a.Y) {
			in = -in
		}
	}
	return in
}

// slowMeet counts the points that edges a-b and c-d share: 0, 1 (touching in an end of one), or 2 (crossing inside
// both, or sharing a stretch). c may equal d.
func slowMeet(a, b, c, d geo.Pt) (int, geo.Pt) {
	found := map[geo.Pt]bool{}
	var at geo.Pt
	on := func(a, b, p geo.Pt) {
		if geo.Orient(a, b, p) == 0 && min(a.X, b.X) <= p.X && p.X <= max(a.X, b.X) && min(a.Y, b.Y) <= p.Y && p.Y <= max(a.Y, b.Y) {
			found[p], at = true, p
		}
	}
	on(a, b, c)
	on(a, b, d)
	if c != d {
		on(c, d, a)
		on(c, d, b)
	}
	if len(found) == 0 && geo.Orient(a, b, c)*geo.Orient(a, b, d) < 0 && geo.Orient(c, d, a)*geo.Orient(c, d, b) < 0 {
		return 2, a
	}
	return len(found), at
}

// slowTwice returns twice the area of a ring.
func slowTwice(r []geo.Pt) (sum int64) {
	for k, a := range r {
		b := r[(k+1)%len(r)]
		sum += (a.X-r[0].X)*(b.Y-r[0].Y) - (b.X-r[0].X)*(a.Y-r[0].Y)
	}
	return sum
}

// slowWinding returns how often ring r runs round the point at, which is not on it.
func slowWinding(r []geo.Pt, at geo.Pt) (n int) {
	for k, a := range r {
		b := r[(k+1)%len(r)]
		if (a.Y > at.Y) == (b.Y > at.Y) || (geo.Orient(a, b, at) > 0) != (b.Y > a.Y) {
			continue
		}
		if b.Y > a.Y {
			n++
		} else {
			n--
		}
	}
	return n
}
