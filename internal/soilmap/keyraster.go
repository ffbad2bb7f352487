package soilmap

import (
	"context"
	"fmt"
	"io/fs"
	"path"
	"strconv"
	"strings"

	"github.com/paulmach/orb"

	"rootworthy/internal/diag"
	"rootworthy/internal/geo/shapefile"
	"rootworthy/raster"
	"rootworthy/raster/geotiff"
	"rootworthy/soils/ssurgo"
)

// keyRaster is a raster whose cells are keys of map units.
type keyRaster struct {
	name string
	file *geotiff.File
	// cells near the fields, by tiles
	ground ground
	keys   map[int64]string // by value, where a table beside the raster has them; nil when values are the keys
	faults *diag.List
}

// raster opens a GeoTIFF: of map unit keys, or one of the properties of a stack by its name.
func (o *opening) raster(ctx context.Context, s Source) (*ssurgo.Export, error) {
	r, size, closeFile, err := s.openAt()
	if err != nil {
		return nil, err
	}
	o.out.closing = append(o.out.closing, closeFile)
	f, err := geotiff.Open(s.Name, r, size, o.faults)
	if err != nil {
		return nil, err
	}
	// here the system is needed at once: cells of keys are brought to longitude and latitude, and their edges are the lines
	// of the soil map
	crs, err := f.CRS()
	if err != nil {
		return nil, err
	}
	if err := crs.FitForLines(); err != nil {
		return nil, fmt.Errorf("%s: %w", s.Name, err)
	}
	frame, err := f.Frame()
	if err != nil {
		return nil, err
	}
	// A property and not keys; all of them are opened together once the last source is known.
	// Told by the name alone, since integers of pH and integers of keys look alike.
	if what, ok := parseGridName(path.Base(s.Path)); ok {
		o.layers = append(o.layers, gridLayer{gridName: what, name: s.Name, file: f, frame: frame})
		return nil, nil
	}
	// The GeoTIFF's value for no data never comes out of the reader as a key.
	m := &keyRaster{name: s.Name, file: f, faults: o.faults}
	// which tiles to read is settled now, and none is read before polygons are asked for
	if m.ground, err = newGround(frame, o.opt.Around); err != nil {
		return nil, fmt.Errorf("%s: %w", s.Name, err)
	}
	if m.keys, err = o.valueTable(s); err != nil {
		return nil, err
	}
	unit, _ := frame.CRS.Unit()
	o.found(s.Name, fmt.Sprintf("raster of map unit keys, %d × %d cells of %.5g %s, %s", frame.Cols, frame.Rows, frame.DX, unit, frame.CRS))
	return ssurgo.New(s.Name, nil, m, true, o.faults), nil
}

// valueTable reads the table of values beside a raster, as file geodatabases export it: older ones number their map units
// and tell the keys there. Nil means that there is none.
func (o *opening) valueTable(s Source) (map[int64]string, error) {
	at := s.Path + ".vat.dbf"
	// most rasters have none: their values are the keys
	if _, err := fs.Stat(s.Files, at); err != nil {
		return nil, nil
	}
	keys := map[int64]string{}
	name := s.Name + ".vat.dbf"
	err := shapefile.Table(name, s.Files, at, o.faults, func(r *shapefile.Record) error {
		value, ok := r.Number(r.Layer().Column("value"))
		if key := strings.TrimSpace(r.Text(r.Layer().Column(o.opt.UnitsKey))); ok && key != "" {
			// values of cells are integers, but the table may print them with a point
			keys[int64(value)] = whole(key)
		}
		return nil
	})
	if err != nil {
		return nil, err
	}
	if len(keys) == 0 { // a table of counts alone
		return nil, nil
	}
	return keys, nil
}

// Polygons implements [ssurgo.Map]: the patches of equal keys.
func (m *keyRaster) Polygons(ctx context.Context, emit func(ssurgo.Polygon) error) error {
	// Tile by tile, so that memory does not grow with the raster; a patch that crosses a border comes in two polygons.
	for _, tile := range m.ground.tiles {
		// as integers: a key stored as a float is taken where it is whole
		g, err := geotiff.Read[int64](ctx, m.file, geotiff.Request{Window: tile})
		if err != nil {
			return err
		}
		zones, err := raster.Polygonise(ctx, g, raster.OutlineOptions{})
		if err != nil {
			return fmt.Errorf("%s: %w", m.name, err)
		}
		for _, z := range zones {
			if err := m.patches(z, emit); err != nil {
				return err
			}
		}
	}
	return nil
}

// patches emits the patches of one value, on earth.
func (m *keyRaster) patches(z raster.Zone[int64], emit func(ssurgo.Polygon) error) error {
	key, ok := m.keyOf(z.Key)
	if !ok {
		return nil
	}
	// each patch by itself: a patch cut by the border of a tile meets its other half corner by corner, and the overlay
	// joins them
	for _, patch := range z.Shape {
		p, ok := m.ground.toEarth(patch)
		if !ok {
			m.faults.Add(diag.Fault{File: m.name, Feature: "map unit " + key, Kind: "off the earth", What: "cells lie where the raster's system has no place on earth", Fix: "they are left out"})
			continue
		}
		if err := emit(ssurgo.Polygon{Unit: key, Shape: orb.MultiPolygon{p}}); err != nil {
			return err
		}
	}
	return nil
}

// keyOf returns the key of a value; zero and less are no map units.
func (m *keyRaster) keyOf(value int64) (string, bool) {
	if m.keys == nil {
		// no fault: around the survey most rasters hold zeros
		return strconv.FormatInt(value, 10), value > 0
	}
	key, ok := m.keys[value]
	if !ok {
		m.faults.Add(diag.Fault{File: m.name, Kind: "value without a key", What: fmt.Sprintf("value %d is not in the table of values beside it", value), Fix: "its ground counts as not described"})
	}
	return key, true
}
