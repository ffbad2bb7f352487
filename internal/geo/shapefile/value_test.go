package shapefile

import (
	"errors"
	"io/fs"
	"strings"
	"testing"
	"testing/fstest"

	"github.com/paulmach/orb"

	"rootworthy/internal/diag"
)

// table builds a .dbf by hand: one column, one row with the cell as given.
func table(kind byte, cell string, language byte) []byte {
	e := &Encoder{n: 1, columns: []Column{{Name: "v", Type: kind, Width: len(cell)}}}
	b := e.tableHeader()
	b[29] = language
	return append(append(append(b, ' '), cell...), fileEnd)
}

// cellOf reads the one cell.
func cellOf(t *testing.T, dbf []byte, cpg string) (json, text string, number float64, ok bool) {
	t.Helper()
	files := fstest.MapFS{"a.shp": {Data: nulls(1)}, "a.dbf": {Data: dbf}, "a.cpg": {Data: []byte(cpg)}}
	l, err := Open("a.shp", files, "a.shp", &diag.List{})
	if err != nil {
		t.Fatal(err)
	}
	err = l.Records(func(rec *Record) error {
		json, text = string(rec.JSON(0)), rec.Text(0)
		number, ok = rec.Number(0)
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	return json, text, number, ok
}

// Cells as programs fill them: padded, cut short, with asterisks or zeros for what is missing.
func TestCells(t *testing.T) {
	for _, tc := range []struct {
		kind   byte
		cell   string
		json   string
		number float64
		ok     bool
	}{
		{'N', "  12", "12", 12, true},
		{'N', "+007", "7", 7, true},
		{'N', "-.50", "-0.50", -0.5, true},
		{'N', "5.", "5", 5, true},
		{'N', "-0", "-0", 0, true},
		{'F', "1.5e+003", "1.5e+003", 1500, true},
		{'F', "12345678901234567890", "12345678901234567890", 12345678901234567890, true},
		{'N', "****", "null", 0, false},
		{'N', "    ", "null", 0, false},
		{'N', "1,5", "null", 0, false},
		{'N', "nan", "null", 0, false},
		{'N', "0x1F", "null", 0, false},
		{'N', "1e", "null", 0, false},
		{'N', "--1", "null", 0, false},
		{'N', ".", "null", 0, false},
		{'C', "12  ", `"12"`, 12, true},
		{'C', " a\x00b ", `" a"`, 0, false},
		{'C', "a\"<\n", `"a\"<\n"`, 0, false},
		{'C', "   ", "null", 0, false},
		{'D', "20240229", `"2024-02-29"`, 20240229, true},
		{'D', "00000000", "null", 0, true},
		{'D', "2024 229", "null", 0, false},
		{'L', "T", "true", 0, false},
		{'L', "n", "false", 0, false},
		{'L', "?", "null", 0, false},
	} {
		json, _, number, ok := cellOf(t, table(tc.kind, tc.cell, 0), "")
		if json != tc.json || number != tc.number || ok != tc.ok {
			t.Errorf("%c %q: JSON %s, number %v %v, want %s, %v %v", tc.kind, tc.cell, json, number, ok, tc.json, tc.number, tc.ok)
		}
	}
}

// TestEncodings: byte 0x80 is the euro sign and 0x9C the ligature oe in Windows-1252 (Unicode Consortium, CP1252.TXT);
// é is 0xE9 there and in ISO 8859-1, 0x82 in code page 437 (CP437.TXT). From memory, not checked.
func TestEncodings(t *testing.T) {
	for _, tc := range []struct {
		cell     string
		language byte
		cpg      string
		want     string
	}{
		{"Été", 0, "UTF-8", "Été"},
		{"Été", 0, "utf8\n", "Été"},
		{"Été", 0x57, "\ufeff65001", "Été"},
		{"\x80\x9c\xe9", 0, "1252", "€œé"},
		{"\x80\x9c\xe9", 0, "ANSI 1252", "€œé"},
		{"\x80\x9c\xe9", 0x03, "", "€œé"},
		{"\x80\x9c\xe9", 0x57, "", "€œé"},
		{"\xe9", 0x57, "ISO-8859-1", "é"},
		{"\xe9", 0, "ISO 88591", "é"},
		{"\x82", 0x01, "", "é"},
		{"\x82", 0, "OEM 437", "é"},
		{"\xec\xe8\xf0", 0, "cp1251", "мир"}, // Windows-1251: м EC, и E8, р F0 (CP1251.TXT; from memory, not checked)
		{"\xa4", 0, "ISO 8859-15", "€"},      // the euro sign took the place of the currency sign
		{"Été", 0, "", "Été"},                // valid UTF-8 is read as such
		{"\xc9t\xe9", 0, "", "Été"},          // else Windows-1252
		{"\xc9t\xe9", 0, "UTF-8", "Été"},     // a .cpg that lies
		{"Ét\xc3", 0, "UTF-8", "Ét"},         // a letter cut in two by another writer
		{"Ét\xe2\x82", 0, "no idea", "Ét"},   // likewise, with a .cpg that says nothing
		{"plain", 0xFF, "no idea", "plain"},  // nothing to decide
	} {
		if _, got, _, _ := cellOf(t, table('C', tc.cell, tc.language), tc.cpg); got != tc.want {
			t.Errorf("%q, language 0x%02X, .cpg %q: %q, want %q", tc.cell, tc.language, tc.cpg, got, tc.want)
		}
	}
}

// A .cpg that names nothing known is told: what it says, what was taken in its place, what to do. One that is known,
// empty or missing is not worth a word.
func TestUnknownCodePageIsTold(t *testing.T) {
	for _, tc := range []struct {
		cpg      string
		language byte
		want     string // in the notice; "" for none
	}{
		{"Wandle-7", 0, `a.cpg: "Wandle-7" is no code page known here; texts were read as UTF-8 or Windows 1252 (guessed); if letters`},
		{"Wandle-7", 0x57, "read as Windows 1252 (language byte 0x57)"},
		{strings.Repeat("long", 30), 0, `longlong…" is no code page`},
		{"\x1b[31m", 0, `"\x1b[31m" is no code page`}, // what a terminal would obey is quoted
		{"UTF-8", 0, ""}, {"OEM 437", 0, ""}, {"windows-1252", 0, ""}, {"ISO-8859-1\r\n", 0, ""}, {"", 0, ""}, {" \n", 0x57, ""},
	} {
		var faults diag.List
		files := fstest.MapFS{"a.shp": {Data: nulls(1)}, "a.dbf": {Data: table('C', "é", tc.language)}, "a.cpg": {Data: []byte(tc.cpg)}}
		if _, err := Open("a.shp", files, "a.shp", &faults); err != nil {
			t.Fatal(err)
		}
		if said := faults.String(); faults.Faults() > 0 || (tc.want == "") != (faults.Notices() == 0) || !strings.Contains(said, tc.want) {
			t.Errorf(".cpg %q, language 0x%02X: told %q, want %q", tc.cpg, tc.language, said, tc.want)
		}
	}
	var faults diag.List // without a table no text is read
	files := fstest.MapFS{"a.shp": {Data: nulls(1)}, "a.cpg": {Data: []byte("Wandle-7")}}
	if _, err := Open("a.shp", files, "a.shp", &faults); err != nil || strings.Contains(faults.String(), "code page") {
		t.Errorf("%v, %s", err, &faults)
	}
}

func TestWideTextOfOtherPrograms(t *testing.T) {
	long := strings.Repeat("x", 600)
	dbf := table('C', long, 0)
	dbf[32+16], dbf[32+17] = 600%256, 600/256 // the high byte of the width stands where decimals do
	if _, got, _, _ := cellOf(t, dbf, ""); got != long {
		t.Errorf("got %d letters of %d", len(got), len(long))
	}
}

// brokenFS fails after some bytes of one file.
type brokenFS struct {
	fs.FS
	name string
	good int
}

var errDisk = errors.New("disk on fire")

func (b brokenFS) Open(name string) (fs.File, error) {
	f, err := b.FS.Open(name)
	if err != nil || name != b.name {
		return f, err
	}
	return &brokenFile{f, b.good}, nil
}

type brokenFile struct {
	fs.File
	left int
}

func (f *brokenFile) Read(p []byte) (int, error) {
	if f.left <= 0 {
		return 0, errDisk
	}
	n, err := f.File.Read(p[:min(len(p), f.left)])
	f.left -= n
	return n, err
}

// TestDiskErrors: an error of the disk is an error, named with the file, not damage.
func TestDiskErrors(t *testing.T) {
	cols, rs := two()
	files := write(t, "a", cols, rs)
	for name, good := range map[string][]int{"a.shp": {0, 50, 100, 105, 108, 200, 410}, "a.dbf": {0, 20, 100, 193, 200, 225}} {
		for _, n := range good {
			faults := &diag.List{}
			l, err := Open("x/a.shp", brokenFS{files, name, n}, "a.shp", faults)
			if err == nil {
				err = l.Polygons(func(int, orb.MultiPolygon, *Record) error { return nil })
			}
			if !errors.Is(err, errDisk) || !strings.HasPrefix(err.Error(), "x/"+name) || faults.Faults() > 0 {
				t.Errorf("%s after %d bytes: %v, %v", name, n, err, faults)
			}
		}
	}
}

func TestCallersErrorEndsThePass(t *testing.T) {
	cols, rs := two()
	l, err := Open("a.shp", write(t, "a", cols, rs), "a.shp", &diag.List{})
	if err != nil {
		t.Fatal(err)
	}
	enough, n := errors.New("enough"), 0
	if err := l.Records(func(*Record) error { n++; return enough }); err != enough || n != 1 {
		t.Errorf("%v after %d records", err, n)
	}
}
