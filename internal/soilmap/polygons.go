package soilmap

import (
	"context"
	"errors"
	"fmt"
	"path"
	"slices"
	"strings"

	"github.com/paulmach/orb"

	"rootworthy/internal/diag"
	"rootworthy/internal/geo/feature"
	"rootworthy/internal/geo/proj"
	"rootworthy/soils/ssurgo"
)

// errNoKey says that a file of polygons has no column with the key of the map unit.
var errNoKey = errors.New("no key of map units")

// The columns of a file of polygons that are read beside the key, where they are there.
const (
	areaColumn   = "areasymbol"
	symbolColumn = "musym"
	nameColumn   = "muname"
)

// layer is a file, or a layer of one, with polygons.
type layer interface {
	// scan calls each for every feature, with the coordinate system of its shape, and stops at its first error.
	// Columns names those that are wanted; others may be handed on too.
	scan(ctx context.Context, columns []string, each func(system, feature.Feature) error) error
	// columns returns the names of the columns; nil when features need not have the same.
	columns() []string
}

// system is the coordinate system of a layer. Without one, coordinates are longitude and latitude.
type system struct {
	crs proj.CRS
	// false: nothing was stated
	known bool
}

// stated is the system that a layer names; the error, which does not name the layer, is for one that soil lines may not be
// in. It is asked once a layer: settle has no way to tell it shape by shape.
func stated(crs proj.CRS) (system, error) {
	if err := crs.FitForLines(); err != nil {
		return system{}, err
	}
	return system{crs, true}, nil
}

// keyedMap is a layer whose features have keys of map units.
type keyedMap struct {
	name   string
	layer  layer
	key    string
	faults *diag.List
}

// polygons opens a file of polygons.
func (o *opening) polygons(ctx context.Context, s Source, k kind) (*ssurgo.Export, error) {
	l, what, err := openLayer(s, k, o.faults)
	if err != nil {
		return nil, err
	}
	m := &keyedMap{name: s.Name, layer: l, key: o.opt.UnitsKey, faults: o.faults}
	if err := m.needsKey(ctx); err != nil {
		return nil, err
	}
	o.found(s.Name, what+" of map unit polygons")
	return ssurgo.New(s.Name, nil, m, partial(s.Path), o.faults), nil
}

// partial says whether a layer's name is that of an area of interest, cut out of a survey area.
func partial(name string) bool {
	// "_aoi" ends the names of layers in downloads for an area of interest, as soilmu_a_aoi.
	return strings.HasSuffix(strings.ToLower(strings.TrimSuffix(name, path.Ext(name))), "_aoi")
}

// searched is how many features are looked at for a key: the first ones may lack it.
const searched = 100

// errEnough ends a scan.
var errEnough = errors.New("enough")

// needsKey returns an error, with the columns there are, when the layer has no column with keys.
func (m *keyedMap) needsKey(ctx context.Context) error {
	// nil columns mean that every feature may have its own; an empty list means none.
	have, n, found := m.layer.columns(), 0, false
	// text formats: features may differ in their columns, so some are looked at
	if have == nil {
		quiet := *m // faults are told when the polygons are read
		err := quiet.layer.scan(ctx, nil, func(_ system, f feature.Feature) error {
			for _, p := range f.Properties {
				if !slices.Contains(have, p.Name) {
					have = append(have, p.Name)
				}
			}
			found = found || hasColumn(have, m.key)
			if n++; n >= searched || found {
				return errEnough
			}
			return nil
		})
		if err != nil && !errors.Is(err, errEnough) {
			return err
		}
	}
	if hasColumn(have, m.key) {
		return nil
	}
	there := "it has none"
	if len(have) > 0 {
		there = "it has " + feature.Shorten(strings.Join(have, ", "))
	}
	return fmt.Errorf("%s: no soil survey: %w: its polygons have no column %q (%s); give a survey, or name the column with --units-key", m.name, errNoKey, m.key, there)
}

// hasColumn finds a column; formats differ in capitals, mukey does not.
func hasColumn(have []string, name string) bool {
	return slices.ContainsFunc(have, func(h string) bool { return strings.EqualFold(h, name) })
}

// Polygons implements [ssurgo.Map].
func (m *keyedMap) Polygons(ctx context.Context, emit func(ssurgo.Polygon) error) error {
	share := sharer()
	n := 0
	return m.layer.scan(ctx, []string{m.key, areaColumn, symbolColumn, nameColumn}, func(sys system, f feature.Feature) error {
		if n++; n%256 == 0 && ctx.Err() != nil {
			return context.Cause(ctx)
		}
		if f.Reason != "" || len(f.Geometry) == 0 {
			return nil // told by the reader; a feature without ground changes nothing
		}
		if !settle(sys, f.Geometry) {
			m.fault(&f, "", "off the earth", "it has corners that are no longitude and latitude, nor of a coordinate system that the file names", "it is left out, and its ground counts as not described")
			return nil
		}
		// symbol and name are kept for maps without tables, which have nothing else to be called by
		p := ssurgo.Polygon{Unit: share(whole(f.Text(m.key))), Area: share(f.Text(areaColumn)), Symbol: share(f.Text(symbolColumn)), Name: share(f.Text(nameColumn)), Shape: f.Geometry}
		if p.Unit == "" {
			m.fault(&f, m.key, "no key", "it has no map unit key", "its ground counts as not described")
		}
		// Emitted without a key as well: the ground was drawn, and a hole in the map would say that it was not.
		return emit(p)
	})
}

// fault tells of a polygon by the label that its format gives it.
func (m *keyedMap) fault(f *feature.Feature, column, kind, what, fix string) {
	m.faults.Add(diag.Fault{File: m.name, Line: f.Line, Feature: f.Label(), Field: column, Kind: kind, What: what, Fix: fix})
}

// settle brings a shape to longitude and latitude in place; false when a corner has none.
func settle(sys system, shape orb.MultiPolygon) bool {
	// geographic systems other than WGS 84 are taken as they are, about a metre off, which the report says
	convert := sys.known && !sys.crs.Geographic()
	for _, part := range shape {
		for _, ring := range part {
			for i, p := range ring {
				if convert {
					var ok bool
					if p, ok = sys.crs.ToLonLat(p); !ok {
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

// whole takes the fraction off a key that somebody stored as a number: "565248.0" is "565248".
func whole(key string) string {
	key = strings.TrimSpace(key)
	// Digits alone before the point and zeros alone behind it: keys are texts, and one like "NC.001" stays what it is.
	if before, after, ok := strings.Cut(key, "."); ok && before != "" && strings.Trim(after, "0") == "" && strings.Trim(before, "0123456789") == "" {
		return before
	}
	return key
}

// sharer returns a function that gives equal texts one memory: thousands of polygons carry a few keys.
func sharer() func(string) string {
	seen := map[string]string{}
	return func(s string) string {
		s = strings.TrimSpace(s)
		if t, ok := seen[s]; ok {
			return t
		}
		t := strings.Clone(s)
		seen[t] = t
		return t
	}
}
