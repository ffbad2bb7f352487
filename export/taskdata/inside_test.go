package taskdata

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/paulmach/orb"

	"rootworthy/internal/geo/proj"
	"rootworthy/soils/unit"
)

// Cells are compared with Karney's area of polygons on the ellipsoid, which shares no formula with them.
func TestCellAreaIsThatOfTheEllipsoid(t *testing.T) {
	for _, latitude := range []float64{0, 25.3, 33, 48.9, -61} {
		f := frameOver(orb.Bound{Min: orb.Point{10, latitude}, Max: orb.Point{10.01, latitude + 0.01}}, square(8), 0, 0)
		for _, row := range []int{0, f.Rows - 1} {
			y := float64(f.South+int64(row)*f.North) / nano
			cell := orb.Bound{Min: orb.Point{10, y}, Max: orb.Point{10 + float64(f.East)/nano, y + float64(f.North)/nano}}
			want, _ := proj.GeodesicArea(orb.MultiPolygon{cell.ToPolygon()}, proj.GeodesicOptions{Step: 1})
			if got := f.CellArea(row); math.Abs(got/want-1) > 1e-6 {
				t.Errorf("latitude %g, row %d: %.6f m², want %.6f", latitude, row, got, want)
			}
		}
	}
}

// TestScanAgreesWithPointInPolygon: the obvious way, cell by cell.
func TestScanAgreesWithPointInPolygon(t *testing.T) {
	random := rand.New(rand.NewPCG(1, 2))
	for range 50 {
		var shapes []orb.MultiPolygon
		for range 4 {
			var r orb.Ring
			cx, cy := random.Float64()*1e-3, random.Float64()*1e-3
			for k := range 9 {
				angle, long := float64(k)/9*2*math.Pi, (0.3+0.7*random.Float64())*5e-4
				r = append(r, orb.Point{10 + cx + long*math.Cos(angle), 50 + cy + long*math.Sin(angle)})
			}
			shapes = append(shapes, orb.MultiPolygon{{append(r, r[0])}})
		}
		f := frameOver(orb.Bound{Min: orb.Point{10, 50}, Max: orb.Point{10.001, 50.001}}, square(3), 0, 0)
		s, on := newScan(f, shapes), make([]int32, f.Columns)
		for row := range f.Rows {
			s.row(row, on)
			for c, got := range on {
				if want := firstHolding(shapes, orb.Point{f.ColumnLongitude(c), f.RowLatitude(row)}); got != want {
					t.Fatalf("row %d, column %d: ground %d, want %d", row, c, got, want)
				}
			}
		}
	}
}

// firstHolding is the first shape that holds p, by counting the edges that a line east from p crosses, or -1.
func firstHolding(shapes []orb.MultiPolygon, p orb.Point) int32 {
	for i, mp := range shapes {
		inside := false
		for _, polygon := range mp {
			for _, r := range polygon {
				for k := 1; k < len(r); k++ {
					a, b := r[k-1], r[k]
					if (a[1] > p[1]) != (b[1] > p[1]) && p[0] > (b[0]-a[0])*(p[1]-a[1])/(b[1]-a[1])+a[0] {
						inside = !inside
					}
				}
			}
		}
		if inside {
			return int32(i)
		}
	}
	return -1
}

// Edges that rise, lie flat, stand upright and are a single point, each with 20 m around it. Cells within 5 cm of the border may fall
// either way: the two reckonings round apart there.
func TestHeadlandIsWhatLiesNear(t *testing.T) {
	box := orb.Bound{Min: orb.Point{10, 50}, Max: orb.Point{10.002, 50.002}}
	f := frameOver(box, square(4), 0, 0)
	north, east := degreeLengths(50.001)
	edges := [][2]orb.Point{{{10.0004, 50.0003}, {10.0016, 50.0012}}, {{10.0004, 50.001}, {10.0016, 50.001}}, {{10.001, 50.0004}, {10.001, 50.0016}}, {{10.001, 50.001}, {10.001, 50.001}}}
	for _, e := range edges {
		s := &strip{columns: f.Columns, bits: make([]uint64, (f.Rows*f.Columns+63)/64)}
		s.mark(f, e[0], e[1], 20)
		for row := range f.Rows {
			for c := range f.Columns {
				d := distance(e[0], e[1], orb.Point{f.ColumnLongitude(c), f.RowLatitude(row)}, north, east)
				if math.Abs(d-20) > 0.05 && s.has(row, c) != (d < 20) {
					t.Fatalf("edge %v, row %d, column %d lies %.2f m away: headland %v", e, row, c, d, s.has(row, c))
				}
			}
		}
	}
}

// distance is that of p from the edge a b in metres on a plane; north and east are the metres of a degree.
func distance(a, b, p orb.Point, north, east float64) float64 {
	ax, ay, bx, by := (a[0]-p[0])*east, (a[1]-p[1])*north, (b[0]-p[0])*east, (b[1]-p[1])*north
	dx, dy := bx-ax, by-ay
	t := 0.0
	if l := dx*dx + dy*dy; l > 0 {
		t = min(1, max(0, -(ax*dx+ay*dy)/l))
	}
	return math.Hypot(ax+t*dx, ay+t*dy)
}

// The factors of rates. Source: exact from 1 lb = 0.45359237 kg and 1 acre = 4046.8564224 m²; computed.
func TestMilligrams(t *testing.T) {
	for _, c := range []struct {
		rate unit.AreaRate
		want int32
	}{{unit.ShortTonPerAcre, 224170}, {unit.PoundPerAcre, 112}, {unit.TonnePerHectare, 100000}, {0, 0}} {
		if got := milligrams(c.rate); got != c.want {
			t.Errorf("milligrams(%v) = %d, want %d", c.rate, got, c.want)
		}
	}
	for _, d := range displays() {
		shown := map[string]float64{"lb/ac": 2000, "st/ac": 1, "t/ha": 2.241702312, "kg/ha": 2241.702312}[d.name]
		if got := 224170.2312 * d.perMilligram; math.Abs(got/shown-1) > 1e-9 {
			t.Errorf("1 short ton an acre is shown as %v %s, want %v", got, d.name, shown)
		}
	}
}

// Nine decimals and no exponent, no zeros behind, and never a minus before zero.
func TestNumbersArePlainDecimals(t *testing.T) {
	for n, want := range map[int64]string{0: "0", 1: "0.000000001", -86005000000: "-86.005", 38200000001: "38.200000001", -1: "-0.000000001"} {
		if got := nanoDegrees(n); got != want {
			t.Errorf("nanoDegrees(%d) = %q, want %q", n, got, want)
		}
	}
	for x, want := range map[float64]string{-86.005: "-86.005", 1e-10: "0", 180: "180", -1e-12: "0"} {
		if got := decimal(x); got != want {
			t.Errorf("decimal(%g) = %q, want %q", x, got, want)
		}
	}
}

// TestNeighbourOfManySmall: ten thousand slivers in one zone, without a quadratic step and with the lime conserved.
func TestNeighbourOfManySmall(t *testing.T) {
	grounds := slivers(10000)
	var before, after unit.Mass
	for _, g := range grounds {
		before += g.want.Over(g.area)
	}
	out, joined := merged(grounds, 1000)
	for _, g := range out {
		after += g.want.Over(g.area)
	}
	if joined != 10000 || len(out) != 1 {
		t.Errorf("%d joined, %d left; want all in one", joined, len(out))
	}
	if math.Abs(float64(after/before-1)) > 1e-9 {
		t.Errorf("lime was %v, is %v", before, after)
	}
}

// slivers is a zone with n small squares in it, each a hole of the zone.
func slivers(n int) []ground {
	side := int(math.Ceil(math.Sqrt(float64(n))))
	at := func(x, y float64) orb.Point {
		return orb.Point{math.Round((10+x*1e-4)*1e7) / 1e7, math.Round((50+y*1e-4)*1e7) / 1e7}
	}
	box := func(x, y, w float64) orb.Ring {
		return orb.Ring{at(x, y), at(x+w, y), at(x+w, y+w), at(x, y+w), at(x, y)}
	}
	whole := orb.Polygon{box(0, 0, float64(side+1))}
	var out []ground
	for i := range n {
		r := box(float64(i%side)+0.5, float64(i/side)+0.5, 0.4)
		whole = append(whole, orb.Ring{r[0], r[3], r[2], r[1], r[0]})
		out = append(out, ground{zone: "small", shape: orb.MultiPolygon{{r}}, area: 10, want: unit.ShortTonsPerAcre(1 + float64(i%7)/10)})
	}
	return append(out, ground{zone: "large", shape: orb.MultiPolygon{whole}, area: 1e7, want: unit.ShortTonsPerAcre(1)})
}
