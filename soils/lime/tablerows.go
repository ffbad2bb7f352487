package lime

import (
	"cmp"
	"fmt"
	"slices"

	"rootworthy/internal/tomltext"
	"rootworthy/soils/unit"
)

// rows reads the rows, most acid first, and looks for figures that fall where they cannot.
func (d tableText) rows(root map[string]any, t *Table, factor unit.AreaRate) {
	// rows are sorted, and a fault must still name the place in the file
	type placed struct {
		TableRow
		path string
	}
	var rows []placed
	for i, v := range d.list(root, "row", true) {
		path := tomltext.Join("row", i)
		m, ok := v.(map[string]any)
		if !ok {
			d.Fault(path, "row", "write [[row]] with buffer_ph and lime", "%q is no row", fmt.Sprint(v))
			continue
		}
		// a row that cannot be used was told, and is left out of the comparison below
		if r, ok := d.row(path, m, len(t.Targets), factor); ok {
			rows = append(rows, placed{r, path})
		}
	}
	slices.SortStableFunc(rows, func(a, b placed) int { return cmp.Compare(a.BufferPH, b.BufferPH) })
	for i, r := range rows {
		t.Rows = append(t.Rows, r.TableRow)
		if i == 0 {
			continue
		}
		before := rows[i-1]
		if r.BufferPH == before.BufferPH {
			d.Fault(r.path+".buffer_ph", "row twice", "keep one of the two rows", "buffer pH %g stands in two rows", r.BufferPH)
			continue
		}
		for k := range r.Lime {
			if r.Lime[k] > before.Lime[k] {
				d.Fault(tomltext.Join(r.path+".lime", k), "rises", "compare both rows with the printed table",
					"less acid soil (buffer pH %g) asks for more lime than buffer pH %g", r.BufferPH, before.BufferPH)
			}
		}
	}
}

// row reads one row; ok is false when it cannot be used.
func (d tableText) row(path string, m map[string]any, targets int, factor unit.AreaRate) (r TableRow, ok bool) {
	d.unknown(path, m, []string{"buffer_ph", "lime"})
	ph, isNumber := asNumber(m["buffer_ph"])
	if !isNumber || !(ph >= 2 && ph <= 9) {
		d.Fault(path+".buffer_ph", "buffer pH", "write a pH from 2 to 9", "%q is no buffer pH", fmt.Sprint(orNothing(m["buffer_ph"])))
		return r, false
	}
	r.BufferPH = ph
	values, isList := m["lime"].([]any)
	if !isList || len(values) != targets {
		d.Fault(path+".lime", "row length", "write one figure for each target", "%d figures for %d targets", len(values), targets)
		return r, false
	}
	ok = true
	for k, v := range values {
		n, isNumber := asNumber(v)
		amount := unit.AreaRate(n) * factor
		switch {
		// 10 kg/m² are 100 t/ha
		case !isNumber || !(n >= 0) || !(amount <= 10):
			d.Fault(tomltext.Join(path+".lime", k), "lime", "write a rate from 0 to 100 t/ha (45 short tons/ac)", "%q is no rate of lime", fmt.Sprint(v))
			ok = false
		case k > 0 && amount < r.Lime[k-1]:
			d.Fault(tomltext.Join(path+".lime", k), "falls", "compare the row with the printed table", "a higher target asks for less lime")
		}
		r.Lime = append(r.Lime, amount)
	}
	return r, ok
}

// orNothing prints a value that is absent as nothing and not as "<nil>".
func orNothing(v any) any {
	if v == nil {
		return ""
	}
	return v
}
