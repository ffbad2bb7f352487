package main

import (
	"context"
	"fmt"
	"io"
	"strings"

	"rootworthy/export"
	"rootworthy/export/words"
	"rootworthy/internal/atomicfile"
	"rootworthy/internal/diag"
	"rootworthy/internal/job"
	"rootworthy/soils"
	"rootworthy/soils/ssurgo"
	"rootworthy/suitability"
)

const surveyHelp = `  rootworthy survey check AR017.zip
  rootworthy survey list surveys/
  rootworthy survey units AR017.zip --out units.csv
  rootworthy survey fetch --fields fields.geojson

check   what a soil survey export is, its version, date, counts and faults
list    its survey areas, one a line
units   a table with one row a map unit: its class before any boundary is drawn,
        and its aggregated values; works without polygons too
fetch   the survey of your fields, from the public service of the USDA; the only
        task that uses a network (` + "`rootworthy survey fetch --help`" + `)
pack    surveys of any size, a whole state, in a folder that opens in a second

PATH, one or several: a survey export (folder, zip as downloaded), a GeoPackage
or SQLite database with the survey's tables, polygons with map unit keys
(shapefile, GeoJSON, FlatGeobuf, GML), a GeoTIFF of map unit keys, or a folder
of SoilGrids rasters (phh2o_0-5cm_mean.tif …) where nobody mapped.
  --tables PATH     tables for polygons or rasters that come without
  --units-key NAME  column with the key of the map unit, if not mukey
  --out PATH        where units writes its table (CSV), or pack its folder
  --profile FILE    crop profile in place of the built-in one
`

// survey carries out the tasks of the verb survey. All but fetch open a survey as screen does, so what they say of it is what screen will find.
func survey(ctx context.Context, args []string, std stdio) error {
	if len(args) > 0 && args[0] == "fetch" {
		return surveyFetch(ctx, args[1:], std)
	}
	var out, profilePath string
	var in surveyInput
	fl := newFlags("survey", surveyHelp, std.out)
	fl.StringVar(&out, "out", "", "")
	fl.StringArrayVar(&in.tables, "tables", nil, "")
	fl.StringVar(&in.unitsKey, "units-key", "", "")
	fl.StringVar(&profilePath, "profile", "", "")
	if err := parse(fl, args); err != nil {
		return err
	}
	if fl.NArg() < 2 {
		return usagef("survey needs a task and a path: `rootworthy survey check PATH` (or list, units, fetch, pack)")
	}
	task := fl.Arg(0)
	in.paths = fl.Args()[1:]
	var faults diag.List
	var do func(*opened) error
	switch task {
	case "check":
		do = func(o *opened) error { return surveyCheck(ctx, o, std.out) }
	case "list":
		do = func(o *opened) error { return o.list(std.out, &faults) }
	case "units":
		if out == "" {
			return usagef("survey units needs a file to write: add --out FILE.csv")
		}
		profile, _, err := openProfile(profilePath, &faults)
		if err != nil {
			return err
		}
		do = func(o *opened) error {
			tables, err := o.tables()
			if err != nil {
				return err
			}
			// A table with a header alone is still written, since somebody asked for the file; the fault makes the exit code say that it is
			// empty.
			if len(tables.Units) == 0 {
				tellNoTables(out, "holds the header only", o.name, &faults)
			}
			return surveyUnits(tables, profile, out, std.out)
		}
	case "pack":
		return surveyPack(ctx, in, out, std)
	default:
		return usagef("survey has no task %q%s", task, nearest(task, []string{"check", "list", "units", "fetch", "pack"}))
	}
	o, err := openSurvey(ctx, in, &faults)
	if err != nil {
		return err
	}
	defer o.close()
	if err := do(o); err != nil {
		return err
	}
	return tellFaults(&faults, std)
}

// tellFaults prints what was found wrong and turns faults into exit code 3.
func tellFaults(faults *diag.List, std stdio) error {
	for _, f := range faults.Kept() {
		fmt.Fprintf(std.err, "%s: %s\n", f.Severity, f)
	}
	if faults.Faults() > 0 {
		return errFaults
	}
	return nil
}

// surveyCheck reads all of a survey, polygons too, and prints what it holds.
func surveyCheck(ctx context.Context, o *opened, out io.Writer) error {
	if o.pack != nil {
		return checkPack(ctx, o, out)
	}
	s, err := o.soil.Check(ctx)
	if err != nil {
		return err
	}
	for _, f := range o.soil.Found {
		if len(o.soil.Found) > 1 || !strings.HasSuffix(f, ": survey export") { // which the next line says
			fmt.Fprintln(out, f)
		}
	}
	fmt.Fprintf(out, "%s: %s\n", o.name, s.Kind)
	if err := surveyList(o.soil.Survey(), out); err != nil {
		return err
	}
	for _, c := range counts(s) {
		fmt.Fprintln(out, " ", c)
	}
	return nil
}

// count is a number and the word for what it counts.
type count struct {
	n         int
	one, many string
}

// String is the number and what it counts, the numbers of a list below one another.
func (c count) String() string {
	what := c.many
	if c.n == 1 {
		what = c.one
	}
	return fmt.Sprintf("%9s %s", export.Thousands(c.n), what)
}

// counts lists what an export holds; the last two only where they are not zero.
// A polygon without its map unit, or the reverse, means tables and polygons of different versions or an incomplete copy.
func counts(s ssurgo.Summary) []count {
	out := []count{{s.Polygons, "map unit polygon", "map unit polygons"}, {s.Units, "map unit", "map units"}, {s.Components, "component", "components"},
		{s.Horizons, "horizon", "horizons"}, {s.Restrictions, "restriction", "restrictions"}, {s.Months, "month of wetness", "months of wetness"}}
	for _, c := range []count{{s.UnitsWithoutPolygon, "map unit without a polygon", "map units without a polygon"},
		{s.PolygonsWithoutUnit, "polygon without a map unit in the tables", "polygons without a map unit in the tables"}} {
		if c.n > 0 {
			out = append(out, c)
		}
	}
	return out
}

// list prints the survey areas of what is open.
func (o *opened) list(out io.Writer, faults *diag.List) error {
	var s *soils.Survey
	if o.pack != nil {
		s = o.pack.Survey()
	} else {
		s = o.soil.Survey()
	}
	switch {
	// An area that is named is listed even where its units are missing.
	case len(s.Areas) > 0:
	case len(s.Units) > 0:
		faults.Add(diag.Fault{File: o.name, Kind: "no areas", What: "names no survey area, because its tables lack those that do (legend, sacatlog)", Fix: "take a complete copy of the export; the rest can be used"})
	default:
		tellNoTables(o.name, "names no survey area", o.name, faults)
	}
	return surveyList(s, out)
}

// tellNoTables tells why a list of what tables hold is empty. It is a fault, so that the exit code says it too: a map alone can be
// cut and measured, but who asks for its units or areas gets none.
func tellNoTables(of, what, name string, faults *diag.List) {
	faults.Add(diag.Fault{File: of, Kind: "no tables", What: what + ", because no tables came with " + name, Fix: "give the survey's tables with --tables PATH (a survey export or its tabular folder)"})
}

// surveyList prints the survey areas with version and scale: an old version or a small scale is the first reason to doubt a zone.
func surveyList(s *soils.Survey, out io.Writer) error {
	for _, a := range s.Areas {
		scale := "scale not recorded"
		if n, ok := a.Scale.Get(); ok {
			scale = "1:" + export.Thousands(n)
		}
		if a.General {
			scale += ", general soil map: for screening only"
		}
		fmt.Fprintf(out, "%-6s %s, version %s of %s, %s\n", a.Symbol, orNot(a.Name), orNot(a.Version), orNot(a.Date), scale)
	}
	return nil
}

// orNot says that something is not recorded, where nothing would look like a slip.
func orNot(s string) string {
	if s == "" {
		return "(not recorded)"
	}
	return s
}

// surveyUnits rates every map unit as if a zone lay on it, and writes the table: how the ground of a county falls out before there are any
// fields.
// Aggregates are those of the agency's own kind (soils.Aggregate), to be held against its published tables.
func surveyUnits(s *soils.Survey, p *suitability.Profile, path string, out io.Writer) error {
	rows := job.Units(s, p)
	list := make([]export.UnitRow, len(rows))
	for i, r := range rows {
		list[i] = export.UnitRow{Unit: r.Unit, Rating: r.Rating, Aggregate: soils.Aggregate(r.Unit)}
	}
	if err := atomicfile.Write(path, func(w io.Writer) error { return export.WriteUnitsCSV(w, list) }); err != nil {
		return err
	}
	n := map[suitability.Class]int{}
	for _, r := range rows {
		n[r.Rating.Class]++
	}
	fmt.Fprint(out, words.Count(len(rows), "map unit", "map units"))
	for i, c := range suitability.Classes() {
		fmt.Fprintf(out, "%s%d %s", []string{": ", ", ", ", ", ", "}[i], n[c], c)
	}
	fmt.Fprintf(out, " (once corrected)\nwrote %s\n", path)
	return nil
}
