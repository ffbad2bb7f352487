//go:build gdal

package gdal

import (
	"context"
	"errors"
	"fmt"
	"strings"

	"rootworthy/internal/diag"
	"rootworthy/internal/geo/feature"
	"rootworthy/internal/geo/proj"
	"rootworthy/internal/geo/wkb"
	"rootworthy/internal/soilmap"
	"rootworthy/soils/ssurgo"
)

// Built says whether this program was built with GDAL.
const Built = true

// OpenSurvey opens a file geodatabase, or anything else that GDAL opens, as a soil survey: tables under their survey
// names, polygons in a layer with a column unitsKey. It must be closed by the function it returns.
func OpenSurvey(_ context.Context, path, unitsKey string, faults *diag.List) (*ssurgo.Export, func() error, error) {
	d, err := open(path)
	if err != nil {
		return nil, nil, fmt.Errorf("%s: cannot be opened as a survey: %w", path, err)
	}
	t := &tables{name: path, dataset: d}
	var source ssurgo.Source
	if _, ok := t.Columns("mapunit"); ok {
		source = t
	}
	var polygons ssurgo.Map
	if l := mapLayer(d, strings.ToLower(unitsKey)); l != nil {
		if polygons, err = newMap(path, l, unitsKey, faults); err != nil {
			return nil, nil, errors.Join(err, d.close())
		}
	}
	if source == nil && polygons == nil {
		d.close()
		return nil, nil, fmt.Errorf("%s: no soil survey: neither the survey's tables (mapunit, component, …) nor a layer of polygons with a column %q", path, unitsKey)
	}
	// A map without tables is a part: nothing in it says that it covers its survey area.
	return ssurgo.New(path, source, polygons, source == nil, faults), d.close, nil
}

// mapLayer picks the layer of map unit polygons, by its name first: lines and points carry keys too.
func mapLayer(d *dataset, key string) *layer {
	// "" begins every name: any other layer with the key will do.
	for _, name := range []string{"mupolygon", "soilmu_a", ""} {
		for _, l := range d.layers {
			n := strings.ToLower(l.name)
			if l.shapes && l.field(key) >= 0 && strings.HasPrefix(n, name) && !strings.Contains(n, "line") && !strings.Contains(n, "point") {
				return l
			}
		}
	}
	return nil
}

// tables gives package ssurgo the tables of a dataset.
type tables struct {
	name string
	*dataset
}

// table finds a layer by its name, capitals aside; nil when there is none.
func (t *tables) table(name string) *layer {
	for _, l := range t.layers {
		if strings.EqualFold(l.name, name) {
			return l
		}
	}
	return nil
}

// Place implements [ssurgo.Source].
func (t *tables) Place(table string) string { return t.name + ", table " + table }

// Columns implements [ssurgo.Source].
func (t *tables) Columns(table string) ([]string, bool) {
	l := t.table(table)
	if l == nil {
		return nil, false
	}
	return l.fields, true
}

// Rows implements [ssurgo.Source].
func (t *tables) Rows(ctx context.Context, table string, columns []string, each func([]string) error) error {
	l := t.table(table)
	if l == nil {
		return nil
	}
	// Used again for every row: each copies what it keeps.
	values := make([]string, len(columns))
	err := l.rows(ctx, func(r row) error {
		for i, c := range columns {
			values[i] = strings.TrimSpace(r.text(l.field(c)))
		}
		return each(values)
	})
	if err != nil && ctx.Err() == nil {
		return fmt.Errorf("%s: %w", t.Place(table), err)
	}
	return err
}

// newMap makes a map of a layer with keys.
func newMap(path string, l *layer, unitsKey string, faults *diag.List) (ssurgo.Map, error) {
	var crs proj.CRS
	if l.wkt != "" {
		var err error
		if crs, err = proj.Parse(l.wkt); err == nil {
			err = crs.FitForLines()
		}
		if err != nil {
			return nil, fmt.Errorf("%s, layer %s: %w", path, l.name, err)
		}
	}
	name := path + ", layer " + l.name
	return soilmap.NewMap(name, unitsKey, crs, func(ctx context.Context, columns []string, each func(feature.Feature) error) error {
		return l.rows(ctx, func(r row) error {
			f := feature.Feature{Index: r.index}
			for _, c := range columns {
				// A column that the layer does not have is place -1, which text takes for null.
				if s := r.text(l.field(strings.ToLower(c))); s != "" {
					f.Properties = append(f.Properties, feature.Property{Name: c, Value: feature.JSON(s)})
				}
			}
			if b := r.shape(); b != nil {
				g, err := wkb.Read(b)
				f.Geometry = g.Shape
				if err != nil {
					faults.Add(diag.Fault{File: name, Feature: f.Label(), Kind: "shape", What: err.Error(), Fix: "it is left out, and its ground counts as not described"})
				}
			}
			return each(f)
		})
	}, faults), nil
}
