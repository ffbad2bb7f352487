package bench

import (
	"fmt"
	"io"
	"math"
	"math/rand/v2"

	"github.com/paulmach/orb"
)

// Shapes in common use: a quarter section is half a mile square, a centre pivot is the circle in it.
const (
	halfMile        = 804.67 // metres
	metresPerDegree = 111320
)

// Fields returns n made fields within a box of longitude and latitude: pivots, quarter sections and irregular ones,
// some with a pond. They stand in the cells of a lattice and shrink with it, so that none overlaps another however many
// there are. The same seed gives the same fields.
func Fields(within orb.Bound, n int, seed uint64) []orb.Polygon {
	r := rand.New(rand.NewPCG(seed, 0x5eed))
	// A square lattice, its last row perhaps not full.
	side := int(math.Ceil(math.Sqrt(float64(n))))
	cell := orb.Point{(within.Max[0] - within.Min[0]) / float64(side), (within.Max[1] - within.Min[1]) / float64(side)}
	// A tenth of the cell is left free between neighbours. Longitudes are shortest where the latitude is highest; the
	// southern edge is near enough over a county, and the free tenth covers the rest.
	size := min(halfMile, 0.9*cell[1]*metresPerDegree, 0.9*cell[0]*metresPerDegree*math.Cos(within.Min[1]*math.Pi/180))
	out := make([]orb.Polygon, n)
	for i := range out {
		at := orb.Point{within.Min[0] + (float64(i%side)+0.5)*cell[0], within.Min[1] + (float64(i/side)+0.5)*cell[1]}
		switch k := r.IntN(10); {
		// Four in ten are pivots, three are quarter sections, the rest irregular.
		case k < 4:
			out[i] = orb.Polygon{ring(at, 180, func(float64) float64 { return size / 2 })}
		case k < 7:
			out[i] = orb.Polygon{ring(at, 4, func(float64) float64 { return size / math.Sqrt2 })}
		default:
			out[i] = irregular(at, size*(0.2+0.15*r.Float64()), r)
		}
	}
	return out
}

// irregular is a wavy outline, every other time with a pond.
func irregular(at orb.Point, size float64, r *rand.Rand) orb.Polygon {
	// Nearly a full turn, in radians: where along the outline the waves begin.
	a, b := r.Float64()*6, r.Float64()*6
	p := orb.Polygon{ring(at, 60, func(t float64) float64 { return size * (1 + 0.25*math.Sin(3*t+a) + 0.1*math.Sin(7*t+b)) })}
	if r.IntN(2) == 0 {
		pond := ring(at, 24, func(t float64) float64 { return size / 5 * (1 + 0.2*math.Sin(2*t)) })
		// Holes run clockwise (RFC 7946, section 3.1.6).
		pond.Reverse()
		p = append(p, pond)
	}
	return p
}

// ring draws n corners around a place, at the distance in metres that radius gives for each angle.
func ring(at orb.Point, n int, radius func(angle float64) float64) orb.Ring {
	var out orb.Ring
	for k := range n {
		// Half a step on, so that the sides of a square run along the compass.
		t := 2 * math.Pi * (float64(k) + 0.5) / float64(n)
		d := radius(t)
		out = append(out, orb.Point{round7(at[0] + d*math.Cos(t)/(metresPerDegree*math.Cos(at[1]*math.Pi/180))), round7(at[1] + d*math.Sin(t)/metresPerDegree)})
	}
	return append(out, out[0])
}

// Seven decimals are a centimetre, as fields come from other programs.
func round7(v float64) float64 { return math.Round(v*1e7) / 1e7 }

// WriteGeoJSON writes fields as a FeatureCollection with ids 1…n.
func WriteGeoJSON(w io.Writer, fields []orb.Polygon) error {
	if _, err := io.WriteString(w, `{"type":"FeatureCollection","features":[`); err != nil {
		return err
	}
	for i, f := range fields {
		comma := ","
		if i == 0 {
			comma = ""
		}
		if _, err := fmt.Fprintf(w, "%s\n{\"type\":\"Feature\",\"id\":\"%d\",\"properties\":{},\"geometry\":{\"type\":\"Polygon\",\"coordinates\":%s}}", comma, i+1, coordinates(f)); err != nil {
			return err
		}
	}
	_, err := io.WriteString(w, "\n]}\n")
	return err
}

// coordinates writes a polygon's coordinates as GeoJSON has them.
func coordinates(p orb.Polygon) []byte {
	b := []byte{'['}
	for i, r := range p {
		if i > 0 {
			b = append(b, ',')
		}
		b = append(b, '[')
		for k, q := range r {
			if k > 0 {
				b = append(b, ',')
			}
			// By hand, so that every corner has its seven decimals.
			b = fmt.Appendf(b, "[%.7f,%.7f]", q[0], q[1])
		}
		b = append(b, ']')
	}
	return append(b, ']')
}
