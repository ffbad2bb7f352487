package lab

// stacked is one of the tables that stand below each other in a text or a sheet, each with a header of its own.
type stacked struct {
	table
	head heading
}

// unstack parts a table where another header begins: reports of two laboratories, or of two years, are often pasted into one sheet, and a
// figure read under the wrong header is worse than none. The rows keep their line numbers.
func unstack(t table, h heading, m *Mapping) []stacked {
	var out []stacked
	budget := mostHeaders
	headed := func(i int) heading {
		return heading{row: i, units: i+1 < len(t.rows) && isUnitsRow(t.rows[i+1])}
	}
	// The heading that was found is the one with the most columns, and may be that of the second table.
	for i := range h.row {
		if anotherHeader(t.rows[i], t.rows[h.row], m, &budget) {
			h = headed(i)
			break
		}
	}
	from := 0
	for i := h.first(); i < len(t.rows); i++ {
		if !anotherHeader(t.rows[i], t.rows[from+h.row], m, &budget) {
			continue
		}
		out = append(out, stacked{table{t.sheet, t.rows[from:i]}, h})
		from, h = i, headed(i)
		h.row = 0 // of its own rows
		i += h.first() - 1
	}
	return append(out, stacked{table{t.sheet, t.rows[from:]}, h})
}

// anotherHeader says whether a row below a header begins a table of its own: no cell is a figure, more than half of them are understood as
// headers, a result and what names the sample among these. A bag without results has words too, but not those.
// The same header again is the top of the next printed page, and begins nothing.
func anotherHeader(row, head tableRow, m *Mapping, budget *int) bool {
	filled := 0
	for _, cell := range row.cells {
		if squeeze(cell) == "" {
			continue
		}
		filled++
		if readFigure(cell, markPoint).state == cellFigure {
			return false
		}
	}
	if filled < 2 || sameCells(row, head) {
		return false
	}
	n, results := understoodIn(row, m, budget)
	if results == 0 || n < 2 || 2*n <= filled {
		return false
	}
	for _, cell := range row.cells {
		switch m.apply(squeeze(cell), understand(cell, "")).holds {
		case sampleID, labNumber, fieldID, zoneID:
			return true
		}
	}
	return false
}
