package main

import (
	"fmt"
	"io"
	"os"

	"rootworthy/internal/diag"
	"rootworthy/internal/job"
	"rootworthy/raster/geotiff"
)

// openElevation opens the elevation raster, if one is given. A file hardly ever says in what its heights are, and feet taken
// for metres treble every slope: then the user must.
func (o *opened) openElevation(f *screenFlags, faults *diag.List) (*job.Heights, error) {
	if f.elevation == "" {
		if f.elevationUnit != "" || f.terrainNotes {
			return nil, usagef("--elevation-unit and --terrain-notes need an elevation raster; add --elevation FILE.tif")
		}
		return nil, nil
	}
	w := &witness{FS: os.DirFS(dirOf(f.elevation)), role: "elevation", name: f.elevation}
	in, err := w.Open(baseName(f.elevation))
	if err != nil {
		return nil, err
	}
	o.sources, o.files = append(o.sources, w), append(o.files, in)
	st, err := in.Stat()
	if err != nil {
		return nil, err
	}
	// Windows of the raster are read where fields lie; a pipe cannot do that.
	at, ok := in.(io.ReaderAt)
	if !ok || st.IsDir() {
		return nil, fmt.Errorf("%s: is no file; give an elevation raster (GeoTIFF)", f.elevation)
	}
	file, err := geotiff.Open(f.elevation, at, st.Size(), faults)
	if err != nil {
		return nil, err
	}
	h := &job.Heights{Name: f.elevation, File: file, Witnesses: f.terrainNotes}
	h.HeightMetres, err = heightUnit(f, file)
	return h, err
}

// heightUnit finds out in what heights are: as the user says, else as the file does.
// It is the metres in one unit of height: 1 for metres, 0.3048 or its survey twin for feet. A file that says nothing is a wrong command
// line and no fault, because nothing may be rated on a guess.
func heightUnit(f *screenFlags, file *geotiff.File) (float64, error) {
	if f.elevationUnit != "" {
		m, err := job.HeightUnit(f.elevationUnit)
		if err != nil {
			return 0, usagef("--elevation-unit: %q is %v", f.elevationUnit, err)
		}
		return m, nil
	}
	if m, ok := file.HeightUnit(); ok {
		return m, nil
	}
	// Where the reference system says nothing of heights, the band itself may name its unit.
	if b := file.Bands(); len(b) > 0 {
		if m, err := job.HeightUnit(b[0].Unit); err == nil {
			return m, nil
		}
	}
	return 0, usagef("%s does not say whether its heights are feet or metres; add --elevation-unit ft or --elevation-unit m", f.elevation)
}
