package flatgeobuf

import "fmt"

// geometryKind is a kind of geometry. Source: feature.fbs, enum GeometryType.
type geometryKind uint8

const (
	kindUnknown      geometryKind = 0
	kindPolygon      geometryKind = 3
	kindMultiPolygon geometryKind = 6
	kindCollection   geometryKind = 7
)

// String returns the name in the schema.
func (k geometryKind) String() string {
	// Kinds from CircularString on are named for messages alone: shapes with arcs and surfaces are not read.
	names := [...]string{"Unknown", "Point", "LineString", "Polygon", "MultiPoint", "MultiLineString", "MultiPolygon", "GeometryCollection", "CircularString",
		"CompoundCurve", "CurvePolygon", "MultiCurve", "MultiSurface", "Curve", "Surface", "PolyhedralSurface", "TIN", "Triangle"}
	if int(k) < len(names) {
		return names[k]
	}
	return fmt.Sprintf("geometry of kind %d", uint8(k))
}

// columnType is what a column holds. Source: header.fbs, enum ColumnType.
type columnType uint8

const (
	typeByte columnType = iota
	typeUByte
	typeBool
	typeShort
	typeUShort
	typeInt
	typeUInt
	typeLong
	typeULong
	typeFloat
	typeDouble
	typeString
	typeJSON
	typeDateTime
	typeBinary
)

// size returns how many bytes a value takes; 0 when its length stands before it, -1 for a type that is not known.
func (t columnType) size() int {
	sizes := [...]int{1, 1, 1, 2, 2, 4, 4, 8, 8, 4, 8, 0, 0, 0, 0}
	if int(t) < len(sizes) {
		return sizes[t]
	}
	return -1
}

// Numbers of the fields of tables. Source: header.fbs and feature.fbs, in the order of the schema.
const (
	// Fields 5 and 6 of the header are not read.
	headerName, headerEnvelope, headerKind, headerZ, headerM  = 0, 1, 2, 3, 4
	headerColumns, headerCount, headerNodeSize, headerSystem  = 7, 8, 9, 10
	headerTitle, headerAbout                                  = 11, 12
	columnName, columnKind, columnTitle                       = 0, 1, 2
	systemOrg, systemCode, systemName, systemText, systemWord = 0, 1, 2, 4, 5
	featureGeometry, featureProperties, featureColumns        = 0, 1, 2
	geometryEnds, geometryXY, geometryZ, geometryM            = 0, 1, 2, 3
	geometryType, geometryParts                               = 6, 7
)
