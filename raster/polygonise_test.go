package raster

import (
	"context"
	"flag"
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"github.com/paulmach/orb"
	"github.com/paulmach/orb/planar"

	"rootworthy/internal/geo/arrange"
)

var seed = flag.Uint64("seed", 1, "of random cases")

// drawn makes a grid of whole metres from lines of letters; a blank or dot is missing.
func drawn(t testing.TB, lines ...string) *Grid[int64] {
	t.Helper()
	f := Frame{Cols: len(lines[0]), Rows: len(lines), West: 100, North: 200, DX: 1, DY: 1}
	g, err := New[int64](f)
	if err != nil {
		t.Fatal(err)
	}
	for r, line := range lines {
		for c, k := range line {
			if k != '.' {
				g.Set(c, r, int64(k))
			}
		}
	}
	return g
}

func outlined[K Integer](t testing.TB, g *Grid[K]) []Zone[K] {
	t.Helper()
	zones, err := Polygonise(context.Background(), g, OutlineOptions{})
	if err != nil {
		t.Fatal(err)
	}
	return zones
}

// shapeOf prints a zone as rings of corners relative to 100, 200, rows down.
func shapeOf(z Zone[int64]) string {
	var b strings.Builder
	for _, p := range z.Shape {
		for k, r := range p {
			b.WriteString([]string{"P", "h"}[min(k, 1)])
			for _, q := range r[:len(r)-1] {
				fmt.Fprintf(&b, " %v,%v", q[0]-100, 200-q[1])
			}
			b.WriteString("; ")
		}
	}
	return strings.TrimSuffix(b.String(), "; ")
}

// Grids drawn as letters, a letter a key; rings are written as their corners in columns and rows.
func TestPolygoniseDrawn(t *testing.T) {
	for _, tc := range []struct {
		name  string
		lines []string
		want  map[rune]string
	}{
		{"one cell", []string{"a"}, map[rune]string{'a': "P 0,0 0,1 1,1 1,0"}},
		{"third patch leaves a corner", []string{"aa", "bc"}, map[rune]string{
			'a': "P 0,0 0,1 1,1 2,1 2,0", 'b': "P 0,1 0,2 1,2 1,1", 'c': "P 1,1 1,2 2,2 2,1"}},
		{"corner touch stays two", []string{"ab", "ba"}, map[rune]string{
			'a': "P 0,0 0,1 1,1 1,0; P 1,1 1,2 2,2 2,1", 'b': "P 1,0 1,1 2,1 2,0; P 0,1 0,2 1,2 1,1"}},
		{"hole", []string{"aaa", "aba", "aaa"}, map[rune]string{
			'a': "P 0,0 0,3 3,3 3,0; h 1,2 1,1 2,1 2,2", 'b': "P 1,1 1,2 2,2 2,1"}},
		{"hole touches shell", []string{"aaa", "a.a", "aa."}, map[rune]string{
			'a': "P 0,0 0,3 2,3 2,2 3,2 3,0; h 1,2 1,1 2,1 2,2"}},
		{"nothing", []string{".."}, map[rune]string{}},
	} {
		zones := outlined(t, drawn(t, tc.lines...))
		if len(zones) != len(tc.want) {
			t.Errorf("%s: %d zones, want %d", tc.name, len(zones), len(tc.want))
		}
		for _, z := range zones {
			if got := shapeOf(z); got != tc.want[rune(z.Key)] {
				t.Errorf("%s, %c: got %s, want %s", tc.name, rune(z.Key), got, tc.want[rune(z.Key)])
			}
		}
	}
}

// TestPolygoniseRandom: on random grids of few keys, which make every kind of touch, polygons are valid, areas are those
// of the cells, every side of a polygon that is no outer side is the side of exactly one other, backwards, and every cell
// lies in the zone of its key.
func TestPolygoniseRandom(t *testing.T) {
	rng := rand.New(rand.NewPCG(*seed, 0))
	for n := range 400 {
		f := Frame{Cols: 1 + rng.IntN(12), Rows: 1 + rng.IntN(12), West: 903185, North: 2183135, DX: 8, DY: 4}
		g, _ := New[int64](f)
		count := map[int64]int{}
		for r := range f.Rows {
			for c := range f.Cols {
				if k := int64(rng.IntN(4)); k > 0 {
					g.Set(c, r, k)
					count[k]++
				}
			}
		}
		sides := map[[2]orb.Point]int{}
		for _, z := range outlined(t, g) {
			parts, ok := arrange.FromOrb(z.Shape, 1)
			if !ok || arrange.CheckAll(parts).Kind != arrange.Valid {
				t.Fatalf("-seed %d, case %d: key %d is not valid: %+v", *seed, n, z.Key, arrange.CheckAll(parts))
			}
			if got := planar.Area(z.Shape); got != 32*float64(count[z.Key]) {
				t.Fatalf("-seed %d, case %d: key %d has %v m², its cells %d", *seed, n, z.Key, got, 32*count[z.Key])
			}
			checkTurns(t, z.Shape, sides)
			for r := range f.Rows {
				for c := range f.Cols {
					k, has := g.At(c, r)
					if in := planar.MultiPolygonContains(z.Shape, f.Center(c, r)); in != (has && k == z.Key) {
						t.Fatalf("-seed %d, case %d: cell %d,%d in zone %d: %v", *seed, n, c, r, z.Key, in)
					}
				}
			}
		}
		checkShared(t, g, sides)
	}
}

// checkTurns notes every side of the rings and looks at their direction.
func checkTurns(t *testing.T, mp orb.MultiPolygon, sides map[[2]orb.Point]int) {
	for _, p := range mp {
		for k, r := range p {
			if (r.Orientation() == orb.CCW) != (k == 0) {
				t.Fatalf("ring %d of %v turns the wrong way", k, p)
			}
			for i := range r[1:] {
				sides[[2]orb.Point{r[i], r[i+1]}]++
			}
		}
	}
}

// checkShared: a side without its reverse must have missing ground on its right hand all along.
func checkShared(t *testing.T, g *Grid[int64], sides map[[2]orb.Point]int) {
	for s, n := range sides {
		if n != 1 {
			t.Fatalf("side %v is in %d rings", s, n)
		}
		if sides[[2]orb.Point{s[1], s[0]}] == 1 {
			continue
		}
		dx, dy := s[1][0]-s[0][0], s[1][1]-s[0][1]
		length := math.Abs(dx) + math.Abs(dy)
		for step := 1.0; step < length; step += 2 {
			p := orb.Point{s[0][0] + dx*step/length + dy/length, s[0][1] + dy*step/length - dx/length}
			if v, ok := g.Value(p); ok {
				t.Fatalf("side %v has no partner, and %v on its right hand", s, v)
			}
		}
	}
}

// Noise makes four corners a cell and would fill the memory.
func TestPolygoniseLimit(t *testing.T) {
	g := drawn(t, "abc", "def")
	if _, err := Polygonise(context.Background(), g, OutlineOptions{MaxCorners: 12}); err == nil || !strings.Contains(err.Error(), "noise") {
		t.Errorf("12 corners for six cells: %v", err)
	}
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	if _, err := Polygonise(ctx, g, OutlineOptions{}); err == nil {
		t.Error("a cancelled context went unnoticed")
	}
}

// TestTypes: unsigned keys at the end of their range sort as numbers.
func TestTypes(t *testing.T) {
	f := Frame{Cols: 3, Rows: 1, DX: 1, DY: 1}
	g, err := FromCells(f, []uint64{math.MaxUint64, 0, 1 << 63}, nil)
	if err != nil {
		t.Fatal(err)
	}
	var got []uint64
	for _, z := range outlined(t, g) {
		got = append(got, z.Key)
	}
	if want := []uint64{0, 1 << 63, math.MaxUint64}; !slices.Equal(got, want) {
		t.Errorf("keys %v, want %v", got, want)
	}
}
