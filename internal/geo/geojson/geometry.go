package geojson

import (
	"fmt"

	"github.com/paulmach/orb"
)

// maxCollections bounds geometry collections inside one another; RFC 7946 section 3.1.8 advises against any.
const maxCollections = 16

// remark is something to tell about a feature, gathered until its id is known.
type remark struct {
	line   int
	field  string
	kind   string
	what   string
	fix    string
	notice bool // nothing asked for is lost
}

// geometry is one geometry object, or the part of a feature that can be one.
// shape and problem exclude each other once settle has run.
type geometry struct {
	kind    string // its "type"
	shape   orb.MultiPolygon
	null    bool     // "geometry": null
	others  []string // types in a collection that are no polygons
	problem string   // why it cannot be used
}

// add takes over a member of a collection.
func (g *geometry) add(in geometry) {
	g.shape = append(g.shape, in.shape...)
	g.others = append(g.others, in.others...)
	// The first problem is told; those behind it often follow from it.
	if in.problem != "" && g.problem == "" {
		g.problem = in.problem
	}
}

// geometryValue takes the value of a "geometry" member or an item of "geometries".
func (r *reader) geometryValue(depth int) (geometry, error) {
	c, err := r.x.peek()
	if err != nil {
		return geometry{}, err
	}
	if c == 'n' {
		return geometry{null: true}, r.x.value(0)
	}
	if c != '{' {
		return geometry{problem: "its geometry is no object"}, r.x.value(0)
	}
	if depth > maxCollections {
		return geometry{problem: fmt.Sprintf("its geometry collections are nested more than %d deep", maxCollections)}, r.x.value(0)
	}
	return r.geometryObject(depth)
}

// geometryObject takes an object that is a geometry; other members of it are passed over.
func (r *reader) geometryObject(depth int) (geometry, error) {
	var g geometry
	var inner geometry
	err := r.members(func(key string) error {
		switch key {
		case "type":
			return r.textValue(&g.kind)
		case "coordinates":
			return r.coordinates(&g)
		case "geometries":
			return r.geometries(&inner, depth)
		}
		return r.x.value(0)
	})
	if err == nil {
		r.settle(&g, inner)
	}
	return g, err
}

// coordinates takes the member of that name. Shape and problem are settled once the type is known.
func (r *reader) coordinates(g *geometry) error {
	err := r.coords.read(r.x)
	// A second member of that name replaces the first, as members says.
	g.shape, g.problem = r.coords.shape(), r.coords.problem
	// Kept beside the shape, since the type that says how deep it should be may stand behind the coordinates.
	r.height = r.coords.height
	r.x.nans = r.x.nans[:0] // the repair of rings tells of corners that are no numbers
	return err
}

// geometries takes the members of a collection.
func (r *reader) geometries(into *geometry, depth int) error {
	return r.items(func() error {
		g, err := r.geometryValue(depth + 1)
		into.add(g)
		return err
	})
}

// settle decides what the members together mean.
func (r *reader) settle(g *geometry, inner geometry) {
	// 0 for any other type, which is then no polygon.
	want := map[string]int{"Polygon": 2, "MultiPolygon": 3}[g.kind]
	switch {
	// A collection has no coordinates of its own; what stands under that name in it is passed by.
	case g.kind == "GeometryCollection":
		g.shape, g.others, g.problem = inner.shape, inner.others, inner.problem
	case g.kind == "":
		g.problem = `its geometry has no "type"`
		g.shape = nil
	// What was wrong with the coordinates of a line or point is no matter here.
	case want == 0:
		g.shape, g.problem = nil, ""
		g.others = []string{g.kind}
	case g.problem == "" && r.height != want && len(g.shape) > 0:
		r.remark(remark{kind: "nesting", notice: true, what: fmt.Sprintf("its coordinates are nested %d deep where a %s has %d; they are read as they stand", r.height+1, g.kind, want+1)})
	}
	if g.problem != "" {
		g.shape = nil
	}
}
