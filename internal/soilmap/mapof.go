package soilmap

import (
	"context"

	"rootworthy/internal/diag"
	"rootworthy/internal/geo/feature"
	"rootworthy/internal/geo/proj"
	"rootworthy/soils/ssurgo"
)

// NewMap makes a map of features with keys of map units, for readers of formats that are not told here. Columns are those
// that features calls each with; the zero crs means longitude and latitude, and another is one that [proj.CRS.FitForLines].
func NewMap(name, unitsKey string, crs proj.CRS, features func(ctx context.Context, columns []string, each func(feature.Feature) error) error, faults *diag.List) ssurgo.Map {
	return &keyedMap{name: name, layer: otherLayer{system{crs, crs != proj.CRS{}}, features}, key: unitsKey, faults: faults}
}

// otherLayer is a layer read elsewhere.
type otherLayer struct {
	sys      system
	features func(ctx context.Context, columns []string, each func(feature.Feature) error) error
}

// columns is nil, as NewMap is not told them: they are looked for feature by feature.
func (l otherLayer) columns() []string { return nil }

func (l otherLayer) scan(ctx context.Context, columns []string, each func(system, feature.Feature) error) error {
	return l.features(ctx, columns, func(f feature.Feature) error { return each(l.sys, f) })
}
