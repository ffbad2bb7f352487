package exchange

import (
	"archive/zip"
	"context"
	"fmt"
	"io"
	"strings"

	"rootworthy/export"
)

// sheet is one table of a workbook.
type sheet struct {
	name   string
	header []string
	widths []int
	wrap   bool // long texts break into lines
	rows   func(yield func([]cell) bool)
	count  int
}

// mostRows is how many rows a sheet of the format has.
const mostRows = 1 << 20

// writeWorkbook writes an Office Open XML workbook: a sheet for each layer and one that says what they hold. Texts
// stand in their cells as text, which no program runs.
//
// Source: ECMA-376, parts as SpreadsheetML needs at least.
func (s *Set) writeWorkbook(ctx context.Context, w io.Writer) error {
	sheets := []sheet{layerSheet("Zones", s.zones), layerSheet("Fields", s.fields)}
	if len(s.samples.rows) > 0 {
		sheets = append(sheets, s.samples.sheet())
	}
	sheets = append(sheets, s.aboutSheet())
	z := zip.NewWriter(w)
	// The day of the run and not of the clock, so that equal runs give equal bytes.
	add := func(name string) (io.Writer, error) {
		return z.CreateHeader(&zip.FileHeader{Name: name, Method: zip.Deflate, Modified: s.when})
	}
	for _, p := range workbookParts(sheets) {
		f, err := add(p.name)
		if err != nil {
			return err
		}
		if _, err := io.WriteString(f, p.text); err != nil {
			return err
		}
	}
	for i, sh := range sheets {
		// The head takes one row of them.
		if sh.count >= mostRows {
			return fmt.Errorf("%d rows are more than a sheet can hold; use csv or geoparquet", sh.count)
		}
		f, err := add(sheetPath(i))
		if err != nil {
			return err
		}
		if err := sh.write(ctx, f); err != nil {
			return err
		}
	}
	return z.Close()
}

// isDay tells the columns whose texts are days.
func isDay(name string) bool { return name == "ready_date" || name == "tests_newest" }

// layerSheet makes a sheet of a layer, columns as wide as their longest text.
func layerSheet(name string, l export.Layer) sheet {
	sh := sheet{name: name, count: len(l.Rows), widths: make([]int, len(l.Columns))}
	for i, c := range l.Columns {
		sh.header = append(sh.header, c.Name)
		sh.widths[i] = len(c.Name)
		for _, r := range l.Rows {
			// Letters, not bytes: what a column must be wide for.
			sh.widths[i] = max(sh.widths[i], len([]rune(r.Values[i].Text())))
		}
	}
	sh.rows = func(yield func([]cell) bool) {
		// One row, used again for each: the writer keeps none.
		cells := make([]cell, len(l.Columns))
		for _, r := range l.Rows {
			for i, c := range l.Columns {
				cells[i] = cell{value: plain(c, r.Values[i]), day: isDay(c.Name)}
			}
			if !yield(cells) {
				return
			}
		}
	}
	return sh
}

// sheet lists every sample, those without a place too; the map has only the others.
func (l sampleLayer) sheet() sheet {
	sh := sheet{name: "Samples", count: len(l.rows)}
	for _, c := range sampleColumns() {
		sh.header, sh.widths = append(sh.header, c.Name), append(sh.widths, 20)
	}
	sh.header, sh.widths = append(sh.header, "lon", "lat"), append(sh.widths, 14, 14)
	sh.rows = func(yield func([]cell) bool) {
		for _, r := range l.rows {
			var cells []cell
			for _, v := range r.values {
				cells = append(cells, cell{value: v})
			}
			if r.placed {
				cells = append(cells, cell{value: r.at[0]}, cell{value: r.at[1]})
			}
			if !yield(cells) {
				return
			}
		}
	}
	return sh
}

// aboutSheet tells in sentences what the workbook holds, then every column with its unit.
func (s *Set) aboutSheet() sheet {
	lines := [][]string{}
	for _, text := range s.about() {
		lines = append(lines, []string{text})
	}
	lines = append(lines, nil, []string{"Column", "Sheet", "Unit", "Meaning"})
	for _, l := range []struct {
		name  string
		layer export.Layer
	}{{"Zones", s.zones}, {"Fields", s.fields}} {
		for _, c := range l.layer.Columns {
			lines = append(lines, []string{c.Name, l.name, c.Unit, c.Meaning})
		}
	}
	if len(s.samples.rows) > 0 {
		for _, c := range sampleColumns() {
			lines = append(lines, []string{c.Name, "Samples", "", c.Title})
		}
	}
	sh := sheet{name: "About", header: []string{"About this workbook", "", "", ""}, widths: []int{90, 10, 22, 90}, wrap: true, count: len(lines)}
	sh.rows = func(yield func([]cell) bool) {
		for _, line := range lines {
			var cells []cell
			for _, text := range line {
				cells = append(cells, cell{value: orNone(text)})
			}
			if !yield(cells) {
				return
			}
		}
	}
	return sh
}

type part struct{ name, text string }

func sheetPath(i int) string { return fmt.Sprintf("xl/worksheets/sheet%d.xml", i+1) }

const xmlHead = `<?xml version="1.0" encoding="UTF-8" standalone="yes"?>` + "\n"

// workbookParts are all parts but the sheets.
func workbookParts(sheets []sheet) []part {
	const (
		main = "http://schemas.openxmlformats.org/spreadsheetml/2006/main"
		rels = "http://schemas.openxmlformats.org/package/2006/relationships"
		doc  = "http://schemas.openxmlformats.org/officeDocument/2006/relationships"
		kind = "application/vnd.openxmlformats-officedocument.spreadsheetml."
	)
	var types, list, links strings.Builder
	for i, s := range sheets {
		fmt.Fprintf(&types, `<Override PartName="/%s" ContentType="%sworksheet+xml"/>`, sheetPath(i), kind)
		fmt.Fprintf(&list, `<sheet name="%s" sheetId="%d" r:id="rId%d"/>`, s.name, i+1, i+1)
		fmt.Fprintf(&links, `<Relationship Id="rId%d" Type="%s/worksheet" Target="worksheets/sheet%d.xml"/>`, i+1, doc, i+1)
	}
	fmt.Fprintf(&links, `<Relationship Id="rId%d" Type="%s/styles" Target="styles.xml"/>`, len(sheets)+1, doc)
	return []part{
		{"[Content_Types].xml", xmlHead + `<Types xmlns="http://schemas.openxmlformats.org/package/2006/content-types">` +
			`<Default Extension="rels" ContentType="application/vnd.openxmlformats-package.relationships+xml"/><Default Extension="xml" ContentType="application/xml"/>` +
			`<Override PartName="/xl/workbook.xml" ContentType="` + kind + `sheet.main+xml"/>` + types.String() +
			`<Override PartName="/xl/styles.xml" ContentType="` + kind + `styles+xml"/></Types>`},
		{"_rels/.rels", xmlHead + `<Relationships xmlns="` + rels + `"><Relationship Id="rId1" Type="` + doc + `/officeDocument" Target="xl/workbook.xml"/></Relationships>`},
		{"xl/workbook.xml", xmlHead + `<workbook xmlns="` + main + `" xmlns:r="` + doc + `"><sheets>` + list.String() + `</sheets></workbook>`},
		{"xl/_rels/workbook.xml.rels", xmlHead + `<Relationships xmlns="` + rels + `">` + links.String() + `</Relationships>`},
		// Styles by their number, which styleUsual and its neighbours name: usual, bold for headers, days, and text that wraps.
		// Spreadsheets ask for two fills, none and gray125, in this order.
		{"xl/styles.xml", xmlHead + `<styleSheet xmlns="` + main + `"><numFmts count="1"><numFmt numFmtId="164" formatCode="yyyy\-mm\-dd"/></numFmts>` +
			`<fonts count="2"><font><sz val="11"/><name val="Calibri"/></font><font><b/><sz val="11"/><name val="Calibri"/></font></fonts>` +
			`<fills count="2"><fill><patternFill patternType="none"/></fill><fill><patternFill patternType="gray125"/></fill></fills>` +
			`<borders count="1"><border><left/><right/><top/><bottom/><diagonal/></border></borders>` +
			`<cellStyleXfs count="1"><xf numFmtId="0" fontId="0" fillId="0" borderId="0"/></cellStyleXfs><cellXfs count="4">` +
			`<xf numFmtId="0" fontId="0" fillId="0" borderId="0" xfId="0"/><xf numFmtId="0" fontId="1" fillId="0" borderId="0" xfId="0" applyFont="1"/>` +
			`<xf numFmtId="164" fontId="0" fillId="0" borderId="0" xfId="0" applyNumberFormat="1"/>` +
			`<xf numFmtId="0" fontId="0" fillId="0" borderId="0" xfId="0" applyAlignment="1"><alignment vertical="top" wrapText="1"/></xf>` +
			`</cellXfs><cellStyles count="1"><cellStyle name="Normal" xfId="0" builtinId="0"/></cellStyles></styleSheet>`},
	}
}
