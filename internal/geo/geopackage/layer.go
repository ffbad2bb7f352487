package geopackage

import (
	"context"
	"fmt"
	"strings"
)

// Layer is a table with a geometry column.
type Layer struct {
	Name     string // of the table
	Title    string // for people; empty when there is none
	Geometry string // name of the geometry column
	Kind     string // of geometry, as declared: "MULTIPOLYGON", "GEOMETRY", …; empty when not
	SRS      SRS
	Columns  []Column // the attributes: all columns but the geometry, and but a key that is a row number only

	db    *DB
	table *Table
}

// Layers returns the layers of the database in the order it lists them. A layer that is listed and cannot be read (a
// view) is no error here; [DB.Layer] says why.
func (d *DB) Layers(ctx context.Context) ([]*Layer, error) {
	// By the number that the list of layers names them by.
	systems, err := d.systems(ctx)
	if err != nil {
		return nil, err
	}
	titles := map[string]string{}
	if t, ok := d.Table("gpkg_contents"); ok {
		err = t.Rows(ctx, []string{"table_name", "identifier"}, func(r *Row) error {
			// Names of tables differ in capitals between the lists, and SQL does not mind.
			titles[strings.ToLower(r.Text(0))] = r.Text(1)
			return nil
		})
		if err != nil {
			return nil, err
		}
	}
	var out []*Layer
	listed := map[string]bool{}
	// The standard's list, then that of SpatiaLite and of older programs. A database may have both, the second as a view or
	// a copy: a layer that was listed is not listed again.
	for _, form := range [...][5]string{
		{"gpkg_geometry_columns", "table_name", "column_name", "geometry_type_name", "srs_id"},
		{"geometry_columns", "f_table_name", "f_geometry_column", "geometry_type", "srid"},
	} {
		t, ok := d.Table(form[0])
		if !ok {
			continue
		}
		err := t.Rows(ctx, form[1:], func(r *Row) error {
			l := d.layer(r.Text(0), r.Text(1), r.Text(2), systems[r.Text(3)], r.Text(3))
			if l != nil && !listed[l.Name] {
				l.Title = titles[strings.ToLower(l.Name)]
				listed[l.Name] = true
				out = append(out, l)
			}
			return nil
		})
		if err != nil {
			return nil, err
		}
	}
	return out, nil
}

// layer puts a layer together; nil when the table or its geometry column is not there.
func (d *DB) layer(table, geometry, kind string, srs SRS, id string) *Layer {
	t, ok := d.Table(table)
	if !ok {
		return nil
	}
	at := t.Column(geometry)
	if at < 0 {
		return nil
	}
	// Also when the table of systems lacks it: CRS then says so with the number.
	srs.ID = id
	l := &Layer{Name: t.Name, Geometry: t.Columns[at].Name, Kind: strings.ToUpper(kind), SRS: srs, db: d, table: t}
	for i, c := range t.Columns {
		if i != at && !(c.Name == t.key && isRowNumber(c.Name)) {
			l.Columns = append(l.Columns, c)
		}
	}
	return l
}

// isRowNumber tells of a key column by its name whether it only counts rows, as the names do that programs give it by
// themselves.
func isRowNumber(name string) bool {
	switch strings.ToLower(name) {
	case "fid", "ogc_fid", "ogr_fid", "pk_uid", "pkuid":
		return true
	}
	return false
}

// Layer returns the layer of that name (capitals do not matter), or the only one if name is empty. The error lists the
// layers there are.
func (d *DB) Layer(ctx context.Context, name string) (*Layer, error) {
	all, err := d.Layers(ctx)
	if err != nil {
		return nil, err
	}
	if name == "" && len(all) == 1 {
		return all[0], nil
	}
	var names []string
	for _, l := range all {
		if name != "" && strings.EqualFold(l.Name, name) {
			return l, nil
		}
		names = append(names, l.Name)
	}
	// A view may be the very layer that was meant: then it is said why it is not there.
	for _, o := range d.others {
		if strings.EqualFold(o.name, name) {
			return nil, fmt.Errorf("%s: layer %s is %s, which is not read; export it as a layer of its own", d.name, name, o.kind)
		}
	}
	switch {
	case len(all) == 0:
		return nil, fmt.Errorf("%s: holds no layers, only tables without shapes", d.name)
	case name == "":
		return nil, fmt.Errorf("%s: holds %d layers; name one of them: %s", d.name, len(all), strings.Join(names, ", "))
	}
	return nil, fmt.Errorf("%s: holds no layer %q; there are: %s", d.name, name, strings.Join(names, ", "))
}
