package workbook

import (
	"archive/zip"
	"bytes"
	"fmt"
	"reflect"
	"runtime"
	"strings"
	"testing"

	"rootworthy/internal/diag"
)

const (
	rels = `<Relationships><Relationship Id="r1" Type="http://schemas.openxmlformats.org/officeDocument/2006/relationships/worksheet" Target="worksheets/sheet1.xml"/>` +
		`<Relationship Id="r2" Type="http://purl.oclc.org/ooxml/officeDocument/relationships/sharedStrings" Target="/xl/sharedStrings.xml"/>` +
		`<Relationship Id="r3" Type="x/styles" Target="styles.xml"/></Relationships>`
	main = `<workbook><workbookPr date1904="%s"/><sheets><sheet name="A" r:id="r1" xmlns:r="x"/></sheets></workbook>`
)

// zipped packs parts, given as name and text in turn, into a workbook.
func zipped(t testing.TB, parts ...string) []byte {
	t.Helper()
	var b bytes.Buffer
	z := zip.NewWriter(&b)
	for i := 0; i < len(parts); i += 2 {
		w, err := z.Create(parts[i])
		if err != nil {
			t.Fatal(err)
		}
		if _, err := w.Write([]byte(parts[i+1])); err != nil {
			t.Fatal(err)
		}
	}
	if err := z.Close(); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

// small packs a sheet with its strings and styles.
func small(t testing.TB, sheet, sharedStrings, styles, date1904 string) []byte {
	return zipped(t, "xl/workbook.xml", fmt.Sprintf(main, date1904), "xl/_rels/workbook.xml.rels", rels,
		"xl/sharedStrings.xml", "<sst>"+sharedStrings+"</sst>", "xl/styles.xml", "<styleSheet>"+styles+"</styleSheet>",
		"xl/worksheets/sheet1.xml", "<worksheet><sheetData>"+sheet+"</sheetData></worksheet>")
}

// open reads a workbook from memory.
func open(b []byte) ([]Sheet, *diag.List, error) {
	var faults diag.List
	s, err := Open("w.xlsx", bytes.NewReader(b), int64(len(b)), &faults)
	return s, &faults, err
}

// Source: ECMA-376 part 1: cell types 18.18.11, number formats 18.8.30, date systems 18.17.4.1 (serial 44750 is 2022-07-08
// in the 1900 system, checked against a laboratory's file that gives both).
func TestCells(t *testing.T) {
	styles := `<numFmts><numFmt numFmtId="164" formatCode="yyyy\-mm\-dd"/><numFmt numFmtId="165" formatCode="&quot;day &quot;0.00"/>` +
		`<numFmt numFmtId="166" formatCode="[Red]0.0%"/></numFmts><cellStyleXfs><xf numFmtId="14"/></cellStyleXfs>` +
		`<cellXfs><xf numFmtId="0"/><xf numFmtId="14"/><xf numFmtId="164"/><xf numFmtId="165"/><xf numFmtId="166"/><xf numFmtId="9"/><xf numFmtId="20"/></cellXfs>`
	for name, c := range map[string]struct{ cell, date1904, want string }{
		"shortest figure":    {`<c><v>6.1799999999999997</v></c>`, "", "6.18"},
		"whole figure":       {`<c><v>430</v></c>`, "", "430"},
		"tiny figure":        {`<c><v>1.0000000000000001E-9</v></c>`, "", "1e-09"},
		"shared string":      {`<c t="s"><v>0</v></c>`, "", "plain"},
		"runs, no reading":   {`<c t="s"><v>1</v></c>`, "", "twoparts"},
		"control character":  {`<c t="s"><v>2</v></c>`, "", "a b"},
		"inline":             {`<c t="inlineStr"><is><r><t>in</t></r><r><t>line</t></r></is></c>`, "", "inline"},
		"formula":            {`<c><f>A1+1</f><v>7</v></c>`, "", "7"},
		"formula of text":    {`<c t="str"><f>A1</f><v>x</v></c>`, "", "x"},
		"error":              {`<c t="e"><v>#N/A</v></c>`, "", "#N/A"},
		"truth":              {`<c t="b"><v>1</v></c>`, "", "TRUE"},
		"ISO date":           {`<c t="d"><v>2022-07-08</v></c>`, "", "2022-07-08"},
		"date":               {`<c s="1"><v>44750</v></c>`, "", "2022-07-08"},
		"date and time":      {`<c s="2"><v>44750.9</v></c>`, "", "2022-07-08"},
		"date of 1904":       {`<c s="1"><v>43288</v></c>`, "1", "2022-07-08"},
		"quoted words":       {`<c s="3"><v>44750</v></c>`, "", "44750"},
		"percent":            {`<c s="4"><v>2.9100000000000001E-2</v></c>`, "", "2.91%"},
		"built-in percent":   {`<c s="5"><v>0.5</v></c>`, "", "50%"},
		"time only":          {`<c s="6"><v>0.5</v></c>`, "", "0.5"},
		"style out of range": {`<c s="99"><v>1</v></c>`, "", "1"},
		"not a figure":       {`<c><v>abc</v></c>`, "", "abc"},
	} {
		strs := `<si><t>plain</t></si><si><r><t>two</t></r><rPh><t>reading</t></rPh><r><t xml:space="preserve">parts</t></r></si><si><t>a_x000D_b</t></si>`
		s, faults, err := open(small(t, `<row r="1">`+c.cell+`</row>`, strs, styles, c.date1904))
		if err != nil || faults.Faults() != 0 || len(s) != 1 || len(s[0].Rows) != 1 || !reflect.DeepEqual(s[0].Rows[0], Row{1, []string{c.want}}) {
			t.Errorf("%s: %v, %v, %s, want %q", name, s, err, faults, c.want)
		}
	}
}

// What only looks like an escape stays, and those behind it are undone all the same.
func TestEscapes(t *testing.T) {
	for text, want := range map[string]string{
		"a_x000D_b_x000a_c":     "a b c",
		"lot_x0041 of_x000D_pH": "lot_x0041 of pH",
		"_x00_x000D_":           "_x00 ",
		"_x00zz_x_x0009_":       "_x00zz_x ",
		"field_x00":             "field_x00",
	} {
		s, faults, err := open(small(t, `<row r="1"><c t="s"><v>0</v></c></row>`, "<si><t>"+text+"</t></si>", "", ""))
		if err != nil || faults.Faults() != 0 || s[0].Rows[0].Cells[0] != want {
			t.Errorf("%s: %v, %v, %s, want %q", text, s, err, faults, want)
		}
	}
}

// Rows and cells may leave their place out, and then follow the last one; a row of coloured blanks is none.
func TestRowsAndColumnsWithGaps(t *testing.T) {
	s, faults, err := open(small(t, `<row r="2"><c r="B2"><v>1</v></c><c r="d2"><v>2</v></c></row><row><c><v>3</v></c><c><v>4</v></c></row><row r="9"><c r="A9"/></row>`, "", "", ""))
	want := []Sheet{{Name: "A", Rows: []Row{{2, []string{"", "1", "", "2"}}, {3, []string{"3", "4"}}}}}
	if err != nil || faults.Faults() != 0 || !reflect.DeepEqual(s, want) {
		t.Errorf("got %v, %v, %s, want %v", s, err, faults, want)
	}
}

// One cell that cannot be read costs that cell, not the workbook.
func TestFaultsNameSheetAndRow(t *testing.T) {
	for cell, kind := range map[string]string{
		`<c t="s"><v>9</v></c>`:     "bad string",
		`<c t="s"><v>-1</v></c>`:    "bad string",
		`<c><f>A1</f></c>`:          "formula without value",
		`<c r="ZZZZ7"><v>1</v></c>`: "too wide",
	} {
		_, faults, err := open(small(t, `<row r="7">`+cell+`</row>`, "", "", ""))
		k := faults.Kept()
		if err != nil || len(k) != 1 || k[0].Kind != kind || k[0].Line != 7 || k[0].Feature != "A" || k[0].Fix == "" {
			t.Errorf("%s: %v, %v, want %q", cell, k, err, kind)
		}
	}
}

// What cannot be read at all is an error of one line that names the file.
func TestDamagedWorkbooks(t *testing.T) {
	good := small(t, `<row><c><v>1</v></c></row>`, "", "", "")
	for name, b := range map[string][]byte{
		"empty":           nil,
		"half":            good[:len(good)/2],
		"other zip":       zipped(t, "a.txt", "hello"),
		"broken XML":      small(t, `<row><c>`, "", "", ""),
		"endless nesting": small(t, strings.Repeat("<a>", 1e6), "", "", ""),
		"missing strings": zipped(t, "xl/workbook.xml", main, "xl/_rels/workbook.xml.rels", rels),
		"unknown entity":  small(t, `<row><c><v>&lol;</v></c></row>`, "", "", ""),
	} {
		s, _, err := open(b)
		if err == nil || !strings.HasPrefix(err.Error(), "w.xlsx: not a readable workbook") || strings.Contains(err.Error(), "\n") {
			t.Errorf("%s: %v, %v", name, s, err)
		}
	}
}

// Bombs of some kilobytes that unpack to gigabytes, or name cells far apart, stay within bounds.
func TestBombsAreBounded(t *testing.T) {
	before := heap()
	strs := strings.Repeat("<si/>", mostStrings+1)
	for name, b := range map[string][]byte{
		"large part":   small(t, strings.Repeat(" ", mostPart+1), "", "", ""),
		"many strings": small(t, "", strs, "", ""),
	} {
		if _, _, err := open(b); err == nil || !strings.Contains(err.Error(), "more") {
			t.Errorf("%s of %d bytes: %v", name, len(b), err)
		}
	}
	wide := small(t, strings.Repeat(`<row><c r="ALJ1"><v>1</v></c></row>`, 100000), "", "", "") // column 998
	s, faults, err := open(wide)
	cells := 0
	for _, r := range s[0].Rows {
		cells += len(r.Cells)
	}
	if err != nil || cells > mostCells || !strings.Contains(faults.String(), "not read") {
		t.Errorf("far cells: %d cells, %v, %s", cells, err, faults)
	}
	s = nil
	if grown := heap() - before; grown > 64<<20 {
		t.Errorf("%d MiB stayed in use", grown>>20)
	}
}

// heap collects first, so that what counts is what is held.
func heap() int64 {
	runtime.GC()
	var m runtime.MemStats
	runtime.ReadMemStats(&m)
	return int64(m.HeapAlloc)
}

// A directory that lies about the size of a part gains nothing: archive/zip stops at the declared size, the reader at its bound.
func TestLyingDirectory(t *testing.T) {
	b := small(t, strings.Repeat("<row><c><v>1</v></c></row>", 50000), "", "", "")
	i := bytes.LastIndex(b, []byte("PK\x01\x02")) // the directory entry of the last part
	copy(b[i+24:], []byte{16, 0, 0, 0})           // uncompressed size
	if s, _, err := open(b); err == nil {
		t.Errorf("read %d rows of a part that declares 16 bytes", len(s[0].Rows))
	}
}

// Whatever comes in, rows rise and stay within the bounds.
func FuzzOpen(f *testing.F) {
	f.Add(small(f, `<row r="2"><c r="B2" t="s"><v>0</v></c><c s="1"><v>44750</v></c></row>`, `<si><t>x</t></si>`, `<cellXfs><xf/><xf numFmtId="14"/></cellXfs>`, "1"))
	f.Fuzz(func(t *testing.T, b []byte) {
		s, _, err := open(b)
		if err != nil {
			return
		}
		for _, sheet := range s {
			last := 0
			for _, r := range sheet.Rows {
				if r.Number <= last || len(r.Cells) == 0 || len(r.Cells) > widest {
					t.Fatalf("row %d after %d with %d cells", r.Number, last, len(r.Cells))
				}
				last = r.Number
			}
		}
	})
}

// FuzzSheet fuzzes what a zip would mostly hide from the fuzzer: the XML of the parts.
func FuzzSheet(f *testing.F) {
	f.Add(`<row r="2"><c r="B2" t="s"><v>0</v></c><c s="1"><v>44750</v></c></row>`, `<si><t>x</t></si>`, `<cellXfs><xf/><xf numFmtId="14"/></cellXfs>`)
	f.Add(`<row><c t="inlineStr"><is><t>a</t></is></c></row>`, ``, `<numFmts><numFmt numFmtId="164" formatCode="[$-409]d\-mmm;@"/></numFmts>`)
	f.Fuzz(func(t *testing.T, sheet, strs, styles string) {
		b := small(t, sheet, strs, styles, "")
		one, _, err1 := open(b)
		two, _, err2 := open(b)
		if !reflect.DeepEqual(one, two) || fmt.Sprint(err1) != fmt.Sprint(err2) {
			t.Fatal("the same workbook read twice differs")
		}
	})
}
