package exchange

import (
	"context"
	"fmt"
	"io"
	"slices"
)

// Format is one way to write the zones.
type Format struct {
	Name  string // as on the command line
	About string // for people
	files []file
}

// file is one file of a format.
type file struct {
	name   string
	raster bool // drawn cell by cell
	write  func(*Set, context.Context, io.Writer) error
}

// Formats lists every format, in the order of the help.
func Formats() []Format {
	// Most formats are one file.
	one := func(name string, write func(*Set, context.Context, io.Writer) error) []file {
		return []file{{name: name, write: write}}
	}
	return []Format{
		{"shapefile", "shapefile, five files and their long names in a zip", one("zones.shp.zip", (*Set).writeShapefile)},
		{"geopackage", "GeoPackage: zones, fields, samples as layers", one("zones.gpkg", (*Set).writeGeoPackage)},
		{"flatgeobuf", "FlatGeobuf", one("zones.fgb", (*Set).writeFlatGeobuf)},
		{"geoparquet", "GeoParquet", one("zones.parquet", (*Set).writeGeoParquet)},
		{"kml", "KML for globes, coloured by class", one("zones.kml", (*Set).writeKML)},
		{"kmz", "the same, zipped", one("zones.kmz", (*Set).writeKMZ)},
		{"geotiff", "rasters of lime, class and pH, plain", rasterFiles(".tif", plainWriters())},
		{"cog", "the same for the web: tiles, compressed, overviews", rasterFiles(".cog.tif", tiledWriters())},
		{"csv", "table", one("zones.csv", (*Set).writeCSV)},
		{"xlsx", "workbook: zones, fields, and what the columns mean", one("zones.xlsx", (*Set).writeWorkbook)},
		{"geojson", "GeoJSON", one("zones.geojson", (*Set).writeGeoJSON)},
	}
}

// Files lists the names of the files of a format.
func (f Format) Files() []string {
	var out []string
	for _, x := range f.files {
		out = append(out, x.name)
	}
	return out
}

// FormatNames lists the names of all formats.
func FormatNames() []string {
	var out []string
	for _, f := range Formats() {
		out = append(out, f.Name)
	}
	return out
}

// rasterFiles names the three rasters.
// write has the three in the same order: lime, class, pH.
func rasterFiles(ending string, write [3]func(*Set, context.Context, io.Writer) error) []file {
	var out []file
	for i, what := range [...]string{"lime", "class", "ph"} {
		out = append(out, file{"zones." + what + ending, true, write[i]})
	}
	return out
}

// chosen returns the formats of some names, each once, in the order of the list. No names are all formats.
func chosen(names []string) ([]Format, error) {
	for _, n := range names {
		if !slices.Contains(FormatNames(), n) {
			return nil, fmt.Errorf("there is no format %q", n)
		}
	}
	return slices.DeleteFunc(Formats(), func(f Format) bool { return len(names) > 0 && !slices.Contains(names, f.Name) }), nil
}
