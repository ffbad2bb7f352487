package exchange_test

import (
	"path/filepath"
	"testing"

	"rootworthy/export/exchange"
	"rootworthy/internal/secondopinion"
	"rootworthy/suitability"
)

// Every format of odd and of usual runs passes its independent checker, and all hold the same table.
func TestIndependentCheckersAgree(t *testing.T) {
	if testing.Short() {
		t.Skip("the checkers take some seconds")
	}
	check := secondopinion.Checker(t, secondopinion.GDAL)
	for _, c := range []struct {
		name string
		r    *suitability.Result
	}{{"odd", odd()}, {"vanishing", vanishing()}} {
		dir := folder(t, setOf(t, c.r, exchange.Options{}))
		in := func(file string) string { return filepath.Join(dir, file) }
		const within = "--within=-78.2,32.4,-78,32.6"
		check("shapefile", in("zones.shp"), within)
		// fields.csv of this folder came out of the zip of the shapefile: it tells the full names behind the short ones.
		check("csv", in("fields.csv"), "--columns", "short_name,long_name,unit,meaning", "--strict")
		check("geopackage", in("zones.gpkg"))
		check("flatgeobuf", in("zones.fgb"), within)
		check("parquet", in("zones.parquet"), within, "--geojson", in("parquet.geojson"))
		check("kml", in("zones.kml"), within)
		check("kml", in("zones.kmz"), within)
		check("csv", in("zones.csv"), "--strict")
		check("xlsx", in("zones.xlsx"), "--sheets", "Zones,Fields,About", "--strict")
		check("geojson", in("zones.geojson"), within)
		for _, raster := range []string{"lime", "class", "ph"} {
			check("cog", in("zones."+raster+".tif"), "--plain", "--epsg", "4326", within)
			check("cog", in("zones."+raster+".cog.tif"), "--epsg", "4326", within)
		}
		if c.name == "vanishing" {
			continue // not in FlatGeobuf, as the notes say
		}
		check("same", "--key", "zone_id", "--values", "class,lime_st_ac,area_ac,m2,product_kg,map_unit,ph_surface", in("zones.geojson"), in("zones.shp"), in("zones.gpkg"),
			in("zones.fgb"), in("zones.kml"), in("zones.csv"), in("zones.xlsx"), in("parquet.geojson"))
	}
}
