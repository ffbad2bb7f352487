package gml

import (
	"fmt"
	"math"
	"strings"

	"rootworthy/internal/diag"
	"rootworthy/internal/geo/proj"
)

// place notes the reference system of a feature and brings its coordinates into the order x, y.
func (g *reader) place(sh *shaper) {
	switch code := parseCRS(sh.system); {
	case sh.system == "":
	case g.crs.Text == "":
		g.crs = CRS{sh.system, code}
	// Told once for a file: every further feature would say the same.
	case code != g.crs.EPSG && !g.other:
		g.other = true
		g.faults.Add(diag.Fault{File: g.name, Line: g.s.Line(), Kind: "reference system", What: fmt.Sprintf("a feature is in %s, others in %s; all are taken as the latter", sh.system, g.crs.Text), Fix: "ask the service for one system"})
	}
	// One service writes all its features in one order: what one of them has shown holds for those after it too.
	if !sh.latitudeFirst() || g.turned {
		return
	}
	for _, part := range sh.shape {
		for _, r := range part {
			for _, p := range r {
				// No latitude is beyond 90, so the first number must be a longitude. East of 90° W and in Europe nothing shows it, and
				// the standard is followed.
				if math.Abs(p[0]) > 90 {
					g.tellTurned()
					return
				}
			}
		}
	}
	if len(sh.shape) > 0 {
		g.swapped++
	}
	for _, part := range sh.shape {
		for _, r := range part {
			for i, p := range r {
				r[i][0], r[i][1] = p[1], p[0]
			}
		}
	}
}

// tellTurned tells once for a file. Features before have been handed on already; that they lie in a wrong place is a fault.
func (g *reader) tellTurned() {
	g.turned = true
	at := diag.Fault{File: g.name, Line: g.s.Line(), Kind: "order of coordinates", What: "longitude stands before latitude, against the standard; it is read so"}
	if g.swapped == 0 {
		g.faults.Notice(at)
		return
	}
	at.What = fmt.Sprintf("longitude stands before latitude, against the standard; nothing showed it in what was read before (features: %d), which lies in a wrong place", g.swapped)
	at.Fix = "ask the service for GML 2 or for CRS84, whose order is certain, or for GeoJSON"
	g.faults.Add(at)
}

// latitudeFirst tells whether the standard puts latitude first.
func (sh *shaper) latitudeFirst() bool {
	if sh.old || strings.HasSuffix(strings.ToUpper(sh.system), "84") && !strings.Contains(strings.ToUpper(sh.system), "EPSG") {
		return false // GML 2; CRS84
	}
	code := parseCRS(sh.system)
	if code == 0 {
		return false
	}
	crs, err := proj.FromEPSG(code)
	// A system that is not known here is left in the order of the file; placing it fails later, with its name.
	return err == nil && crs.Geographic()
}
