package soildata

import (
	"fmt"
	"strings"

	"rootworthy/soils/ssurgo"
)

// source says where the service keeps a table of the export and by which key its rows are asked for.
type source struct {
	table string
	words string // for people
	from  string // FROM clause; empty: the table alone
	// with its table, since joins have columns of one name in several
	key string
	and string
}

// The joins that lead from a table up to map units, so that all tables are asked for by one list of keys.
const (
	ofComponent = "component INNER JOIN %[1]s ON %[1]s.cokey = component.cokey"
	ofHorizon   = "component INNER JOIN chorizon ON chorizon.cokey = component.cokey INNER JOIN %[1]s ON %[1]s.chkey = chorizon.chkey"
	ofTexture   = "component INNER JOIN chorizon ON chorizon.cokey = component.cokey INNER JOIN chtexturegrp ON chtexturegrp.chkey = chorizon.chkey" +
		" INNER JOIN %[1]s ON %[1]s.chtgkey = chtexturegrp.chtgkey"
	ofMonth = "component INNER JOIN comonth ON comonth.cokey = component.cokey INNER JOIN %[1]s ON %[1]s.comonthkey = comonth.comonthkey"
)

// notGeneral keeps the general soil map out, whose units stand in the same tables.
const notGeneral = "legend.areasymbol <> '" + general + "'"

// sources lists the tables to fetch, in the order in which they are asked for. The first two go by area, the others by
// map unit.
func sources() []source {
	return []source{
		{table: "legend", words: "legend", key: "legend.areasymbol", and: notGeneral},
		{table: "sacatalog", words: "catalogue", key: "sacatalog.areasymbol"},
		{table: "mapunit", words: "map units", from: "mapunit INNER JOIN legend ON legend.lkey = mapunit.lkey", key: "mapunit.mukey", and: notGeneral},
		{table: "component", words: "components", key: "component.mukey"},
		{table: "chorizon", words: "horizons", from: ofComponent, key: "component.mukey"},
		{table: "chtexturegrp", words: "texture groups", from: ofHorizon, key: "component.mukey"},
		{table: "chtexture", words: "textures", from: ofTexture, key: "component.mukey"},
		{table: "corestrictions", words: "restrictions", from: ofComponent, key: "component.mukey"},
		{table: "comonth", words: "months", from: ofComponent, key: "component.mukey"},
		{table: "cosoilmoist", words: "soil moisture", from: ofMonth, key: "component.mukey"},
	}
}

// byArea says whether the table goes by survey area.
func (s source) byArea() bool { return strings.HasSuffix(s.key, ".areasymbol") }

// selection returns the query for the columns of the table that the reader of exports reads.
func (s source) selection(l ssurgo.Table) selection {
	from := s.from
	switch {
	case from == "":
		from = s.table
	// a join that names the table itself
	case strings.Contains(from, "%"):
		from = fmt.Sprintf(from, s.table)
	}
	q := selection{from: from, key: s.key, and: s.and}
	for _, c := range l.Columns {
		// Only columns that the reader of exports knows: the service is not asked for what nobody will read.
		q.columns = append(q.columns, s.table+"."+c.Name)
	}
	return q
}

// layouts returns the layout of each table by its name.
func layouts() map[string]ssurgo.Table {
	out := map[string]ssurgo.Table{}
	for _, t := range ssurgo.Tables() {
		out[t.Name] = t
	}
	return out
}

// unitsOf asks for the map units of survey areas.
func unitsOf() selection {
	return selection{columns: []string{"mapunit.mukey"}, from: "mapunit INNER JOIN legend ON legend.lkey = mapunit.lkey",
		key: "legend.areasymbol", and: notGeneral}
}

// polygonsOf asks for the keys of the polygons of map units. The polygons of the general soil map have a table of
// their own.
func polygonsOf() selection {
	return selection{columns: []string{"mupolygon.mupolygonkey"}, from: "mupolygon", key: "mupolygon.mukey"}
}

// shapesOf asks for polygons by their keys, whole and not clipped.
func shapesOf() selection {
	return selection{columns: []string{"mupolygon.mupolygonkey", "mupolygon.mukey", "mupolygon.areasymbol", "mupolygon.spatialversion",
		"mupolygon.musym", "mupolygongeo.STAsText() AS geom"}, from: "mupolygon", key: "mupolygon.mupolygonkey"}
}

// versionsOf asks for version and date of survey areas.
func versionsOf() selection {
	return selection{columns: []string{"sacatalog.areasymbol", "sacatalog.saversion", "sacatalog.saverest"},
		from: "legend INNER JOIN sacatalog ON sacatalog.areasymbol = legend.areasymbol", key: "legend.areasymbol", and: notGeneral}
}

// meeting asks which polygons meet an outline, given as well-known text that this package wrote.
func meeting(outline string) question {
	columns := []string{"mupolygon.areasymbol", "mupolygon.mukey", "mupolygon.mupolygonkey"}
	return question{columns: bare(columns), text: "SELECT " + strings.Join(columns, ", ") + " FROM mupolygon WHERE mupolygon.areasymbol <> '" + general +
		// MakeValid again over there: what is valid on our grid may not be by the service's own rules. 4326 is longitude and
		// latitude (WGS 84).
		"' AND mupolygongeo.STIntersects(geometry::STGeomFromText('" + outline + "', 4326).MakeValid()) = 1"}
}
