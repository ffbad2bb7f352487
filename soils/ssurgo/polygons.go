package ssurgo

import (
	"context"
	"fmt"
	"io/fs"
	"path"
	"slices"
	"strings"

	"github.com/paulmach/orb"

	"rootworthy/internal/diag"
	"rootworthy/internal/geo/shapefile"
)

// Polygon is one delineation of the map. The shape is the receiver's to keep.
type Polygon struct {
	Area         string           // symbol of the survey area, e.g. "AR017"
	Unit         string           // key of the map unit
	Symbol, Name string           // of the map unit, where the map itself carries them; for maps without tables
	Shape        orb.MultiPolygon // longitude, latitude in degrees, WGS 84, as stored: not repaired
}

// layerFiles is a layer of map unit polygons; shp is empty when only its companions are there.
type layerFiles struct {
	shp  string
	base string // path without suffix, name in lower case
}

// ofInterest says whether the layer is an area of interest, drawn by somebody and cut out of a survey area.
func (l layerFiles) ofInterest() bool { return strings.HasSuffix(l.base, "_aoi") }

// layerPrefixes begin the names of map unit polygon layers: of a survey area or an area of interest, and of the
// general soil map.
var layerPrefixes = []string{"soilmu_a_", "gsmsoilmu_a_"}

// findLayers lists the polygon layers in the folder spatial beside the tables, or else among the tables, by name.
func (a *area) findLayers() []layerFiles {
	for _, folder := range []string{a.spatialFolder(), a.tabular} {
		// one of the two folders, never both: a copy of the map among the tables would draw everything twice
		if layers := a.layersIn(folder); len(layers) > 0 {
			return layers
		}
	}
	return nil
}

// layersIn lists the polygon layers of a folder in the order of their names; a layer is known by any of its files.
func (a *area) layersIn(folder string) []layerFiles {
	// none beside the tables
	if folder == "" {
		return nil
	}
	entries, err := fs.ReadDir(a.fsys, folder)
	if err != nil {
		return nil // told as a map that is missing when polygons are asked for
	}
	var layers []layerFiles
	at := map[string]int{}
	for _, e := range entries {
		// copies from old systems have their names in capitals
		name := strings.ToLower(e.Name())
		if e.IsDir() || !hasLayerPrefix(name) || !slices.Contains([]string{".shp", ".dbf", ".shx"}, path.Ext(name)) {
			continue
		}
		base := path.Join(folder, strings.TrimSuffix(name, path.Ext(name)))
		if _, known := at[base]; !known {
			at[base] = len(layers)
			layers = append(layers, layerFiles{base: base})
		}
		// A .dbf alone is noted as well: a map of which the shapes are missing is told as such, and not as no map.
		if path.Ext(name) == ".shp" {
			layers[at[base]].shp = path.Join(folder, e.Name())
		}
	}
	return layers
}

// hasLayerPrefix says whether a file, in small letters, belongs to map unit polygons and not to lines, points or the
// border.
func hasLayerPrefix(name string) bool {
	return slices.ContainsFunc(layerPrefixes, func(p string) bool { return strings.HasPrefix(name, p) })
}

// spatialFolder returns the folder spatial beside the tables, empty when there is none.
func (a *area) spatialFolder() string {
	if a.tabular == "." {
		return "" // the user pointed at the tables themselves
	}
	parent := path.Dir(a.tabular)
	entries, err := fs.ReadDir(a.fsys, parent)
	if err != nil {
		return ""
	}
	for _, e := range entries {
		if e.IsDir() && strings.EqualFold(e.Name(), "spatial") {
			return path.Join(parent, e.Name())
		}
	}
	return ""
}

// Polygons calls emit for every polygon of the map, in the order of the files.
// A layer in another coordinate system than longitude and latitude is converted. It stops at emit's first error and
// returns it. A layer that is missing or damaged is told in the faults given to [Open]; what can be read is emitted.
// A polygon without a key of a map unit is emitted with an empty one, so that its ground shows as not described.
func (e *Export) Polygons(ctx context.Context, emit func(Polygon) error) error {
	once := &emitOnce{export: e, emit: emit}
	drawn, charts := 0, 0
	for _, a := range e.areas {
		if a.drawn() {
			drawn++
		}
		if a.chart != nil {
			charts++
		}
	}
	// fingerprints cost memory and time, and one map alone is taken as it is
	if drawn > 1 {
		once.seen = map[[16]byte]bool{}
		if _, err := e.Survey(ctx); err != nil { // it tells which areas are outdated
			return err
		}
	}
	for _, a := range e.areas {
		if a.chart != nil {
			if err := a.chart.Polygons(ctx, once.of(a)); err != nil {
				return err
			}
		}
		// polygons from elsewhere may belong to these tables; their keys will tell
		if !a.drawn() && charts == 0 && !a.bare {
			a.faults.Add(diag.Fault{File: join(a.export, a.tabular), Kind: "no map",
				What: "there are tables, but no map unit polygons (soilmu_a_*.shp in the folder spatial beside them)",
				Fix:  "give the folder that holds both tabular and spatial"})
		}
		for _, l := range a.layers {
			if err := a.layer(ctx, l, once.of(a)); err != nil {
				return err
			}
		}
	}
	once.tell()
	return nil
}

// layer emits the polygons of one layer. Without a .shp the map is damaged; without keys it is no map of this survey.
func (a *area) layer(ctx context.Context, l layerFiles, emit func(Polygon) error) error {
	if l.shp == "" {
		a.faults.Add(diag.Fault{File: join(a.export, l.base+".shp"), Kind: "no map",
			What: "the .shp with the map unit polygons is missing, though its companions are there", Fix: "take a complete copy of the export"})
		return nil
	}
	name := join(a.export, l.shp)
	layer, err := shapefile.Open(name, a.fsys, l.shp, a.faults)
	if err != nil {
		return err
	}
	g, err := newGround(name, layer)
	if err != nil {
		return err
	}
	// an area symbol is not needed to join, so it may lack
	unit, symbol := layer.Column("MUKEY"), layer.Column("AREASYMBOL")
	// Without keys the whole layer would be ground that is not described, in silence.
	if unit < 0 {
		return fmt.Errorf("%s: its .dbf has no column MUKEY, so its polygons cannot be joined to map units; take a fresh copy of the export", name)
	}
	share := sharer()
	return layer.Polygons(func(i int, shape orb.MultiPolygon, rec *shapefile.Record) error {
		if i%checkEvery == 0 && ctx.Err() != nil {
			return context.Cause(ctx)
		}
		// Left out whole: a polygon with one corner off the earth would be cut along a line that nobody drew.
		if !g.settle(shape) {
			a.polygonFault(name, i, "", "off the earth", "it has corners that are no longitude and latitude", "it is left out, and its ground counts as not described")
			return nil
		}
		p := Polygon{Unit: share(rec.Text(unit)), Shape: shape}
		if symbol >= 0 {
			p.Area = share(rec.Text(symbol))
		}
		if p.Unit == "" {
			a.polygonFault(name, i, "MUKEY", "no key", "it has no map unit key", "its ground counts as not described")
		}
		return emit(p)
	})
}

// polygonFault tells of a polygon by its place in the .shp, from 1.
func (a *area) polygonFault(name string, i int, field, kind, what, fix string) {
	a.faults.Add(diag.Fault{File: name, Feature: fmt.Sprintf("record %d", i+1), Field: field, Kind: kind, What: what, Fix: fix})
}

// sharer returns a function that gives equal texts one memory: thousands of polygons carry a few keys.
func sharer() func(string) string {
	seen := map[string]string{}
	return func(s string) string {
		s = strings.TrimSpace(s)
		if t, ok := seen[s]; ok {
			return t
		}
		seen[s] = s
		return s
	}
}
