package proj

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"
)

// Parse reads the text of a .prj file: well-known text 1 as either family of programs writes it, or WKT 2, for a
// geographic system or a projected one; a vertical part is left aside. Coordinates are taken x (easting, longitude)
// first, as shapefiles hold them, whatever order the text gives the axes.
//
// It accepts WGS 84 and NAD83 with their realisations, and NAD27, on the meridian of Greenwich and the projections this
// package has. NAD27 is brought to WGS 84 by this package's own operation, whatever shift a text brings along (TOWGS84): the
// published ones for the States lie within each other's accuracy. Everything else is refused, and the error says what was
// read and what to do.
func Parse(wkt string) (CRS, error) {
	s := strings.Trim(strings.TrimPrefix(wkt, "\ufeff"), "\x00 \t\r\n")
	if s == "" {
		return CRS{}, fmt.Errorf("coordinate system text is empty; name the system with --crs EPSG:n")
	}
	roots, err := readWKT(s)
	if err != nil {
		return CRS{}, err
	}
	switch n := horizontal(roots[0]); {
	case n == nil:
		return CRS{}, refuse(roots[0], fmt.Sprintf("is of kind %s, neither geographic nor projected", quote(roots[0].word)))
	case isProjected(n):
		return parseProjected(n)
	default:
		return parseGeographic(n)
	}
}

// refuse makes the error for a system that was read but is not taken.
func refuse(n *wktNode, why string) error {
	return fmt.Errorf("coordinate system %s %s; convert the file to WGS 84 longitude and latitude, "+
		"or name the right system with --crs EPSG:n", quote(n.name()), why)
}

// isProjected tells whether the node is a projected system, in WKT 1 or 2.
func isProjected(n *wktNode) bool {
	return n.word == "PROJCS" || n.word == "PROJCRS" || n.word == "PROJECTEDCRS"
}

// horizontal finds the geographic or projected system within a compound or bound one; nil when there is none.
func horizontal(n *wktNode) *wktNode {
	switch n.word {
	case "PROJCS", "PROJCRS", "PROJECTEDCRS", "GEOGCS", "GEOGCRS", "GEOGRAPHICCRS", "GEODCRS", "GEODETICCRS":
		return n
	case "COMPD_CS", "COMPOUNDCRS", "BOUNDCRS", "SOURCECRS":
		for _, k := range n.kids {
			if found := horizontal(k); found != nil {
				return found
			}
		}
	}
	return nil
}

// parseGeographic reads a system of longitude and latitude. Its code follows from its datum: whatever else a text may
// say, nothing about such a system is left to choose once the datum, the meridian and the unit are known.
func parseGeographic(n *wktNode) (CRS, error) {
	d, err := parseDatum(n, n)
	if err != nil {
		return CRS{}, err
	}
	if cs := n.kid("CS"); cs != nil && !(len(cs.bare) > 0 && cs.bare[0] == "ELLIPSOIDAL") {
		return CRS{}, refuse(n, "is geocentric, not longitude and latitude")
	}
	code := d.code
	if c := claimedCode(n); slices.Contains(d.also, c) {
		code = c
	}
	return newGeographic(n.name(), d, code), nil
}

// parseDatum reads datum, ellipsoid, prime meridian and angular unit of the geographic system geog, on behalf of the
// whole system.
func parseDatum(whole, geog *wktNode) (datum, error) {
	node := geog.kid("DATUM", "GEODETICDATUM", "TRF", "ENSEMBLE")
	if node == nil {
		return datum{}, refuse(whole, "names no datum")
	}
	d, ok := datumNamed(node.name())
	if !ok {
		return datum{}, refuse(whole, fmt.Sprintf("uses the datum %s, which is neither WGS 84 "+
			"nor a known realisation of NAD83, nor NAD27, and may lie hundreds of metres away", quote(node.name())))
	}
	sph := node.kid("SPHEROID", "ELLIPSOID")
	a, okA := sph.num(0)
	inverseF, okF := sph.num(1)
	if !okA || !okF || !d.agrees(a, inverseF) {
		return datum{}, refuse(whole, fmt.Sprintf("puts the datum %s on the ellipsoid %s "+
			"(radius %v m, inverse flattening %v), which is not its own",
			quote(node.name()), quote(sph.name()), a, inverseF))
	}
	if pm := geog.kid("PRIMEM", "PRIMEMERIDIAN"); pm != nil {
		if lon, ok := pm.num(0); !ok || math.Abs(lon) > 1e-9 {
			return datum{}, refuse(whole, fmt.Sprintf("counts longitude from %s (%v), not from Greenwich",
				quote(pm.name()), lon))
		}
	}
	if size, ok := unitSize(geog, "ANGLEUNIT"); ok && math.Abs(size/degree-1) > 1e-7 {
		return datum{}, refuse(whole, fmt.Sprintf("measures angles in units of %v radians, not in degrees", size))
	}
	return d, nil
}

// unitSize returns the size of the unit of a system: its own UNIT, or one of the kind given, on itself or on its axes.
func unitSize(n *wktNode, kind string) (size float64, ok bool) {
	if size, ok = n.kid("UNIT", kind).num(0); ok {
		return size, true
	}
	return n.kid("AXIS").kid("UNIT", kind).num(0)
}

// parseProjected reads datum, unit, direction of axes, projection and constants, in the order in which a refusal tells
// the user most.
func parseProjected(n *wktNode) (CRS, error) {
	geog := n.kid("GEOGCS", "BASEGEOGCRS", "BASEGEODCRS", "GEOGCRS", "GEODCRS")
	if geog == nil {
		return CRS{}, refuse(n, "names no geographic system to stand on")
	}
	d, err := parseDatum(n, geog)
	if err != nil {
		return CRS{}, err
	}
	size, _ := unitSize(n, "LENGTHUNIT")
	unit, ok := unitOfSize(size)
	if !ok {
		return CRS{}, refuse(n, "gives its coordinates no usable unit of length")
	}
	for _, k := range n.kids {
		if k.word == "AXIS" && len(k.bare) > 0 && (k.bare[0] == "SOUTH" || k.bare[0] == "WEST") {
			return CRS{}, refuse(n, "counts coordinates towards the south or west")
		}
	}
	m, par, err := parseConversion(n, unit)
	if err != nil {
		return CRS{}, err
	}
	c, err := newProjected(n.name(), d, m, unit, par, 0)
	if err != nil {
		return CRS{}, err
	}
	return c.claiming(claimedCode(n)), nil
}

// claimedCode returns the EPSG code that a text gives itself, or 0.
func claimedCode(n *wktNode) int {
	id := n.kid("AUTHORITY", "ID")
	if id == nil || !strings.EqualFold(id.name(), "EPSG") {
		return 0
	}
	if len(id.text) > 1 {
		code, _ := strconv.Atoi(id.text[1])
		return code
	}
	if code, ok := id.num(0); ok && code >= 1 && code < 1e6 {
		return int(code)
	}
	return 0
}

// claiming compares c with the system of a code that its text claims. Where they agree, c takes the code and the
// table's own digits; where they do not, c stands as written and its note says so. An unknown code is passed over.
func (c CRS) claiming(code int) CRS {
	if code == 0 {
		return c
	}
	t, err := FromEPSG(code)
	switch {
	case err != nil:
		return c
	case t.datum == c.datum && t.kind == c.kind && t.unit == c.unit && t.par.near(c.par):
		t.name = c.name
		return t
	}
	other := fmt.Sprintf("the text calls itself EPSG:%d but describes another system, which was used", code)
	c.note = strings.TrimPrefix(c.note+"; "+other, "; ")
	return c
}

// near tells whether two sets of constants differ by rounding only: 1e-9 degrees and 1e-3 units, 0.1 mm and a
// millimetre on the ground.
func (p parameters) near(q parameters) bool {
	angles := [...][2]float64{{p.lat0, q.lat0}, {p.lon0, q.lon0}, {p.sp1, q.sp1}, {p.sp2, q.sp2},
		{p.azimuth, q.azimuth}, {p.gamma, q.gamma}}
	for _, a := range angles {
		if !(math.Abs(math.Remainder(a[0]-a[1], 360)) < 1e-9) {
			return false
		}
	}
	return math.Abs(p.k0-q.k0) < 1e-10 && math.Abs(p.fe-q.fe) < 1e-3 && math.Abs(p.fn-q.fn) < 1e-3
}
