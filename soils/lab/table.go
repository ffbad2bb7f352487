package lab

import (
	"fmt"
	"slices"
	"strings"

	"rootworthy/internal/diag"
	"rootworthy/soils/unit"
)

// table is rows of text, from delimited text or from a sheet of a spreadsheet.
type table struct {
	sheet string // empty for a text
	rows  []tableRow
}

// tableRow is one row; rows may be shorter or longer than the header.
type tableRow struct {
	line  int // line of a text, row of a sheet; 1-based
	cells []string
}

// cell returns a cell, empty beyond the end of the row.
func (r tableRow) cell(i int) string {
	if i < len(r.cells) {
		return r.cells[i]
	}
	return ""
}

// first returns the first cell that is not empty.
func (r tableRow) first() string {
	for _, c := range r.cells {
		if c = squeeze(c); c != "" {
			return c
		}
	}
	return ""
}

// empty says whether all cells are blank.
func (r tableRow) empty() bool {
	return !slices.ContainsFunc(r.cells, func(c string) bool { return strings.TrimSpace(c) != "" })
}

// tableReader turns a table into samples.
type tableReader struct {
	table
	filler
	mapping  *Mapping
	head     heading
	columns  []column
	reading  []int // the columns in the order they are read
	accounts []Column
	notes    []string
	samples  []Sample
	whole    map[int]bool    // columns of whole numbers, by index; see allWhole
	orders   map[int]*filler // columns of dates, by index; see forColumn
}

// readTable reads a table whose heading was found.
func readTable(file string, t table, h heading, m *Mapping, faults *diag.List) *tableReader {
	r := &tableReader{table: t, head: h, mapping: m, filler: filler{file: file, faults: faults}}
	r.note("header in line %d", t.rows[h.row].line)
	if h.units {
		r.note("units in line %d", t.rows[h.row+1].line)
	}
	r.identify()
	r.settings()
	for _, row := range t.rows[h.first():] {
		if len(r.samples) >= mostSamples {
			tooMany(file, row.line, faults)
			break
		}
		r.readRow(row)
	}
	// at the end, when it is known how many cells each question is about
	r.questions()
	return r
}

// note remarks on the table as a whole, for the account of the file.
func (r *tableReader) note(format string, args ...any) {
	s := fmt.Sprintf(format, args...)
	if r.sheet != "" {
		s = "sheet " + quoted(r.sheet) + ": " + s
	}
	r.notes = append(r.notes, s)
}

// settings takes from the mapping, or from the cells, how figures are written.
func (r *tableReader) settings() {
	r.filler.settings(r.mapping)
	if r.mark != markUnclear {
		return
	}
	seen := map[decimalMark]int{}
	for _, row := range r.rows[r.head.first():] {
		// figures alone: a name such as "A,5" tells nothing of decimals
		for i, c := range r.columns {
			if c.figures() {
				seen[evidence(row.cell(i))]++
			}
		}
	}
	switch {
	// both marks in one table settle nothing: each cell is then read by itself, or refused
	case seen[markComma] > 0 && seen[markPoint] == 0:
		r.mark = markComma
		r.note("figures have a decimal comma")
	case seen[markPoint] > 0 && seen[markComma] == 0:
		r.mark = markPoint
	}
}

// settings takes what the mapping says for the whole file.
func (f *filler) settings(m *Mapping) {
	f.slice = 2e6 // pounds on an acre: see unit.PlowSlice
	if m == nil {
		return
	}
	if m.SliceLbAc > 0 {
		f.slice = m.SliceLbAc
	}
	f.depth = measureByCode(m.DepthUnit)
	f.order = map[string]dayOrder{"mdy": monthFirst, "dmy": dayFirst}[m.DateOrder]
	f.mark = map[string]decimalMark{".": markPoint, ",": markComma}[m.Decimal]
}

// identify says what each column is.
func (r *tableReader) identify() {
	names := numbered(r.rows[r.head.row].cells)
	slots := map[holds]int{}
	for i, header := range names {
		unitCell := ""
		if r.head.units {
			unitCell = r.rows[r.head.row+1].cell(i)
		}
		c := r.mapping.apply(header, understand(r.rows[r.head.row].cells[i], unitCell))
		// a plain name in the mapping leaves nothing open
		if _, said := r.mapping.named(header); !said {
			c = r.byContent(c, i)
		}
		c.slot = slots[c.holds]
		slots[c.holds]++
		c = r.mapping.ofSlice(c)
		r.columns = append(r.columns, c)
		r.accounts = append(r.accounts, explain(c, r.sheet, i+1, header, strings.TrimSpace(unitCell)))
	}
	r.reading = r.turns()
}

// turns is the order in which the columns of a row are read: methods before the figures they are about, and of two
// columns that give the same the one that takes nothing for granted before the other.
func (r *tableReader) turns() []int {
	turn := func(c column) int {
		switch {
		case c.holds == extractantName || c.holds == bufferName:
			return 0
		case c.assumed == "":
			return 1
		}
		return 2
	}
	out := make([]int, len(r.columns))
	for i := range out {
		out[i] = i
	}
	slices.SortStableFunc(out, func(a, b int) int { return turn(r.columns[a]) - turn(r.columns[b]) })
	return out
}

// ofSlice says which soil the laboratory's lb/ac or kg/ha is taken to be about.
func (m *Mapping) ofSlice(c column) column {
	if c.holds != nutrient || c.unit != poundsPerAcre && c.unit != kilogramsPerHectare || m != nil && m.SliceLbAc > 0 {
		return c
	}
	c.assumed = joinNotes(c.assumed, "it is about 2,000,000 lb of soil on an acre, the usual; slice_lb_ac in the mapping changes that")
	return c
}

// severalAllowed are the kinds that a row may give more than once.
func severalAllowed(h holds) bool {
	return h == limeRate || h == limeText || h == limeCrop || h == reportedDate
}

// byContent tells apart what a header alone leaves open: "Lab" is the laboratory or its number for the sample.
func (r *tableReader) byContent(c column, i int) column {
	if c.holds != labName {
		return c
	}
	for _, row := range r.rows[r.head.first():] {
		if s := strings.TrimSpace(row.cell(i)); s != "" && readFigure(s, markPoint).state != cellFigure {
			return c
		}
	}
	return column{holds: labNumber, assumed: "its cells are numbers"}
}

// numbered makes headers unique: the second "Lime Rec" is "Lime Rec #2".
func numbered(headers []string) []string {
	out := make([]string, len(headers))
	seen := map[string]int{}
	for i, h := range headers {
		h = squeeze(h)
		seen[strings.ToLower(h)]++
		// headers without a name are not counted
		if n := seen[strings.ToLower(h)]; n > 1 && h != "" {
			h = fmt.Sprintf("%s #%d", h, n)
		}
		out[i] = h
	}
	return out
}

// apply overrides what was understood of a column.
func (m *Mapping) apply(header string, c column) column {
	plain, said := m.named(header)
	switch {
	case said && plain == "ignore":
		return leftOut("the mapping leaves it out")
	case said:
		return plainName(plain)
	case m == nil:
		return c
	}
	return m.answer(c)
}

// named returns what the mapping calls a column, a plain name or "ignore".
func (m *Mapping) named(header string) (plain string, said bool) {
	if m == nil {
		return "", false
	}
	// in order, since two keys may differ in case only
	for _, k := range sortedKeys(m.Columns) {
		if strings.EqualFold(squeeze(k), header) {
			return m.Columns[k], true
		}
	}
	return "", false
}

// answer fills in what the mapping says for the whole file.
func (m *Mapping) answer(c column) column {
	if c.element != ElementUnknown && c.ask == askUnit && m.Unit != "" {
		c = settle(column{holds: nutrient, element: c.element, extractant: c.extractant, oxide: c.oxide, unit: measureByCode(m.Unit)})
	}
	switch {
	case c.holds == bufferPH && c.buffer == BufferUnknown:
		c.buffer = memberByCode(LimeBuffers(), m.Buffer)
	case c.holds == nutrient && c.extractant == ExtractantUnknown:
		c.extractant = memberByCode(Extractants(), m.Extractant)
	case c.holds == waterPH && c.assumed == phUnsaid && m.PH == "water":
		c.assumed = ""
	// another type altogether: the figures go where calcium chloride stands, and water is then missing
	case c.holds == waterPH && c.assumed == phUnsaid && m.PH == "cacl2":
		c = column{holds: chloridePH}
	case c.holds == depthRange || c.holds == topDepth || c.holds == bottomDepth:
		if c.unit == unitless && m.DepthUnit != "" {
			c.unit, c.ask = measureByCode(m.DepthUnit), ""
		}
	}
	return c
}

// finish completes a sample after its cells: point, layer, order.
func (f *filler) finish(s *Sample, row *rowNotes, m *Mapping, at diag.Fault) {
	at.File = f.file
	s.Place.Point = pointOf(row, f.faults, at)
	if m != nil {
		if s.Lab == "" {
			s.Lab = m.Lab
		}
		// a depth of its own goes before one in the id, and that before one of the whole file
		if m.DepthInID && !s.Bottom.Has() {
			if l, ok := layerInID(s.ID); ok {
				if (cell{filler: f, text: s.ID, name: "sample_id", line: at.Line}).putDepths(s, l) == refused {
					at.Field, at.Kind, at.What = "sample_id", "depth without a unit", "the layer in the id "+quoted(s.ID)+" has no unit"
					at.Fix = `set depth_unit = "in" or "cm" in the mapping`
					f.faults.Add(at)
				}
			}
		}
		if m.BottomCm > 0 && !s.Top.Has() && !s.Bottom.Has() {
			s.Top, s.Bottom = unit.Some(unit.Depth(m.TopCm)), unit.Some(unit.Depth(m.BottomCm))
		}
	}
	// an end that is missing is taken as far off as can be, so that it alone is never upside down
	if top, bottom := s.Top.Or(0), s.Bottom.Or(deepest+1); top >= bottom || top < 0 {
		at.Field, at.Kind = "depth", "upside down"
		at.What = fmt.Sprintf("the layer from %g to %g cm has no thickness", float64(top), float64(bottom))
		at.Fix = "give the top above the bottom"
		f.faults.Add(at)
		s.Top, s.Bottom = unit.None[unit.Depth](), unit.None[unit.Depth]()
	}
	// slots that were made for a crop alone
	s.Lime = slices.DeleteFunc(s.Lime, func(r Recommendation) bool { return !r.Rate.Has() && r.Text == "" && r.Given == "" })
	if len(s.Lime) == 0 {
		s.Lime = nil
	}
	// in one order, whatever that of the columns: the same results in another layout make the same sample
	slices.SortStableFunc(s.Acidity, func(a, b Acidity) int { return int(a.Method) - int(b.Method) })
	slices.SortStableFunc(s.Saturation, func(a, b Saturation) int { return int(a.Element) - int(b.Element) })
	slices.SortStableFunc(s.Nutrients, func(a, b Nutrient) int {
		if a.Element != b.Element {
			return int(a.Element) - int(b.Element)
		}
		return int(a.Extractant) - int(b.Extractant)
	})
}
