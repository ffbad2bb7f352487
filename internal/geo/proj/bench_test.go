package proj

import (
	"testing"

	"github.com/paulmach/orb"
)

var sinkPoint orb.Point

// countyRing is as long as all rings of a survey area of 2,500 polygons together, with edges of some 30 m.
func countyRing() orb.Ring { return circle(orb.Point{-91.3, 33.4}, 6.7, 157000) }

// BenchmarkPlaneForward projects one vertex.
func BenchmarkPlaneForward(b *testing.B) {
	for name, plane := range map[string]Plane{"5070": PlaneFor(bound(-92, 33, -91, 34)), "local": PlaneFor(bound(-156, 19, -155, 20))} {
		b.Run(name, func(b *testing.B) {
			p := orb.Point{-91.3, 33.4}
			for b.Loop() {
				sinkPoint, _ = plane.Forward(p)
			}
		})
		b.Run(name+"-inverse", func(b *testing.B) {
			p, _ := plane.Forward(orb.Point{-91.3, 33.4})
			for b.Loop() {
				sinkPoint, _ = plane.Inverse(p)
			}
		})
	}
}

// BenchmarkCounty projects 157,000 vertices, densifying on and off.
func BenchmarkCounty(b *testing.B) {
	plane, ring := PlaneFor(bound(-92, 33, -91, 34)), countyRing()
	buf := make(orb.Ring, 0, 2*len(ring))
	for name, densify := range map[string]bool{"densify": true, "plain": false} {
		b.Run(name, func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				buf, _, _ = plane.AppendForward(buf[:0], ring, densify)
			}
			b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(b.N)/float64(len(ring)), "ns/vertex")
		})
	}
}

// BenchmarkToLonLat reads one vertex of a boundary file.
func BenchmarkToLonLat(b *testing.B) {
	for name, code := range map[string]int{"UTM": 26915, "LambertStatePlane": 2225, "Albers": 5070, "Hotine": 26931, "NAD27": 26711} {
		b.Run(name, func(b *testing.B) {
			crs := mustEPSG(b, code)
			p, _ := crs.FromLonLat(orb.Point{-120, 42})
			for b.Loop() {
				sinkPoint, _ = crs.ToLonLat(p)
			}
		})
	}
}

// BenchmarkGeodesicArea is the second opinion on one field of 500 vertices, per vertex.
func BenchmarkGeodesicArea(b *testing.B) {
	mp := orb.MultiPolygon{{circle(orb.Point{-91.3, 33.4}, 0.005, 500)}}
	for b.Loop() {
		sinkPoint[0], _ = GeodesicArea(mp, GeodesicOptions{})
	}
}

func BenchmarkParse(b *testing.B) {
	for b.Loop() {
		if _, err := Parse(esriUTM15); err != nil {
			b.Fatal(err)
		}
	}
}
