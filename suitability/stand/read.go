package stand

import (
	"fmt"
	"io"
	"slices"
	"strconv"
	"strings"
	"time"

	"rootworthy/internal/csvlist"
	"rootworthy/internal/diag"
	"rootworthy/soils/unit"
)

// mostRecords bounds a record: seven years of a large farm are some ten thousand lines.
const mostRecords = 200000

// form bounds what is read of a file.
func form() csvlist.Form {
	return csvlist.Form{Columns: strings.Split(header, ","), MostBytes: 16 << 20, MostRows: mostRecords, Instead: "split the record by years"}
}

// Read reads a record from CSV with the header of package doc, its columns in any order. A line that cannot be understood is left out
// and told; a bad value becomes missing, and is told too. The error says that the file could not be read.
func Read(name string, r io.Reader, faults *diag.List) ([]Record, error) {
	list, err := csvlist.Open(name, r, form())
	if err != nil {
		return nil, err
	}
	d := reader{name: name, faults: faults}
	// told; without a column that is needed every line would be a fault of its own
	if !d.header(list) {
		return nil, nil
	}
	for row := range list.Rows(faults) {
		d.row(row)
	}
	return d.out, nil
}

// reader turns rows into records and tells what is wrong with them.
type reader struct {
	name   string
	faults *diag.List
	out    []Record
}

// fault tells of a cell by its line and column.
func (d *reader) fault(line int, field, kind, fix, format string, args ...any) {
	d.faults.Add(diag.Fault{File: d.name, Line: line, Field: field, Kind: kind, What: fmt.Sprintf(format, args...), Fix: fix})
}

// header judges the columns; ok is false where one that is needed is not there.
func (d *reader) header(list *csvlist.List) (ok bool) {
	if list.Header == nil {
		d.fault(list.Line, "", "no header", "begin with the line "+header, "the file has no header")
		return false
	}
	names := strings.Split(header, ",")
	for i, h := range list.Header {
		switch {
		case !slices.Contains(names, h):
			d.faults.Notice(diag.Fault{File: d.name, Line: list.Line, Field: h, Kind: "column left out", What: "the column is none of the record's", Fix: "the header is " + header})
		// told as a fault and read on: the first of the two is what a reader of the file sees first
		case slices.Index(list.Header, h) < i:
			d.fault(list.Line, h, "column twice", "leave one of them", "the column stands twice; the first is read")
		}
	}
	ok = true
	for _, must := range []string{"field_id", "date", "kind"} {
		// all that lack are told; zone, value, unit and note may be missing, and are then empty
		if !list.Has(must) {
			d.fault(list.Line, must, "missing column", "the header is "+header, "the record has no column %q", must)
			ok = false
		}
	}
	return ok
}

// row reads a line.
func (d *reader) row(row csvlist.Row) {
	line, cell := row.Line, func(column string) string { return oneLine(row.Cell(column)) }
	// names are compared as they stand: two that differ in case may be two fields
	r := Record{Field: cell("field_id"), Zone: cell("zone_id"), Kind: Kind(strings.ToLower(cell("kind"))), Note: cell("note"), Line: line}
	day, err := time.Parse(time.DateOnly, cell("date"))
	i := r.Kind.index()
	switch {
	case r.Field == "":
		d.fault(line, "field_id", "no field", "name the field, or delete the line", "the line has no field")
		return
	case err != nil || day.Year() < 1900 || day.Year() > 2200:
		d.fault(line, "date", "no date", `write year, month and day as "2027-03-18"`, "%q is not a date", cell("date"))
		return
	case i < 0:
		d.fault(line, "kind", "unknown kind", "write one of "+listed(Kinds()), "%q is nothing the record keeps", string(r.Kind))
		return
	}
	r.Day = day
	d.value(&r, kinds()[i], cell("value"), strings.ToLower(cell("unit")))
	d.out = append(d.out, r)
}

// value reads the value of a line and its unit.
func (d *reader) value(r *Record, k kind, value, unitOf string) {
	switch {
	case value == "":
		return
	case len(k.units) == 0:
		d.fault(r.Line, "value", "value not wanted", "put it into a line of its own, or into the note", "%q has no value", string(r.Kind))
		return
	case !slices.Contains(k.units, unitOf):
		r.Unread = true
		d.fault(r.Line, "unit", "unknown unit", "write "+strings.Join(k.units, " or "), "%q is no unit of %s", unitOf, r.Kind)
		return
	}
	v, err := strconv.ParseFloat(value, 64)
	if err != nil || !(v >= 0 && v <= k.most) {
		r.Unread = true
		d.fault(r.Line, "value", "out of range", "correct the cell, or leave it empty", "%q is not a number from 0 to %g", value, k.most)
		return
	}
	r.Value, r.Unit = unit.Some(v+0), unitOf // +0: a negative zero is zero
}

// listed writes kinds as a sentence has them.
func listed(kinds []Kind) string {
	var out []string
	for _, k := range kinds {
		out = append(out, string(k))
	}
	return strings.Join(out, ", ")
}
