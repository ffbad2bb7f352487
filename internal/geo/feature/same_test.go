package feature_test

import (
	"bytes"
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"testing"
	"time"

	"github.com/paulmach/orb"

	"rootworthy/internal/geo/feature"
	"rootworthy/internal/geo/flatgeobuf"
	"rootworthy/internal/geo/geopackage"
	"rootworthy/internal/geo/kml"
	"rootworthy/internal/secondopinion"
)

// table is one zone table: neighbours that share edges, a hole, an island in it, two parts, odd names, a missing value.
func table() ([]feature.Column, feature.Rows) {
	square := func(x, y, size float64) orb.Ring {
		x, y = -86+x/1000, 38+y/1000
		size /= 1000
		return orb.Ring{{x, y}, {x + size, y}, {x + size, y + size}, {x, y + size}, {x, y}}
	}
	hole := square(2, 2, 4)
	hole.Reverse()
	cols := []feature.Column{{Name: "zone_id"}, {Name: "class"}, {Name: "lime_st_ac", Type: feature.Real}, {Name: "cuts", Type: feature.Integer}}
	return cols, func(yield func(orb.MultiPolygon, []any) bool) {
		_ = yield(orb.MultiPolygon{{square(0, 0, 8), hole}, {square(20, 0, 2)}}, []any{"Été & \"fils\" <1>", "suited", 1.5, 3}) &&
			yield(orb.MultiPolygon{{square(2, 2, 4)}}, []any{"Z2", "marginal", nil, nil}) &&
			yield(orb.MultiPolygon{{square(8, 0, 8)}}, []any{"Z3", "unsuited", 0.0, 0})
	}
}

// TestOneTableInAllFormats: keys, ellipsoidal areas and values agree, as an independent program reads them.
func TestOneTableInAllFormats(t *testing.T) {
	check := secondopinion.Checker(t, secondopinion.GDAL)
	cols, rows := table()
	var features []any
	for shape, values := range rows {
		properties := map[string]any{}
		for i, c := range cols {
			properties[c.Name] = values[i]
		}
		features = append(features, map[string]any{"type": "Feature", "properties": properties, "geometry": map[string]any{"type": "MultiPolygon", "coordinates": shape}})
	}
	var gpkg, fgb, globe bytes.Buffer
	reference, err := json.Marshal(map[string]any{"type": "FeatureCollection", "features": features})
	if err != nil {
		t.Fatal(err)
	}
	for _, err := range []error{
		geopackage.Write(t.Context(), &gpkg, []geopackage.Content{{Name: "zones", Columns: cols, Rows: rows}}, time.Time{}),
		flatgeobuf.Write(&fgb, flatgeobuf.Content{Name: "zones", Columns: cols, Rows: rows}),
		kml.Write(&globe, kml.Document{Layers: []kml.Layer{{Name: "zones", Columns: cols, Rows: rows, Label: func(v []any) string { return fmt.Sprint(v[0]) }}}}),
	} {
		if err != nil {
			t.Fatal(err)
		}
	}
	args := []string{"same", "--key", "zone_id", "--values", "class,lime_st_ac,cuts"}
	for _, f := range []struct {
		name string
		b    []byte
	}{{"zones.geojson", reference}, {"zones.gpkg", gpkg.Bytes()}, {"zones.fgb", fgb.Bytes()}, {"zones.kml", globe.Bytes()}} {
		file := filepath.Join(t.TempDir(), f.name)
		if err := os.WriteFile(file, f.b, 0o644); err != nil {
			t.Fatal(err)
		}
		args = append(args, file)
	}
	t.Log(check(args...))
}
