//go:build !gdal

package gdal

import (
	"context"
	"fmt"
	"path/filepath"
	"strings"

	"rootworthy/internal/diag"
	"rootworthy/soils/ssurgo"
)

// Built says whether this program was built with GDAL.
const Built = false

// OpenSurvey says how to come to a program that can open a file geodatabase, and how to do without.
func OpenSurvey(_ context.Context, path, _ string, _ *diag.List) (*ssurgo.Export, func() error, error) {
	base := strings.TrimSuffix(filepath.Base(path), filepath.Ext(path))
	return nil, nil, fmt.Errorf("%s: file geodatabases are read by GDAL, and this program was built without it; either convert it once "+
		"(ogr2ogr %s.gpkg %s) and give the GeoPackage, or install GDAL with its headers (Debian: libgdal-dev) and build with `go build -tags gdal ./cmd/rootworthy`",
		path, base, path)
}
