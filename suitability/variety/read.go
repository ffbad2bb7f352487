package variety

import (
	"fmt"
	"io"
	"slices"
	"strconv"
	"strings"

	"rootworthy/internal/csvlist"
	"rootworthy/internal/diag"
	"rootworthy/soils/unit"
)

// Variety is a row of the user's table.
type Variety struct {
	Name        string
	Dormancy    unit.Opt[float64] // 1 most dormant to 11
	Region      string            // where it is adapted or was tried; "" when the table does not say
	Trial       string
	Yield, LSD  unit.Opt[unit.AreaRate] // mean of the trial; least difference that is one
	Persistence unit.Opt[unit.Percent]  // of the stand
	Resistances []Resistance            // in the order of Table.Diseases
	Line        int
}

// Table is a user's table.
type Table struct {
	Name      string
	Diseases  []string // as headed
	Varieties []Variety
}

// widest bounds the columns of a table: real ones have a dozen, and each that is not known is kept for every variety as a disease.
const widest = 200

// form bounds a table: real ones have some hundred rows.
func form() csvlist.Form {
	return csvlist.Form{Columns: columns(), MostBytes: 4 << 20, MostRows: 20000, Instead: "split the file"}
}

// The columns that are no disease.
const (
	colName        = "variety"
	colDormancy    = "dormancy"
	colRegion      = "region"
	colTrial       = "trial"
	colYield       = "yield_ton_ac"
	colLSD         = "lsd_ton_ac"
	colPersistence = "persistence_pct"
)

// columns are those that are no disease, in the order of the form.
func columns() []string {
	return []string{colName, colDormancy, colRegion, colTrial, colYield, colLSD, colPersistence}
}

// Read reads a table of varieties from CSV. The columns variety and dormancy are needed; region, trial, yield_ton_ac, lsd_ton_ac and
// persistence_pct may be there; every other column is a disease, unless it plainly holds remarks. A bad cell becomes missing and a fault, a row without a name
// is left out. ok is false when the table cannot be used at all; the error says that the file could not be read.
func Read(name string, r io.Reader, faults *diag.List) (t *Table, ok bool, err error) {
	list, err := csvlist.Open(name, r, form())
	if err != nil {
		return nil, false, err
	}
	d := reader{name: name, faults: faults, columns: list.Header, t: &Table{Name: name}}
	if !d.header(list.Line) {
		return nil, false, nil
	}
	var rows []csvlist.Row
	for row := range list.Rows(faults) {
		// cells are good until the next row only, and the rows are gone through twice: which columns are diseases shows in all of them
		row.Cells = slices.Clone(row.Cells)
		rows = append(rows, row)
	}
	d.leaveRemarks(list.Line, rows)
	for _, row := range rows {
		d.row(row.Line, row.Cells)
	}
	return d.t, true, nil
}

// leaveRemarks leaves out the columns that are plainly no disease: two cells or more are filled, and none holds a resistance. Prices and remarks
// would otherwise make every variety one of which something is not known.
func (d *reader) leaveRemarks(line int, rows []csvlist.Row) {
	// the header belongs to the list
	d.columns = slices.Clone(d.columns)
	for i, c := range d.columns {
		if c == "" || slices.Contains(columns(), c) {
			continue
		}
		filled, resists := 0, false
		for _, row := range rows {
			if i < len(row.Cells) && strings.TrimSpace(row.Cells[i]) != "" {
				_, ok := parseResistance(row.Cells[i])
				filled, resists = filled+1, resists || ok
			}
		}
		// one odd cell may be a slip of the pen in a column of a disease, and is told as one
		if filled < 2 || resists {
			continue
		}
		d.faults.Notice(diag.Fault{File: d.name, Line: line, Field: c, Kind: "column left out", What: "no cell of the column is a resistance, so it is taken for remarks", Fix: "write HR, R, MR, LR, S or percent, if it is a disease"})
		// an empty name is a column that is not read
		d.columns[i] = ""
		d.t.Diseases = slices.DeleteFunc(d.t.Diseases, func(disease string) bool { return disease == c })
	}
}

// reader fills a table.
type reader struct {
	name    string
	faults  *diag.List
	t       *Table
	columns []string       // as [csvlist.List] has the header
	seen    map[string]int // line by name, region and trial
}

// fault tells of a cell by its line and column.
func (d *reader) fault(line int, field, kind, fix, format string, args ...any) {
	d.faults.Add(diag.Fault{File: d.name, Line: line, Field: field, Kind: kind, What: fmt.Sprintf(format, args...), Fix: fix})
}

// header understands the columns; ok is false where the table cannot be used.
func (d *reader) header(line int) (ok bool) {
	d.seen = map[string]int{}
	switch {
	case d.columns == nil:
		d.fault(line, "", "no header", "begin with a line such as variety,dormancy,region", "the file has no header")
		return false
	case len(d.columns) > widest:
		d.fault(line, "", "too wide", "leave the columns that are needed", "%d columns are no table of varieties", len(d.columns))
		return false
	}
	ok = true
	for i, c := range d.columns {
		if slices.Index(d.columns, c) < i && c != "" {
			d.fault(line, c, "column twice", "leave one of them", "the column stands twice")
			ok = false
		}
		// diseases differ from table to table, so every heading that is no other column is taken for one
		if !slices.Contains(columns(), c) && c != "" {
			d.t.Diseases = append(d.t.Diseases, c)
		}
	}
	for _, must := range []string{colName, colDormancy} {
		if !slices.Contains(d.columns, must) {
			d.fault(line, must, "missing column", "add it", "the table has no column %q", must)
			ok = false
		}
	}
	return ok
}

// row reads a variety.
func (d *reader) row(line int, cells []string) {
	if len(cells) > len(d.columns) {
		d.fault(line, "", "row length", "put text with commas in quotation marks", "%d cells under %d headers; the rest is not read", len(cells), len(d.columns))
	}
	v := Variety{Line: line}
	for i, c := range d.columns {
		cell := ""
		if i < len(cells) {
			cell = strings.TrimSpace(cells[i])
		}
		// also for cells that are not there: every disease must have its place in Resistances
		d.cell(&v, c, cell)
	}
	// one variety may stand in several trials and regions; the same one twice in one would count twice
	key := strings.ToLower(v.Name + "\x00" + v.Region + "\x00" + v.Trial)
	switch first, twice := d.seen[key]; {
	case v.Name == "":
		d.fault(line, colName, "no name", "name the variety, or delete the row", "the row has no variety")
	case twice:
		d.fault(line, colName, "variety twice", "leave one of them, or give each its trial or region", "%q stands in line %d already", v.Name, first)
	default:
		d.seen[key] = line
		d.t.Varieties = append(d.t.Varieties, v)
	}
}

// cell fills one cell in.
func (d *reader) cell(v *Variety, column, cell string) {
	switch column {
	case "":
	case colName:
		v.Name = cell
	case colRegion:
		v.Region = cell
	case colTrial:
		v.Trial = cell
	case colDormancy:
		v.Dormancy = d.figure(v.Line, column, cell, 1, 11)
	case colPersistence:
		if x, ok := d.figure(v.Line, column, cell, 0, 100).Get(); ok {
			v.Persistence = unit.Some(unit.Percent(x))
		}
	case colYield, colLSD:
		// 30 short tons an acre are beyond any trial
		if x, ok := d.figure(v.Line, column, cell, 0, 30).Get(); ok && column == colYield {
			v.Yield = unit.Some(unit.ShortTonsPerAcre(x))
		} else if ok {
			v.LSD = unit.Some(unit.ShortTonsPerAcre(x))
		}
	default:
		// what cannot be read is not known; it takes its place in the row all the same
		r, ok := parseResistance(cell)
		if !ok {
			d.fault(v.Line, column, "no resistance", "write HR, R, MR, LR, S or the percent of resistant plants, or leave it empty", "%q is no resistance", cell)
		}
		v.Resistances = append(v.Resistances, r)
	}
}

// figure reads a number within bounds; an empty cell is missing and no fault.
func (d *reader) figure(line int, column, cell string, least, most float64) unit.Opt[float64] {
	if cell == "" {
		return unit.None[float64]()
	}
	x, err := strconv.ParseFloat(cell, 64)
	if err != nil || !(x >= least && x <= most) {
		d.fault(line, column, "out of range", "correct the cell, or leave it empty", "%q is not a number from %g to %g", cell, least, most)
		return unit.None[float64]()
	}
	return unit.Some(x)
}
