package geopackage

import (
	"fmt"
	"strings"

	"rootworthy/internal/geo/feature"
)

// Names of the two columns every layer has.
const (
	keyColumn   = "fid"
	shapeColumn = "geom"
)

// headSchema is what every GeoPackage has.
//
// Source: OGC 12-128r17, tables 16 to 22 of annex C (gpkg_spatial_ref_sys, gpkg_contents, gpkg_geometry_columns,
// gpkg_extensions, gpkg_data_columns), application id and version of clause 1.1.1.1.1.
const headSchema = `
PRAGMA application_id = 1196444487;
PRAGMA user_version = 10300;
CREATE TABLE gpkg_spatial_ref_sys (
  srs_name TEXT NOT NULL,
  srs_id INTEGER PRIMARY KEY,
  organization TEXT NOT NULL,
  organization_coordsys_id INTEGER NOT NULL,
  definition TEXT NOT NULL,
  description TEXT
);
CREATE TABLE gpkg_contents (
  table_name TEXT NOT NULL PRIMARY KEY,
  data_type TEXT NOT NULL,
  identifier TEXT UNIQUE,
  description TEXT DEFAULT '',
  last_change DATETIME NOT NULL DEFAULT (strftime('%Y-%m-%dT%H:%M:%fZ','now')),
  min_x DOUBLE,
  min_y DOUBLE,
  max_x DOUBLE,
  max_y DOUBLE,
  srs_id INTEGER,
  CONSTRAINT fk_gc_r_srs_id FOREIGN KEY (srs_id) REFERENCES gpkg_spatial_ref_sys(srs_id)
);
CREATE TABLE gpkg_geometry_columns (
  table_name TEXT NOT NULL,
  column_name TEXT NOT NULL,
  geometry_type_name TEXT NOT NULL,
  srs_id INTEGER NOT NULL,
  z TINYINT NOT NULL,
  m TINYINT NOT NULL,
  CONSTRAINT pk_geom_cols PRIMARY KEY (table_name, column_name),
  CONSTRAINT uk_gc_table_name UNIQUE (table_name),
  CONSTRAINT fk_gc_tn FOREIGN KEY (table_name) REFERENCES gpkg_contents(table_name),
  CONSTRAINT fk_gc_srs FOREIGN KEY (srs_id) REFERENCES gpkg_spatial_ref_sys (srs_id)
);
CREATE TABLE gpkg_extensions (
  table_name TEXT,
  column_name TEXT,
  extension_name TEXT NOT NULL,
  definition TEXT NOT NULL,
  scope TEXT NOT NULL,
  CONSTRAINT ge_tce UNIQUE (table_name, column_name, extension_name)
);
`

// wgs84 is the reference system of all layers written.
const wgs84 = 4326

// wgs84Text is the well-known text of longitude and latitude on WGS 84, as the standard's own example has it.
const wgs84Text = `GEOGCS["WGS 84",DATUM["WGS_1984",SPHEROID["WGS 84",6378137,298.257223563,AUTHORITY["EPSG","7030"]],AUTHORITY["EPSG","6326"]],PRIMEM["Greenwich",0,AUTHORITY["EPSG","8901"]],UNIT["degree",0.0174532925199433,AUTHORITY["EPSG","9122"]],AXIS["Latitude",NORTH],AXIS["Longitude",EAST],AUTHORITY["EPSG","4326"]]`

// systemsToWrite returns the rows every GeoPackage must have, clause 1.1.2.1.2.
func systemsToWrite() [][6]any {
	return [][6]any{
		// No layer written here is in the first two; the standard asks for them.
		{"Undefined Cartesian SRS", -1, "NONE", -1, "undefined", "undefined Cartesian coordinate reference system"},
		{"Undefined geographic SRS", 0, "NONE", 0, "undefined", "undefined geographic coordinate reference system"},
		{"WGS 84 geodetic", wgs84, "EPSG", wgs84, wgs84Text, "longitude/latitude coordinates in decimal degrees on the WGS 84 spheroid"},
	}
}

// createLayer returns the statement that makes the table of a layer.
// With AUTOINCREMENT the numbers of rows that were taken out are not given again.
func createLayer(l Content) string {
	var b strings.Builder
	fmt.Fprintf(&b, "CREATE TABLE %s (\n  %s INTEGER PRIMARY KEY AUTOINCREMENT NOT NULL,\n  %s %s", quote(l.Name), quote(keyColumn), quote(shapeColumn), l.kind())
	for _, c := range l.Columns {
		fmt.Fprintf(&b, ",\n  %s %s", quote(c.Name), declared(c.Type))
	}
	b.WriteString("\n)")
	return b.String()
}

func (l Content) kind() string {
	if l.Points != nil {
		return "POINT"
	}
	return "MULTIPOLYGON"
}

// declared returns the type of a column in SQL.
//
// Source: OGC 12-128r17, table 1.
func declared(t feature.Type) string {
	switch t {
	case feature.Integer:
		return "INTEGER"
	case feature.Real:
		return "REAL"
	case feature.Bool:
		return "BOOLEAN"
	case feature.Date:
		return "DATE"
	}
	return "TEXT"
}

// triggers keep the spatial index in step for programs that change the layer later. They call functions (ST_MinX …)
// that such programs bring along, so they are made after all rows are in.
//
// Source: OGC 12-128r17, annex F.3, "Create triggers"; <t>, <c> and <i> as there.
const triggers = `
CREATE TRIGGER "rtree_<t>_<c>_insert" AFTER INSERT ON "<t>"
  WHEN (new."<c>" NOT NULL AND NOT ST_IsEmpty(NEW."<c>"))
BEGIN
  INSERT OR REPLACE INTO "rtree_<t>_<c>" VALUES (NEW."<i>", ST_MinX(NEW."<c>"), ST_MaxX(NEW."<c>"), ST_MinY(NEW."<c>"), ST_MaxY(NEW."<c>"));
END;
CREATE TRIGGER "rtree_<t>_<c>_update1" AFTER UPDATE OF "<c>" ON "<t>"
  WHEN OLD."<i>" = NEW."<i>" AND (NEW."<c>" NOTNULL AND NOT ST_IsEmpty(NEW."<c>"))
BEGIN
  INSERT OR REPLACE INTO "rtree_<t>_<c>" VALUES (NEW."<i>", ST_MinX(NEW."<c>"), ST_MaxX(NEW."<c>"), ST_MinY(NEW."<c>"), ST_MaxY(NEW."<c>"));
END;
CREATE TRIGGER "rtree_<t>_<c>_update2" AFTER UPDATE OF "<c>" ON "<t>"
  WHEN OLD."<i>" = NEW."<i>" AND (NEW."<c>" ISNULL OR ST_IsEmpty(NEW."<c>"))
BEGIN
  DELETE FROM "rtree_<t>_<c>" WHERE id = OLD."<i>";
END;
CREATE TRIGGER "rtree_<t>_<c>_update3" AFTER UPDATE ON "<t>"
  WHEN OLD."<i>" != NEW."<i>" AND (NEW."<c>" NOTNULL AND NOT ST_IsEmpty(NEW."<c>"))
BEGIN
  DELETE FROM "rtree_<t>_<c>" WHERE id = OLD."<i>";
  INSERT OR REPLACE INTO "rtree_<t>_<c>" VALUES (NEW."<i>", ST_MinX(NEW."<c>"), ST_MaxX(NEW."<c>"), ST_MinY(NEW."<c>"), ST_MaxY(NEW."<c>"));
END;
CREATE TRIGGER "rtree_<t>_<c>_update4" AFTER UPDATE ON "<t>"
  WHEN OLD."<i>" != NEW."<i>" AND (NEW."<c>" ISNULL OR ST_IsEmpty(NEW."<c>"))
BEGIN
  DELETE FROM "rtree_<t>_<c>" WHERE id IN (OLD."<i>", NEW."<i>");
END;
CREATE TRIGGER "rtree_<t>_<c>_delete" AFTER DELETE ON "<t>"
  WHEN old."<c>" NOT NULL
BEGIN
  DELETE FROM "rtree_<t>_<c>" WHERE id = OLD."<i>";
END;
`

// named puts the names of a layer into a statement.
func named(statement, layer string) string {
	// Names were checked by plain, so they need no escaping.
	return strings.NewReplacer("<t>", layer, "<c>", shapeColumn, "<i>", keyColumn).Replace(statement)
}
