package wkb

import "fmt"

// kind is a geometry code without its dimensions.
type kind uint32

// Source: OGC 06-103r4, table 7.
const (
	point kind = 1 + iota
	lineString
	polygon
	multiPoint
	multiLineString
	multiPolygon
	collection
)

// String returns the name of the kind in the standard.
func (k kind) String() string {
	names := map[kind]string{point: "Point", lineString: "LineString", polygon: "Polygon", multiPoint: "MultiPoint", multiLineString: "MultiLineString",
		multiPolygon: "MultiPolygon", collection: "GeometryCollection", 8: "CircularString", 9: "CompoundCurve", 10: "CurvePolygon", 11: "MultiCurve",
		12: "MultiSurface", 13: "Curve", 14: "Surface", 15: "PolyhedralSurface", 16: "TIN", 17: "Triangle"}
	if n, ok := names[k]; ok {
		return n
	}
	return fmt.Sprintf("geometry of code %d", uint32(k))
}

// readable tells whether values of the kind can be read, or at least passed over.
// Codes over 7 are shapes with arcs or of surfaces.
func (k kind) readable() bool { return k >= point && k <= collection }

// member is what a kind of several geometries is made of; 0 means any.
func (k kind) member() kind {
	switch k {
	case multiPoint:
		return point
	case multiLineString:
		return lineString
	case multiPolygon:
		return polygon
	}
	return 0
}
