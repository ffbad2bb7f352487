package geopackage

import (
	"context"
	"fmt"
	"strings"

	"rootworthy/internal/geo/feature"
	"rootworthy/internal/geo/proj"
)

// SRS is a reference system as the database describes it.
type SRS struct {
	ID           string // its number in this database, as text
	Organization string // who numbered it, such as "EPSG"; empty when the database does not say
	Code         string // the organisation's own number
	Definition   string // well-known text; empty or "undefined" when there is none
}

// undefined tells whether the database says that it does not know the system: the numbers -1 (undefined, cartesian) and
// 0 (undefined, geographic) of the standard, clause 1.1.2.
func (s SRS) undefined() bool { return s.ID == "-1" || s.ID == "0" || s.ID == "" }

// CRS returns the reference system of the layer. ok is false when the database does not say which; the error names a
// system that is not known here, but not the file. Coordinates are x, y (longitude, latitude) whatever the order of the system's own axes:
// so the standard stores them.
func (l *Layer) CRS() (crs proj.CRS, ok bool, err error) {
	s := l.SRS
	if s.undefined() {
		return proj.CRS{}, false, nil
	}
	// By the code first and by the text only where the code is not known here: texts differ by program.
	if strings.EqualFold(s.Organization, "EPSG") {
		if crs, err = proj.FromName("EPSG:" + s.Code); err == nil {
			return crs, true, nil
		}
	}
	err = fmt.Errorf("its reference system %s is not described in the database; name it with --crs EPSG:n", feature.Shorten(s.ID))
	if text := strings.TrimSpace(s.Definition); text != "" && !strings.EqualFold(text, "undefined") {
		crs, err = proj.Parse(text)
	}
	if err != nil {
		return proj.CRS{}, false, fmt.Errorf("layer %s: %w", l.Name, err)
	}
	return crs, true, nil
}

// systems reads the table of reference systems, by their number in this database.
func (d *DB) systems(ctx context.Context) (map[string]SRS, error) {
	out := map[string]SRS{}
	for _, form := range []struct{ table, id, organization, code, definition string }{
		{"gpkg_spatial_ref_sys", "srs_id", "organization", "organization_coordsys_id", "definition"},
		{"spatial_ref_sys", "srid", "auth_name", "auth_srid", "srtext"},
	} {
		t, ok := d.Table(form.table)
		if !ok {
			continue
		}
		err := t.Rows(ctx, []string{form.id, form.organization, form.code, form.definition}, func(r *Row) error {
			// The standard's table is read first and wins over the older one.
			if s := (SRS{r.Text(0), r.Text(1), r.Text(2), r.Text(3)}); len(out) < maxSystems && out[s.ID].ID == "" {
				out[s.ID] = s
			}
			return nil
		})
		if err != nil {
			return nil, err
		}
	}
	return out, nil
}

// maxSystems bounds the systems kept; the whole register has some thousand.
const maxSystems = 50_000
