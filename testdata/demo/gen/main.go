// Command gen draws the invented demo farm and its invented soil survey, and writes them in the forms that real ones
// come in: GeoJSON for the fields, a survey export of shapefile and text tables for the soils.
//
//	go run ./testdata/demo/gen testdata/demo
package main

import (
	"fmt"
	"io"
	"os"
	"path/filepath"

	"github.com/paulmach/orb"

	"rootworthy/internal/atomicfile"
	"rootworthy/internal/geo/shapefile"
)

func main() {
	if len(os.Args) != 2 {
		fmt.Fprintln(os.Stderr, "usage: gen FOLDER")
		os.Exit(2)
	}
	if err := write(os.Args[1]); err != nil {
		fmt.Fprintln(os.Stderr, err)
		os.Exit(1)
	}
}

func write(dir string) error {
	spatial, tabular := filepath.Join(dir, "survey", "spatial"), filepath.Join(dir, "survey", "tabular")
	for _, d := range []string{spatial, tabular} {
		if err := os.MkdirAll(d, 0o755); err != nil {
			return err
		}
	}
	if err := writeText(filepath.Join(dir, "fields.geojson"), string(collection())); err != nil {
		return err
	}
	for name, text := range tables() {
		if err := writeText(filepath.Join(tabular, name), text); err != nil {
			return err
		}
	}
	return writeShapes(filepath.Join(spatial, "soilmu_a_zz901"))
}

func writeText(path, text string) error {
	return atomicfile.Write(path, func(w io.Writer) error { _, err := io.WriteString(w, text); return err })
}

func writeShapes(base string) error {
	columns := []shapefile.Column{{Name: "AREASYMBOL", Type: 'C', Width: 20}, {Name: "SPATIALVER", Type: 'N', Width: 10}, {Name: "MUSYM", Type: 'C', Width: 6}, {Name: "MUKEY", Type: 'C', Width: 30}}
	enc, err := shapefile.NewEncoder(columns, rows)
	if err != nil {
		return err
	}
	for ext, fill := range enc.Files() {
		if err := atomicfile.Write(base+ext, fill); err != nil {
			return err
		}
	}
	return nil
}

// rows yields the delineations with their attributes.
func rows(yield func(orb.MultiPolygon, []any) bool) {
	for _, p := range polygons() {
		var shape orb.Polygon
		for _, r := range p.rings {
			shape = append(shape, orb.Ring(closed(r)))
		}
		m := unitOf(p.unit)
		if !yield(orb.MultiPolygon{shape}, []any{areaSymbol, 1, m.musym, m.mukey}) {
			return
		}
	}
}

func unitOf(letter byte) mapUnit {
	for _, m := range mapUnits {
		if m.letter == letter {
			return m
		}
	}
	return mapUnit{}
}
