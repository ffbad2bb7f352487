package soilmap

import (
	"context"
	"fmt"
	"slices"
	"strings"

	"rootworthy/internal/geo/feature"
	"rootworthy/internal/geo/geopackage"
	"rootworthy/soils/ssurgo"
)

// database opens a GeoPackage or another SQLite database: for the survey's tables, for a layer of polygons, or both.
func (o *opening) database(ctx context.Context, s Source) (*ssurgo.Export, error) {
	r, size, closeFile, err := s.openAt()
	if err != nil {
		return nil, err
	}
	// A GeoPackage is an SQLite database with tables of its own; one reader takes both.
	db, err := geopackage.Open(ctx, s.Name, r, size, o.faults)
	if err != nil {
		closeFile()
		return nil, err
	}
	// the database before its file
	o.out.closing = append(o.out.closing, db.Close, closeFile)
	layers, err := db.Layers(ctx)
	if err != nil {
		return nil, err
	}
	drawn := o.mapLayer(layers)
	// Either is enough: tables without a map can be rated, a map without tables can be cut.
	tables := tablesOf(db)
	if tables == nil && drawn == nil {
		return nil, fmt.Errorf("%s: %w: no tables of a survey (mapunit, component, …) and no layer with a column %q; it has %s",
			s.Name, errNoKey, o.opt.UnitsKey, feature.Shorten(listed(db, layers)))
	}
	var m ssurgo.Map
	// part tells package ssurgo that ground without polygons may just not be in this map; only tables with a whole layer
	// beside them can promise a whole survey area.
	part := true
	what := "survey database"
	if drawn != nil {
		// A map alone is a part: nothing in it says that it covers its survey area.
		m, part = &keyedMap{name: s.Name + ", layer " + drawn.Name, layer: &dbLayer{s.Name, drawn}, key: o.opt.UnitsKey, faults: o.faults}, tables == nil || partial(drawn.Name)
		what += ", map unit polygons in layer " + drawn.Name
	}
	// A nil *dbTables in it would not be a nil Source, hence the second assignment.
	var source ssurgo.Source
	if tables != nil {
		source = tables
	} else {
		what = "database with map unit polygons in layer " + drawn.Name
	}
	o.found(s.Name, what)
	return ssurgo.New(s.Name, source, m, part, o.faults), nil
}

// layerNames begin the names of map unit layers in databases, of several generations; the first that is there is taken.
var layerNames = []string{"mupolygon", "soilmu_a", "gsmsoilmu_a"}

// mapLayer picks the layer of map unit polygons: by its name, else the first that has a column with keys.
func (o *opening) mapLayer(layers []*geopackage.Layer) *geopackage.Layer {
	keyed := func(l *geopackage.Layer) bool {
		return slices.ContainsFunc(l.Columns, func(c geopackage.Column) bool { return strings.EqualFold(c.Name, o.opt.UnitsKey) })
	}
	for _, n := range layerNames {
		for _, l := range layers {
			// by name only with keys as well: a view of that name may have lost them
			if strings.HasPrefix(strings.ToLower(l.Name), n) && keyed(l) {
				return l
			}
		}
	}
	// lines and points of map units carry keys too
	areal := func(l *geopackage.Layer) bool {
		k := strings.ToUpper(l.Kind)
		// An empty kind is a database that does not say what its layers are; GEOMETRY may be anything, polygons included.
		return k == "" || strings.Contains(k, "POLYGON") || strings.HasPrefix(k, "GEOMETRY") || strings.Contains(k, "SURFACE")
	}
	if i := slices.IndexFunc(layers, func(l *geopackage.Layer) bool { return keyed(l) && areal(l) }); i >= 0 {
		return layers[i]
	}
	return nil
}

// listed names layers and tables for a message: what is there, where what was looked for is not.
func listed(db *geopackage.DB, layers []*geopackage.Layer) string {
	var names []string
	for _, l := range layers {
		names = append(names, "layer "+l.Name)
	}
	for _, t := range db.Tables() {
		if !slices.ContainsFunc(layers, func(l *geopackage.Layer) bool { return l.Name == t.Name }) {
			names = append(names, t.Name)
		}
	}
	if len(names) == 0 {
		return "no tables"
	}
	return strings.Join(names, ", ")
}

// dbTables gives package ssurgo the tables of a database.
type dbTables struct{ db *geopackage.DB }

// tablesOf returns nil when the database holds no map units.
func tablesOf(db *geopackage.DB) *dbTables {
	// the table that all others hang on; capitals do not matter
	if t, ok := db.Table("mapunit"); !ok || t.Column("mukey") < 0 {
		return nil
	}
	return &dbTables{db}
}

// Place implements [ssurgo.Source].
func (d *dbTables) Place(table string) string { return d.db.Name() + ", table " + table }

// Columns implements [ssurgo.Source].
func (d *dbTables) Columns(table string) ([]string, bool) {
	t, ok := d.db.Table(table)
	if !ok {
		return nil, false
	}
	names := make([]string, len(t.Columns))
	for i, c := range t.Columns {
		names[i] = strings.ToLower(c.Name)
	}
	return names, true
}

// Rows implements [ssurgo.Source].
func (d *dbTables) Rows(ctx context.Context, table string, columns []string, each func([]string) error) error {
	t, ok := d.db.Table(table)
	if !ok {
		return nil
	}
	// One list for all rows: each must copy what it keeps.
	values := make([]string, len(columns))
	return t.Rows(ctx, columns, func(r *geopackage.Row) error {
		for i := range values {
			values[i] = r.Text(i)
			// keys that a conversion made numbers of: they must match those of the map letter by letter
			if strings.HasSuffix(columns[i], "key") {
				values[i] = whole(values[i])
			}
		}
		return each(values)
	})
}

// dbLayer is a layer of a database.
type dbLayer struct {
	database string // its name, as the user gave it
	layer    *geopackage.Layer
}

// columns is never nil: a database knows its columns before the first row.
func (l *dbLayer) columns() []string {
	names := []string{}
	for _, c := range l.layer.Columns {
		names = append(names, c.Name)
	}
	return names
}

// scan gives every feature the layer's one system.
func (l *dbLayer) scan(ctx context.Context, columns []string, each func(system, feature.Feature) error) error {
	var sys system
	crs, known, err := l.layer.CRS()
	if err != nil { // which names the layer
		return fmt.Errorf("%s, %w", l.database, err)
	}
	// known is false where the database states no system; then settle takes the coordinates as degrees or refuses them.
	if known {
		if sys, err = stated(crs); err != nil {
			return fmt.Errorf("%s, layer %s: %w", l.database, l.layer.Name, err)
		}
	}
	return l.layer.Features(ctx, func(f feature.Feature) error { return each(sys, only(f, columns)) })
}
