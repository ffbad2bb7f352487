package soildata

import (
	"bufio"
	"cmp"
	"fmt"
	"io"
	"slices"
	"strings"
)

// compareRows orders rows by their cells, so that the order of the service decides nothing.
func compareRows(a, b []cell) int {
	return slices.CompareFunc(a, b, func(x, y cell) int {
		// null before the empty text
		if x.Set != y.Set {
			if y.Set {
				return -1
			}
			return 1
		}
		return cmp.Compare(x.Text, y.Text)
	})
}

// write writes a table as an export has it: a record a line, fields parted by |, every value in quotes. Columns that
// were not asked for are empty.
func (t table) write(w io.Writer) error {
	out := bufio.NewWriter(w)
	for _, row := range t.rows {
		// positions count from 1; before each column as many bars as columns lie between
		at := 1
		for i, c := range t.layout.Columns {
			for ; at < c.Position; at++ {
				out.WriteByte('|')
			}
			if row[i].Set {
				out.WriteString(quoted(row[i].Text))
			}
		}
		// To the full width, as readers count the fields of a record.
		for ; at < t.layout.Width; at++ {
			out.WriteByte('|')
		}
		out.WriteString("\r\n")
	}
	return out.Flush()
}

// quoted writes a text as exports do, quotes doubled.
func quoted(s string) string { return `"` + strings.ReplaceAll(s, `"`, `""`) + `"` }

// lastColumn names the last column of tables where it is one that is not fetched, so that the description of a table
// tells its width.
// Source: mstabcol.txt of SSURGO 2.3.3.
func lastColumn(table string) string {
	switch table {
	case "sacatalog":
		return "sacatalogkey"
	case "corestrictions":
		return "corestrictkey"
	case "cosoilmoist":
		return "cosoilmoistkey"
	case "chtexture":
		return "chtkey"
	}
	return ""
}

// describe writes mstabcol: the columns that the tables have, 14 fields a record, of which the first three are filled.
func describe(w io.Writer, tables []table) error {
	out := bufio.NewWriter(w)
	line := func(table, column string, position int) {
		fmt.Fprintf(out, "%s|%d|%s%s\r\n", quoted(table), position, quoted(column), strings.Repeat("|", 14-3))
	}
	for _, t := range tables {
		last := 0
		for _, c := range t.layout.Columns {
			line(t.layout.Name, c.Name, c.Position)
			// Columns of a layout are in the order of their positions.
			last = c.Position
		}
		if name := lastColumn(t.layout.Name); name != "" && last < t.layout.Width {
			line(t.layout.Name, name, t.layout.Width)
		}
	}
	return out.Flush()
}

// files writes mstab: which file holds which table.
func files(w io.Writer, tables []table) error {
	out := bufio.NewWriter(w)
	for _, t := range tables {
		fmt.Fprintf(out, "%s||||%s\r\n", quoted(t.layout.Name), quoted(t.layout.File))
	}
	return out.Flush()
}
