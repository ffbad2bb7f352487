package lab

import (
	"fmt"
	"slices"
	"strings"

	"github.com/paulmach/orb"

	"rootworthy/internal/diag"
	"rootworthy/soils/unit"
)

// summaries are what rows that sum up the others begin with, in lower case.
var summaries = []string{"average", "avg", "mean", "median", "minimum", "min", "maximum", "max", "std", "stdev", "std dev", "standard deviation", "field average"}

// readRow makes a sample of a row, unless it holds none.
func (r *tableReader) readRow(row tableRow) {
	if row.empty() || r.repeatsHeader(row) {
		return
	}
	r.overhang(row)
	s := Sample{File: r.file, Sheet: r.sheet, Line: row.line}
	var notes rowNotes
	results := 0
	given := map[string]int{} // column that gave what a plain name stands for
	for _, i := range r.reading {
		c := r.columns[i]
		x := cell{filler: r.forColumn(i), c: c, text: r.text(row, i), line: row.line, name: r.accounts[i].Header}
		done := left
		if earlier, twice := given[r.accounts[i].As]; twice && !severalAllowed(c.holds) {
			done = r.again(x, row, i, earlier)
		} else if done = x.put(&s, &notes); (done == taken || done == beyond) && c.holds != nothing {
			given[r.accounts[i].As] = i
		}
		r.accounts[i].count(done)
		// refused figures count as results too: the row is kept, and asked about
		if c.holds >= waterPH && (done == taken || done == beyond || done == refused) {
			results++
		}
	}
	switch first := row.first(); {
	// Left out whole: a mean taken for a bag would weigh as much as all the others.
	case oneOf(strings.ToLower(first), summaries):
		r.leaveOut(row, "summary", "row "+quoted(first)+" sums up other rows", "rename the sample if it is one")
		return
	case results == 0:
		r.leaveOut(row, "no results", "the row holds no result", "check that the result columns are understood")
		return
	}
	r.finish(&s, &notes, r.mapping, diag.Fault{Line: row.line})
	r.samples = append(r.samples, s)
}

// again is a cell that an earlier column of the row gave already. Names differ as they like; of figures it is told.
func (r *tableReader) again(x cell, row tableRow, i, earlier int) outcome {
	here, there := squeeze(row.cell(i)), squeeze(row.cell(earlier))
	if oneOf(strings.ToLower(here), notMeasured) {
		return left
	}
	if x.c.figures() && here != there {
		r.faults.Notice(diag.Fault{File: r.file, Line: row.line, Field: x.name, Kind: "given twice",
			What: quoted(here) + " is not used: " + quoted(r.accounts[earlier].Header) + " gives " + quoted(there), Fix: "leave one of the two columns out in the mapping"})
	}
	return unused
}

// text is the cell as the column wants it: spreadsheets turn the id 430 into "430.0".
func (r *tableReader) text(row tableRow, i int) string {
	text := row.cell(i)
	if h := r.columns[i].holds; h == sampleID || h == labNumber || h == fieldID || h == zoneID || h == mapUnitKey {
		// only where the whole column looks like that: "4.0" among "4.1" and "4.2" is an id of its own
		if whole, ok := strings.CutSuffix(strings.TrimSpace(text), ".0"); ok && r.allWhole(i) {
			return whole
		}
	}
	return text
}

// allWhole says whether every cell of a column is a whole number with ".0".
func (r *tableReader) allWhole(i int) bool {
	// worked out when the first such cell comes, and kept: it takes all rows
	if r.whole == nil {
		r.whole = map[int]bool{}
	}
	all, known := r.whole[i]
	if !known {
		all = !slices.ContainsFunc(r.rows[r.head.first():], func(row tableRow) bool {
			s := strings.TrimSpace(row.cell(i))
			digits, ok := strings.CutSuffix(s, ".0")
			return s != "" && (!ok || digits == "" || strings.Trim(digits, "0123456789") != "")
		})
		r.whole[i] = all
	}
	return all
}

// forColumn is the filler with the order of days that the column's own dates show.
func (r *tableReader) forColumn(i int) *filler {
	h := r.columns[i].holds
	if r.order != orderUnclear || h != takenDate && h != reportedDate {
		return &r.filler
	}
	if r.orders == nil {
		r.orders = map[int]*filler{}
	}
	if r.orders[i] == nil {
		// a copy for the column: "sampled" and "received" may come from two programs that write days differently
		f := r.filler
		var cells []string
		for _, row := range r.rows[r.head.first():] {
			cells = append(cells, row.cell(i))
		}
		f.order = orderOf(cells)
		r.orders[i] = &f
	}
	return r.orders[i]
}

// count keeps the account of a column.
func (a *Column) count(o outcome) {
	switch o {
	case left:
		a.Missing++
	case taken:
		a.Values++
	case beyond:
		a.Values++
		a.Beyond++
	case refused:
		a.Refused++
	case faulty:
		a.Faulty++
	case unused:
		a.Unused++
	}
}

// repeatsHeader knows the header printed again at the top of a page.
func (r *tableReader) repeatsHeader(row tableRow) bool {
	return sameCells(row, r.rows[r.head.row])
}

// sameCells says whether two rows hold the same, but for blanks.
func sameCells(a, b tableRow) bool { return slices.Equal(trimmed(a.cells), trimmed(b.cells)) }

// trimmed squeezes cells and drops the empty ones at the end, of which spreadsheets save any number.
func trimmed(cells []string) []string {
	out := make([]string, len(cells))
	for i, c := range cells {
		out[i] = squeeze(c)
	}
	for len(out) > 0 && out[len(out)-1] == "" {
		out = out[:len(out)-1]
	}
	return out
}

// overhang tells of cells that stand under no header: most often a comma that was not quoted.
func (r *tableReader) overhang(row tableRow) {
	if n := len(trimmed(row.cells)); n > len(r.columns) {
		r.faults.Add(diag.Fault{File: r.file, Line: row.line, Kind: "too many cells",
			What: fmt.Sprintf("the row has %d cells, the header %d", n, len(r.columns)),
			Fix:  "quote cells that hold the separator, and check that the figures stand under their headers"})
	}
}

// leaveOut tells of a row that makes no sample.
func (r *tableReader) leaveOut(row tableRow, kind, what, fix string) {
	r.faults.Notice(diag.Fault{File: r.file, Line: row.line, Kind: kind, What: what + ", and is left out", Fix: fix})
}

// questions asks once a column what cannot be used until it is answered, and tells what was taken for granted where it
// matters for lime.
func (r *tableReader) questions() {
	at := diag.Fault{File: r.file, Line: r.rows[r.head.row].line}
	for i := range r.accounts {
		a, c := &r.accounts[i], r.columns[i]
		at.Field = a.Header
		switch {
		case a.Refused > 0:
			ask(a, c, at, r.faults)
		case c.lacksUnit() && a.Unused > 0:
			unitless := at
			unitless.Kind, unitless.What = "no unit", notUsed(a.Unused)+"no unit is given"
			unitless.Fix = `ask the laboratory: ` + askUnit + ` Then set unit = "ppm" in the mapping`
			if c.ask == askAcidityUnit { // the mapping's unit is that of nutrients
				unitless.Fix = "ask the laboratory: " + askAcidityUnit + " Then set it in the mapping, e.g. " + quoted(a.Header) + ` = "exch_acidity_mehlich_meq"`
			}
			r.faults.Notice(unitless)
		case c.assumed == phUnsaid && a.Values > 0:
			liquid := at
			liquid.Kind, liquid.What = "pH in what", "the header does not say in what the pH was measured; it is taken as water"
			liquid.Fix = `ask the laboratory, and set ph = "water" or "cacl2" in the mapping`
			r.faults.Notice(liquid)
		}
	}
	r.layersInIDs(at)
}

// layersInIDs tells when no sample has a layer but most ids end in one, such as "A5 10-20".
func (r *tableReader) layersInIDs(at diag.Fault) {
	n := 0
	for i := range r.samples {
		if r.samples[i].Bottom.Has() {
			return
		}
		if _, ok := layerInID(r.samples[i].ID); ok {
			n++
		}
	}
	// most of them: a few ids with a hyphen are names
	if n > len(r.samples)/2 {
		at.Field, at.Kind, at.What = "sample_id", "layer in the id", "the ids seem to end in the layer, but nothing says so"
		at.Fix = `set depth_in_id = true and depth_unit = "cm" or "in" in the mapping`
		r.faults.Notice(at)
	}
}

// ask tells of figures that cannot be used until a question is answered.
func ask(a *Column, c column, at diag.Fault, faults *diag.List) {
	at.What = notUsed(a.Refused)
	switch c.holds {
	case bufferPH:
		a.Ask = askBuffer
		at.Kind, at.What = "buffer not stated", at.What+"a buffer pH without its buffer says nothing about lime"
		at.Fix = "ask the laboratory: " + askBuffer + " Then set it in the mapping, e.g. " + quoted(a.Header) + ` = "buffer_ph_mehlich"`
	case limeRate:
		if c.unit != unitless {
			at.Kind, at.What = "lime in words", at.What+"the laboratory's lime is not one figure there; its words are kept"
			at.Fix = "where it gives a range, write the rate that you choose"
			faults.Notice(at)
			return
		}
		at.Kind, at.What = "lime without a unit", at.What+"the laboratory's lime stands in words only"
		at.Fix = "ask the laboratory: in which unit is the lime? Then set it in the mapping, e.g. " + quoted(a.Header) + ` = "lab_lime_st_ac"`
		faults.Notice(at)
		return
	default:
		a.Ask = "is the depth in inches or centimetres?"
		at.Kind, at.What = "depth without a unit", at.What+"a depth without its unit"
		at.Fix = `set depth_unit = "in" or "cm" in the mapping`
	}
	faults.Add(at)
}

// pointOf joins the two degrees of a row; half a point is a fault.
func pointOf(row *rowNotes, faults *diag.List, at diag.Fault) (p unit.Opt[orb.Point]) {
	lon, okLon := row.lon.Get()
	lat, okLat := row.lat.Get()
	switch {
	case okLon && okLat && (lon != 0 || lat != 0):
		return unit.Some(orb.Point{lon, lat})
	// what programs write where nothing was measured
	case okLon && okLat:
		at.Field, at.Kind, at.What, at.Fix = "lon, lat", "null island", "0, 0 lies in the Gulf of Guinea", "leave both empty when the point is not known"
		faults.Add(at)
	case okLon != okLat && !row.badDegrees:
		at.Field, at.Kind, at.What, at.Fix = "lon, lat", "half a point", "only one of longitude and latitude is given", "give both or none"
		faults.Add(at)
	}
	return p
}
