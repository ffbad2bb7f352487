package ssurgo

import (
	"fmt"

	"github.com/paulmach/orb"

	"rootworthy/internal/geo/proj"
	"rootworthy/internal/geo/shapefile"
)

// ground puts polygons on longitude and latitude. The agency ships WGS 84; copies are met that somebody projected.
type ground struct {
	crs       proj.CRS
	projected bool
}

// newGround reads the coordinate system of a layer; without a .prj it is what the agency ships.
func newGround(name string, layer *shapefile.Layer) (ground, error) {
	if layer.Projection == "" {
		return ground{}, nil
	}
	// a system that is not known is an error: taken for degrees, its polygons would lie somewhere else
	crs, err := proj.Parse(layer.Projection)
	if err != nil {
		return ground{}, fmt.Errorf("%s: %w", name, err)
	}
	// nor may it be one that leaves soil lines metres beside where they were drawn
	if err := crs.FitForLines(); err != nil {
		return ground{}, fmt.Errorf("%s: %w", name, err)
	}
	return ground{crs: crs, projected: !crs.Geographic()}, nil
}

// settle converts a shape in place. It returns false when a corner is no place on earth.
func (g ground) settle(shape orb.MultiPolygon) bool {
	for _, part := range shape {
		for _, ring := range part {
			for i, p := range ring {
				// Geographic systems other than WGS 84 (NAD83) are taken as they are: about a metre, which the report
				// says.
				if g.projected {
					var ok bool
					if p, ok = g.crs.ToLonLat(p); !ok {
						return false
					}
					ring[i] = p
				}
				// also refuses NaN
				if !(p[0] >= -180 && p[0] <= 180 && p[1] >= -90 && p[1] <= 90) {
					return false
				}
			}
		}
	}
	return true
}
