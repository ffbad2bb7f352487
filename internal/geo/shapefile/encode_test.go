package shapefile

import (
	"bytes"
	"math"
	"os"
	"path/filepath"
	"reflect"
	"strings"
	"testing"

	shp "github.com/jonas-p/go-shp"
	"github.com/paulmach/orb"
)

func TestWhatIsWrittenIsReadBack(t *testing.T) {
	cols, rs := two()
	got, faults, err := readAll(t, write(t, "a", cols, rs), "a.shp")
	if err != nil || len(faults.Kept()) > 0 {
		t.Fatal(err, faults)
	}
	want := [][]string{{`"Été & fils"`, "6.50", "4", `"2024-09-15"`, "true"}, {`"B"`, "null", "null", "null", "null"}}
	for i, k := range got {
		if !sameParts(k.shape, rs[i].shape) || !reflect.DeepEqual(k.values, want[i]) {
			t.Errorf("record %d = %v, want %v %v", i, k, rs[i].shape, want[i])
		}
	}
	if len(got) != 2 {
		t.Errorf("%d records, want 2", len(got))
	}
}

// TestSecondReader: github.com/jonas-p/go-shp reads what we write.
func TestSecondReader(t *testing.T) {
	cols, rs := two()
	dir := t.TempDir()
	for name, f := range write(t, "a", cols, rs) {
		if err := os.WriteFile(filepath.Join(dir, name), f.Data, 0o600); err != nil {
			t.Fatal(err)
		}
	}
	r, err := shp.Open(filepath.Join(dir, "a.shp"))
	if err != nil {
		t.Fatal(err)
	}
	defer r.Close()
	if len(r.Fields()) != 5 || r.Fields()[0].String() != "name" {
		t.Errorf("columns %v", r.Fields())
	}
	n := 0
	for r.Next() {
		i, s := r.Shape()
		p := s.(*shp.Polygon)
		want := ringCount(rs[i].shape)
		if int(p.NumParts) != want || p.Points[0].X != p.Points[p.Parts[min(1, want-1)]-1+boolInt(want == 1)*p.NumPoints].X {
			t.Errorf("record %d: %d parts, want %d, closed", i, p.NumParts, want)
		}
		if b := rs[i].shape.Bound(); p.BBox().MinX != b.Min[0] || p.BBox().MaxY != b.Max[1] {
			t.Errorf("record %d: box %v, want %v", i, p.BBox(), b)
		}
		n++
	}
	if n != 2 || r.Err() != nil {
		t.Errorf("%d records, %v", n, r.Err())
	}
	if got := strings.TrimRight(r.ReadAttribute(0, 0), " "); got != "Été & fils" {
		t.Errorf("name %q", got)
	}
}

func boolInt(b bool) int32 {
	if b {
		return 1
	}
	return 0
}

func ringCount(mp orb.MultiPolygon) int {
	n := 0
	for _, p := range mp {
		n += len(p)
	}
	return n
}

// TestRules: outer rings clockwise, the record's own length, rules of the Esri description, pages 4 and 8.
func TestRules(t *testing.T) {
	cols, rs := two()
	files := write(t, "a", cols, rs)
	l, err := Open("a.shp", files, "a.shp", nil)
	if err != nil {
		t.Fatal(err)
	}
	if int(l.header.length) != len(files["a.shp"].Data) {
		t.Errorf("header says %d bytes, file has %d", l.header.length, len(files["a.shp"].Data))
	}
	wantCW := []bool{true, false, true, true}
	err = l.Records(func(rec *Record) error {
		for _, xy := range rec.Rings.All() {
			if cw := doubleArea(xy) < 0; cw != wantCW[0] {
				t.Errorf("record %d: clockwise is %v", rec.Index, cw)
			}
			wantCW = wantCW[1:]
		}
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	if want := (orb.Bound{Min: orb.Point{-5, -5}, Max: orb.Point{25, 10}}); l.Bounds != want {
		t.Errorf("box %v, want %v", l.Bounds, want)
	}
	if got := string(files["a.cpg"].Data); got != "UTF-8" {
		t.Errorf(".cpg holds %q", got)
	}
}

// A number that is too wide loses decimals or is refused, and never its first digits; a text loses whole letters.
func TestCellsKeepTheirWidth(t *testing.T) {
	cell := func(c Column, v any) string {
		t.Helper()
		cols, err := checkColumns([]Column{c})
		if err != nil {
			return err.Error()
		}
		text, err := cols[0].format(v)
		if err != nil {
			return err.Error()
		}
		if err := fixWidths(cols, []int{len(text)}); err != nil {
			return err.Error()
		}
		return string(cols[0].appendCell(nil, text))
	}
	for _, tc := range []struct {
		name string
		col  Column
		v    any
		want string
	}{
		{"text is cut between letters", Column{Name: "a", Type: 'C', Width: 4}, "ééé", "éé"},
		{"text is cut before a letter that does not fit", Column{Name: "a", Type: 'C', Width: 3}, "éé", "é "},
		{"numbers stand right", Column{Name: "a", Type: 'N', Width: 6, Decimals: 2}, 1.5, "  1.50"},
		{"a number loses decimals before it overflows", Column{Name: "a", Type: 'N', Width: 6, Decimals: 3}, 12345.678, " 12346"},
		{"a number that cannot fit is refused", Column{Name: "a", Type: 'N', Width: 3}, 12345.0, "12345 does not fit its 3 places"},
		{"no minus zero", Column{Name: "a", Type: 'N', Width: 5, Decimals: 1}, -0.001, "  0.0"},
		{"missing is blank", Column{Name: "a", Type: 'N', Width: 3}, nil, "   "},
		{"NaN is refused", Column{Name: "a", Type: 'N'}, math.NaN(), "NaN is no number a table can hold; leave it missing"},
		{"line ends become blanks", Column{Name: "a", Type: 'C'}, "a\r\nb", "a  b"},
		{"a date", Column{Name: "a", Type: 'D'}, "2024-02-29", "20240229"},
		{"not a date", Column{Name: "a", Type: 'D'}, "29.2.2024", `"29.2.2024" is no date YYYY-MM-DD`},
		{"wrong kind", Column{Name: "a", Type: 'L'}, 3, "3 is no value for type L"},
		{"long name", Column{Name: "subsoil_ph_", Type: 'C'}, "", `column name "subsoil_ph_": the format takes up to 10 letters, digits and underlines, a letter first`},
	} {
		if got := cell(tc.col, tc.v); got != tc.want {
			t.Errorf("%s: got %q, want %q", tc.name, got, tc.want)
		}
	}
}

// A layer without rows is headers alone.
func TestEmptyLayer(t *testing.T) {
	files := write(t, "a", []Column{{Name: "id", Type: 'C'}}, nil)
	got, faults, err := readAll(t, files, "a.shp")
	if err != nil || len(got) != 0 || len(faults.Kept()) > 0 {
		t.Errorf("got %v, %v, %v", got, err, faults)
	}
	if n := len(files["a.shx"].Data); n != headerSize {
		t.Errorf(".shx has %d bytes", n)
	}
}

func TestSameRowsSameBytes(t *testing.T) {
	cols, rs := two()
	a, b := write(t, "a", cols, rs), write(t, "a", cols, rs)
	for name := range a {
		if !bytes.Equal(a[name].Data, b[name].Data) {
			t.Errorf("%s differs", name)
		}
	}
}
