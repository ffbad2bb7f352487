package kml

import (
	"fmt"
	"math"
	"strconv"

	"github.com/paulmach/orb"

	"rootworthy/internal/geo/feature"
)

// layer writes a folder of placemarks.
func (o *out) layer(l Layer) error {
	if err := feature.CheckColumns(l.Columns); err != nil {
		return err
	}
	// Points or polygons, and never both: the caller's mistake, hence no fault about a file.
	if (l.Rows == nil) == (l.Points == nil) || l.Label == nil {
		return fmt.Errorf("needs either polygons or points, and labels")
	}
	o.raw("<Folder>\n")
	o.element("name", l.Name)
	n := 0
	if l.Points != nil {
		for p, values := range l.Points {
			n++
			if err := o.placemark(l, values, func() error { return o.point(p) }); err != nil {
				return fmt.Errorf("row %d: %w", n, err)
			}
		}
	} else {
		for shape, values := range l.Rows {
			n++
			if err := o.placemark(l, values, func() error { return o.shape(shape) }); err != nil {
				return fmt.Errorf("row %d: %w", n, err)
			}
		}
	}
	o.raw("</Folder>\n")
	return nil
}

// placemark writes one feature; given are its values as the caller has them, which labels and styles are asked with.
func (o *out) placemark(l Layer, given []any, geometry func() error) error {
	var err error
	// Checked before anything of the row is written.
	if o.values, err = feature.Check(l.Columns, given, o.values); err != nil {
		return err
	}
	label := l.Label(given)
	if label == "" {
		return fmt.Errorf("it has no name")
	}
	o.raw("<Placemark>\n")
	o.element("name", label)
	if l.About != nil {
		o.element("description", l.About(given))
	}
	if l.Style != nil {
		if id := l.Style(given); id != "" {
			if !o.styles[id] {
				return fmt.Errorf("there is no style %q", id)
			}
			o.element("styleUrl", "#"+id)
		}
	}
	// The order of the elements is that of the schema, in which a placemark's data come before its geometry.
	o.data(l.Columns)
	if err := geometry(); err != nil {
		return err
	}
	o.raw("</Placemark>\n")
	return nil
}

// data writes the values of a row that are not missing.
func (o *out) data(columns []feature.Column) {
	some := false
	for i, c := range columns {
		// A missing value has no element: an empty one would read as an empty text.
		if o.values[i] == nil {
			continue
		}
		if !some {
			o.raw("<ExtendedData>\n")
			some = true
		}
		o.raw(`<Data name="`)
		o.text(c.Name)
		o.raw(`">`)
		if c.Title != "" {
			o.raw("<displayName>")
			o.text(c.Title)
			o.raw("</displayName>")
		}
		o.raw("<value>")
		// A text stands without quotes, a number as JSON has it.
		if s, ok := o.values[i].(string); ok {
			o.text(s)
		} else {
			o.raw(string(feature.JSON(o.values[i])))
		}
		o.raw("</value></Data>\n")
	}
	if some {
		o.raw("</ExtendedData>\n")
	}
}

func (o *out) point(p orb.Point) error {
	if math.IsNaN(p[0]) || math.IsNaN(p[1]) || math.IsInf(p[0], 0) || math.IsInf(p[1], 0) {
		return fmt.Errorf("a point at %v, %v is no place", p[0], p[1])
	}
	o.raw("<Point><coordinates>")
	o.position(p)
	o.raw("</coordinates></Point>\n")
	return nil
}

// shape writes a polygon, or several in a MultiGeometry; nothing for an empty shape.
func (o *out) shape(shape orb.MultiPolygon) error {
	ready, err := feature.Ready(shape)
	if err != nil {
		return err
	}
	if len(ready) > 1 {
		o.raw("<MultiGeometry>\n")
	}
	for _, part := range ready {
		// Tessellated, so that long edges follow the ground and do not cut through hills.
		o.raw("<Polygon><tessellate>1</tessellate><altitudeMode>clampToGround</altitudeMode>\n")
		for i, ring := range part {
			side := "innerBoundaryIs"
			if i == 0 {
				side = "outerBoundaryIs"
			}
			o.raw("<" + side + "><LinearRing><coordinates>")
			for k, p := range ring {
				if k > 0 {
					o.raw(" ")
				}
				o.position(p)
			}
			o.raw("</coordinates></LinearRing></" + side + ">\n")
		}
		o.raw("</Polygon>\n")
	}
	if len(ready) > 1 {
		o.raw("</MultiGeometry>\n")
	}
	return nil
}

// position writes longitude,latitude without a height.
func (o *out) position(p orb.Point) {
	// Adding 0 turns -0 into 0. As many digits as tell the number from its neighbours, never an exponent, which readers of
	// coordinates may not know.
	o.num = strconv.AppendFloat(o.num[:0], p[0]+0, 'f', -1, 64)
	o.num = strconv.AppendFloat(append(o.num, ','), p[1]+0, 'f', -1, 64)
	o.w.Write(o.num)
}
