package taskdata_test

import (
	"archive/zip"
	"bytes"
	"context"
	"encoding/binary"
	"io/fs"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"testing/fstest"

	"rootworthy/export/taskdata"
	"rootworthy/internal/diag"
)

// TestFilesOfOpenLibraries reads the test data of three open libraries. Sums of cells were added up by a program of a
// few lines in another language (struct.unpack), from the bytes; what is wrong with a file is as its authors say.
func TestFilesOfOpenLibraries(t *testing.T) {
	root := "../../../shared/data/isoxml-grids"
	if _, err := os.Stat(root); err != nil {
		t.Skip("the files are not there: ", err)
	}
	for _, c := range []struct {
		path          string
		version       string
		tasks, fields int
		sums          []int64 // of all cells of each grid
		first, last   int32   // cells of the first grid
		faults        []string
	}{
		{path: "Type1", version: "4.2", tasks: 1, faults: []string{"93 cells with a zone code that the task does not explain"}, sums: []int64{7 * 0}, first: taskdata.NoCode, last: taskdata.NoCode},
		{path: "Type1_Invalid", version: "4.2", tasks: 1, faults: []string{"holds 32 bytes, but 54 columns × 106 rows × 1 value of type 2 need 22896"}},
		{path: "Type2", version: "4.2", tasks: 1, sums: []int64{-1}, first: 1086161, last: -1},
		{path: "Type2_Invalid", version: "4.2", tasks: 1, faults: []string{"holds 1200 bytes, but 20 columns × 10 rows × 3 values of type 2 need 2400"}},
		{path: "Type2_ReadValue", version: "4.0", tasks: 1, fields: 1, sums: []int64{252500}, first: 5, last: -1},
		{path: "DuplicatedIDs", version: "4.3", tasks: 3, sums: []int64{952386591, 542867619, 561317562}, first: -1, last: -1, faults: []string{"id VPN1 is given more than once"}},
		{path: "MacOSExtensionFiles", version: "4.2", tasks: 1, fields: 1, sums: []int64{60530100}, first: -1, last: -1,
			faults: []string{"treats 15.40 acres outside its field", "default zone 0 with a rate of 1000000", "position-lost zone 0"}},
		{path: "Partfields", version: "4.3", tasks: 13, fields: 13},
		{path: "js-task_with_grid/task_with_grid.zip", version: "4.2", tasks: 1, fields: 1, sums: []int64{500508008}, first: -1, last: -1, faults: []string{"outside its field"}},
		{path: "js-grid-without-binary/grid-without-binary.zip", version: "3.3", tasks: 1, faults: []string{"there is no file GRD00001.bin beside TASKDATA.XML"}},
		{path: "js-task_full/task_full.zip", version: "4.2", tasks: 1, fields: 2, faults: []string{"default zone code 0, but no such zone"}},
		{path: "js-duplicate-xmlid/duplicate-xmlid.zip", version: "3.3", faults: []string{"holds no task", "id CTP-1 is given more than once", "id WKR1"}},
		{path: "py-v3-grid_type_2", version: "3.3", tasks: 1, fields: 1, sums: []int64{9661460000}, first: -1, last: -1},
		{path: "py-v3-grid_type_2/grid_type_2.zip", version: "3.3", tasks: 1, fields: 1, sums: []int64{9661460000}, first: -1, last: -1},
	} {
		t.Run(c.path, func(t *testing.T) {
			var faults diag.List
			f, err := taskdata.Read(c.path, opened(t, filepath.Join(root, c.path)), &faults)
			if err != nil {
				t.Fatal(err)
			}
			if _, err := f.Effects(&faults); err != nil {
				t.Fatal(err)
			}
			if f.Version != c.version || len(f.Tasks) != c.tasks || len(f.Boundaries) != c.fields {
				t.Errorf("version %s, %d tasks, %d fields; want %s, %d, %d", f.Version, len(f.Tasks), len(f.Boundaries), c.version, c.tasks, c.fields)
			}
			grids := 0
			for _, task := range f.Tasks {
				if task.Grid == nil {
					continue
				}
				sum, first, last := cellsOf(t, task.Grid)
				if grids < len(c.sums) && c.sums[grids] >= 0 && sum != c.sums[grids] {
					t.Errorf("grid %d adds up to %d, want %d", grids, sum, c.sums[grids])
				}
				if grids == 0 && (c.first >= 0 && first != c.first || c.last >= 0 && last != c.last) {
					t.Errorf("first cell %d, last %d; want %d, %d", first, last, c.first, c.last)
				}
				grids++
			}
			if grids != len(c.sums) {
				t.Errorf("%d grids, want %d", grids, len(c.sums))
			}
			said := faults.String()
			for _, want := range c.faults {
				if !strings.Contains(said, want) {
					t.Errorf("the faults do not say %q:\n%s", want, said)
				}
			}
			if len(c.faults) == 0 && faults.Faults() > 0 {
				t.Errorf("a good file has faults:\n%s", said)
			}
		})
	}
}

// opened opens a folder or a zip as the program would.
func opened(t *testing.T, path string) fs.FS {
	t.Helper()
	if !strings.HasSuffix(path, ".zip") {
		return os.DirFS(path)
	}
	z, err := zip.OpenReader(path)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { z.Close() })
	return z
}

// cellsOf adds up a grid, cells without a meaning left out.
func cellsOf(t *testing.T, g *taskdata.Grid) (sum int64, first, last int32) {
	t.Helper()
	err := g.Each(func(row int, values []int32) error {
		for i, v := range values {
			if row == 0 && i == 0 {
				first = v
			}
			if last = v; v != taskdata.NoCode {
				sum += int64(v)
			}
		}
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	return sum, first, last
}

// head begins a file of version 3; who uses it closes the root.
const head = `<?xml version="1.0" encoding="UTF-8"?><ISO11783_TaskData VersionMajor="3" VersionMinor="3" DataTransferOrigin="1">`

// one is a good file with a grid of 3 × 2 cells.
const one = head + `
<PDT A="PDT1" B="Lime"/>
<TSK A="TSK1" B="Lime" G="1" H="0" I="0" J="0">
<TZN A="0"><PDV A="0006" B="0" C="PDT1"/></TZN>
<TZN A="1"><PDV A="0001" B="0"/><PDV A="0006" B="0" C="PDT1"/></TZN>
<GRD A="33" B="-76" C="0.0001" D="0.0001" E="3" F="2" G="GRD00001" I="2" J="1"/>
</TSK></ISO11783_TaskData>`

// bytesOf writes 32-bit cells, least byte first, as the format has them.
func bytesOf(values ...int32) []byte {
	var b []byte
	for _, v := range values {
		b = binary.LittleEndian.AppendUint32(b, uint32(v))
	}
	return b
}

// files is a card whose names have other capitals than the standard's, with what a Mac leaves behind beside them, which is no XML, and a
// link list, which is no task data.
func files(xml string, bin []byte) fstest.MapFS {
	return fstest.MapFS{"taskdata/TaskData.xml": {Data: []byte(xml)}, "taskdata/grd00001.BIN": {Data: bin}, "taskdata/._TASKDATA.XML": {Data: []byte("litter")},
		"__MACOSX/TASKDATA/TASKDATA.XML": {Data: []byte("litter")}, "taskdata/LINKLIST.XML": {Data: []byte("<ISO11783LinkList/>")}}
}

// Cells run east along the southernmost row first. Two values stand in each cell, and the rate by mass is the second, since the treatment
// zone lists it second. A byte order mark before the XML does no harm.
func TestRowsRunFromTheSouthWest(t *testing.T) {
	var faults diag.List
	f, err := taskdata.Read("stick", files("\ufeff"+one, bytesOf(9, 1, 9, 2, 9, 3, 9, 4, 9, 5, 9, 6)), &faults)
	if err != nil || faults.Faults() > 0 {
		t.Fatal(err, faults.String())
	}
	var got []int32
	f.Tasks[0].Grid.Each(func(_ int, values []int32) error { got = append(got, values...); return nil })
	for i, v := range got {
		if v != int32(i+1) {
			t.Fatalf("cells are %v, want 1 to 6: the mass is the second value of each", got)
		}
	}
	if e := f.Tasks[0].Grid.Frame(); math.Abs(e.RowLatitude(1)-33.00015) > 1e-12 || math.Abs(e.ColumnLongitude(0)+75.99995) > 1e-12 {
		t.Errorf("row 1 lies at %v, column 0 at %v", e.RowLatitude(1), e.ColumnLongitude(0))
	}
}

// TestFaultsAreTold: what is wrong stands between « and », and the fault names its line.
func TestFaultsAreTold(t *testing.T) {
	good := bytesOf(0, 1, 0, 2, 0, 3, 0, 4, 0, 5, 0, 6)
	for name, c := range map[string]struct {
		from, to, want string
		bin            []byte
	}{
		"type":          {`I="2" J="1"`, `«I="3" J="1"»`, `grid of type "3"`, good},
		"zone":          {`I="2" J="1"`, `«I="2" J="7"»`, `zone code "7"`, good},
		"columns":       {`E="3"`, `«E="-3"»`, `"-3" × "2" cells`, good},
		"too many":      {`E="3" F="2"`, `«E="1000000" F="500000"»`, "1000000 columns × 500000 rows", good},
		"far too many":  {`E="3" F="2"`, `«E="2000000000" F="2000000000"»`, `"2000000000" × "2000000000" cells`, good},
		"cell":          {`C="0.0001"`, `«C="0"»`, "cells of 0 ×", good},
		"no number":     {`A="33"`, `«A="NaN"»`, `"NaN", which is no number`, good},
		"no place":      {`A="33"`, `«A="133"»`, "no place on Earth", good},
		"path":          {`G="GRD00001"`, `«G="../GRD00001"»`, "file name", good},
		"missing":       {`G="GRD00001"`, `«G="GRD00002"»`, "no file GRD00002.bin", good},
		"short file":    {`E="3"`, `«E="3"»`, "47 bytes", good[:47]},
		"value":         {`B="0" C="PDT1"/></TZN>`, `«B="zero" C="PDT1"/»></TZN>`, "no identifier with a whole number", good},
		"code twice":    {`<TZN A="1">`, `«<TZN A="0"/><TZN A="1">»`, "zone code 0 twice", good},
		"code 300":      {`<TZN A="1">`, `«<TZN A="300"/><TZN A="1">»`, `code "300"`, good},
		"id twice":      {`<PDT A="PDT1" B="Lime"/>`, `«<PDT A="PDT1" B="Lime"/><PDT A="PDT1" B="Lime"/>»`, "id PDT1 is given more than once", good},
		"product":       {`<TSK A="TSK1" B="Lime" G="1"`, `«<TSK A="TSK1" B="Lime" E="PFD7" G="1"»`, "names the field PFD7", good},
		"default":       {`H="0"`, `«H="4"»`, "default zone code 4, but no such zone", good},
		"negative":      {`<TSK A`, `«<TSK A»`, "1 cell below zero", bytesOf(0, 1, 0, 2, 0, 3, 0, 4, 0, 5, 0, -6)},
		"slip of units": {`<TSK A`, `«<TSK A»`, "a slip of units", bytesOf(0, 1, 0, 2, 0, 3, 0, 4, 0, 5, 0, 60000000)},
		"default rate":  {`<TZN A="0"><PDV A="0006" B="0"`, `<TZN A="0"><PDV A="0006" B="7"`, "default zone 0 with a rate of 7", good},
	} {
		t.Run(name, func(t *testing.T) {
			marked := strings.Replace(one, c.from, c.to, 1)
			if marked == one && c.from != c.to {
				t.Fatal("the mark is nowhere")
			}
			line := 0
			if at := strings.Index(marked, "«"); at >= 0 {
				line = 1 + strings.Count(marked[:at], "\n")
			}
			var faults diag.List
			f, err := taskdata.Read("stick", files(strings.NewReplacer("«", "", "»", "").Replace(marked), c.bin), &faults)
			if err != nil {
				t.Fatal(err)
			}
			if _, err := f.Effects(&faults); err != nil {
				t.Fatal(err)
			}
			found := false
			for _, x := range faults.Kept() {
				if strings.Contains(x.What, c.want) {
					found = true
					if line > 0 && x.Line != line {
						t.Errorf("line %d, want %d: %s", x.Line, line, x)
					}
				}
			}
			if !found {
				t.Errorf("no fault says %q:\n%s", c.want, faults.String())
			}
		})
	}
}

// TestHostileXML ends in one sentence, at once and without much memory.
func TestHostileXML(t *testing.T) {
	for name, c := range map[string]struct{ xml, want string }{
		"empty":      {"", "is empty"},
		"no XML":     {"PK\x03\x04", "not well-formed XML"},
		"cut off":    {one[:200], "not well-formed XML"},
		"other root": {`<kml/>`, `begins with "kml"`},
		"UTF-16":     {"\xff\xfe<\x00", "UTF-16"},
		"encoding":   {`<?xml version="1.0" encoding="EBCDIC"?>` + "<a/>", "EBCDIC"},
		"deep":       {head + strings.Repeat("<TSK>", 100000), "nested more than 32 deep"},
		"entities":   {`<!DOCTYPE a [<!ENTITY a "&a;&a;">]>` + head + `<CTR A="&a;"/></ISO11783_TaskData>`, "not well-formed XML"},
	} {
		var faults diag.List
		_, err := taskdata.Read("stick", files(c.xml, nil), &faults)
		if err == nil || !strings.Contains(err.Error(), c.want) || strings.Contains(err.Error(), "\n") {
			t.Errorf("%s: %v, want a sentence with %q", name, err, c.want)
		}
	}
	var faults diag.List
	if _, err := taskdata.Read("stick", fstest.MapFS{"a/TASKDATA.XML": {Data: []byte(one)}, "b/TASKDATA.XML": {Data: []byte(one)}}, &faults); err == nil || !strings.Contains(err.Error(), "twice") {
		t.Errorf("task data twice: %v", err)
	}
}

// A file may be in Latin-1, and hold its tasks in files of their own, which it names.
func TestOldEncodingsAndSplitFiles(t *testing.T) {
	xml := strings.Replace(one, `encoding="UTF-8"`, `encoding="ISO-8859-1"`, 1)
	xml = strings.Replace(xml, `B="Lime" G`, "B=\"L\xfcne\" G", 1)
	split := strings.Index(xml, "<TSK")
	end := strings.Index(xml, "</ISO")
	fsys := files(xml[:split]+`<XFR A="TSK00000"/>`+xml[end:], bytesOf(0, 1, 0, 2, 0, 3, 0, 4, 0, 5, 0, 6))
	fsys["taskdata/TSK00000.xml"] = &fstest.MapFile{Data: []byte(`<?xml version="1.0" encoding="ISO-8859-1"?><XFC>` + xml[split:end] + "</XFC>")}
	var faults diag.List
	f, err := taskdata.Read("stick", fsys, &faults)
	if err != nil || faults.Faults() > 0 || len(f.Tasks) != 1 || f.Tasks[0].Name != "Lüne" || f.Tasks[0].Grid == nil {
		t.Fatalf("%+v %v\n%s", f, err, faults.String())
	}
}

// logged is a controller's record: positions with a status, two values of which the second is the rate.
func logged(records int) fstest.MapFS {
	var bin []byte
	for i := range records {
		bin = binary.LittleEndian.AppendUint32(bin, uint32(i*1000))
		bin = binary.LittleEndian.AppendUint16(bin, 16800)
		p := at(float64(i*2), 100)
		bin = append(bin, bytesOf(int32(math.Round(p[1]*1e7)), int32(math.Round(p[0]*1e7)))...)
		switch status := byte(2); {
		case i%10 == 9:
			bin = append(bin, 0, 1, 0, 1, 2, 3, 4) // no position, another value
		case i%10 > 0:
			bin = append(bin, status, 0) // nothing new
		default:
			bin = append(append(bin, status, 1, 1), bytesOf(336255)...) // 1.5 short tons an acre
		}
	}
	return fstest.MapFS{"TASKDATA.XML": {Data: []byte(head + `<TSK A="TSK1" G="4"><TLG A="TLG00001"/></TSK></ISO11783_TaskData>`)},
		"TLG00001.XML": {Data: []byte(`<TIM A="" D="4"><PTN A="" B="" D=""/><DLV A="0074" B="" C="DET-1"/><DLV A="0007" B="" C="DET-1"/></TIM>`)},
		"TLG00001.BIN": {Data: bin}}
}

// TestRecordOfWork: a drive along the middle of the field at 1.5 short tons an acre.
func TestRecordOfWork(t *testing.T) {
	r := twoZones()
	for _, cutOff := range []int{0, 3} {
		fsys := logged(150)
		bin := fsys["TLG00001.BIN"]
		bin.Data = bin.Data[:len(bin.Data)-cutOff]
		var faults diag.List
		f, err := taskdata.Read("card", fsys, &faults)
		if err != nil {
			t.Fatal(err)
		}
		p, err := f.Logged(context.Background(), 10, r, &faults)
		if err != nil || p == nil || p.Read != 135 {
			t.Fatalf("%+v, %v; want 135 points with a position", p, err)
		}
		if broken := strings.Contains(faults.String(), "breaks off in record 150"); broken != (cutOff > 0) {
			t.Errorf("cut off by %d bytes: %s", cutOff, faults.String())
		}
		c, err := taskdata.Compare(context.Background(), r, 1, p.Surfaces())
		if err != nil {
			t.Fatal(err)
		}
		near(t, "west", rateOf(c.Zones[0]).ShortTonsPerAcre(), 1.5, 1e-4)
		near(t, "east, over", float64(c.Zones[1].Over), float64(c.Zones[1].Applied)/3, 1e-4)
		if n := c.Zones[0].Recorded; n < 1200 || n > 1500 {
			t.Errorf("%.0f m² recorded, want a strip of 131 by some 10 m", float64(n))
		}
	}
}

// TestRecordThatCannotBeRead ends in a fault that names it.
func TestRecordThatCannotBeRead(t *testing.T) {
	for want, change := range map[string]func(fstest.MapFS){
		"no file TLG00001.XML":          func(m fstest.MapFS) { delete(m, "TLG00001.XML") },
		"no file TLG00001.bin":          func(m fstest.MapFS) { delete(m, "TLG00001.BIN") },
		"its records have no positions": func(m fstest.MapFS) { m["TLG00001.XML"].Data = []byte(`<TIM A="" D="4"><DLV A="0007"/></TIM>`) },
		"no rate by weight":             func(m fstest.MapFS) { m["TLG00001.XML"].Data = []byte(`<TIM A="" D="4"><PTN A="" B=""/></TIM>`) },
		"its XML cannot be read":        func(m fstest.MapFS) { m["TLG00001.XML"].Data = []byte(`<TIM`) },
		"value 1, and its XML knows only": func(m fstest.MapFS) {
			m["TLG00001.XML"].Data = []byte(`<TIM A="" D="4"><PTN A="" B="" D=""/><DLV A="0007" B=""/></TIM>`)
		},
	} {
		fsys := logged(20)
		change(fsys)
		var faults diag.List
		f, err := taskdata.Read("card", fsys, &faults)
		if err != nil {
			t.Fatal(err)
		}
		if _, err := f.Logged(context.Background(), 10, twoZones(), &faults); err != nil || !strings.Contains(faults.String(), want) {
			t.Errorf("%v, faults %q; want %q", err, faults.String(), want)
		}
	}
}

// FuzzTimeLog: whatever the bytes, reading ends and counts no more points than there are records.
func FuzzTimeLog(f *testing.F) {
	m := logged(20)
	f.Add(m["TLG00001.XML"].Data, m["TLG00001.BIN"].Data)
	f.Fuzz(func(t *testing.T, xml, bin []byte) {
		fsys := logged(0)
		fsys["TLG00001.XML"].Data, fsys["TLG00001.BIN"].Data = xml, bin
		var faults diag.List
		file, err := taskdata.Read("card", fsys, &faults)
		if err != nil {
			t.Fatal(err)
		}
		if p, err := file.Logged(context.Background(), 10, twoZones(), &faults); err != nil || p.Read > len(bin)/15 {
			t.Fatalf("%+v %v from %d bytes", p, err, len(bin))
		}
	})
}

// FuzzTaskData: whatever the bytes, reading ends without a panic and within the memory that the file earns; and what
// could be read keeps its cells.
func FuzzTaskData(f *testing.F) {
	f.Add([]byte(one), bytesOf(0, 1, 0, 2, 0, 3, 0, 4, 0, 5, 0, 6))
	f.Add([]byte(strings.Replace(one, `I="2" J="1"`, `I="1"`, 1)), []byte{0, 1, 0, 1, 7, 0})
	for _, form := range []taskdata.Form{taskdata.Grid2, taskdata.Grid1, taskdata.Polygons} {
		all := written(f, plan(f, twoZones(), taskdata.Options{Form: form, Version: 3 + int(form)%2}))
		var bin []byte
		if g := all["TASKDATA/GRD00001.bin"]; g != nil {
			bin = g.Data
		}
		f.Add(all["TASKDATA/TASKDATA.XML"].Data, bin)
	}
	f.Fuzz(func(t *testing.T, xml, bin []byte) {
		var faults diag.List
		file, err := taskdata.Read("fuzz", fstest.MapFS{"TASKDATA.XML": {Data: xml}, "GRD00001.bin": {Data: bin}}, &faults)
		if err != nil {
			return
		}
		if _, err := file.Effects(&faults); err != nil {
			t.Fatal(err)
		}
		for i := range file.Tasks {
			if g := file.Tasks[i].Grid; g != nil {
				cells := 0
				g.Each(func(_ int, values []int32) error { cells += len(values); return nil })
				if cells != g.Rows*g.Columns || cells > len(bin) {
					t.Fatalf("%d cells of %d bytes, %d × %d", cells, len(bin), g.Columns, g.Rows)
				}
			}
		}
		if faults.Faults() > 0 && faults.String() == "" {
			t.Fatal("faults without words")
		}
	})
}

// TestZipIsTheFolder: the zip holds the same bytes, TASKDATA alone, and reads the same.
func TestZipIsTheFolder(t *testing.T) {
	p := plan(t, twoZones(), taskdata.Options{})
	z, folder := zipped(t, p), written(t, p)
	for _, name := range p.CardFiles() {
		got, err := fs.ReadFile(z, "TASKDATA/"+name)
		if err != nil || !bytes.Equal(got, folder["TASKDATA/"+name].Data) {
			t.Errorf("%s: %v, or other bytes than in the folder", name, err)
		}
	}
	entries, _ := fs.ReadDir(z, ".")
	if len(entries) != 1 {
		t.Errorf("the zip holds %v beside TASKDATA", entries)
	}
	var faults diag.List
	if _, err := taskdata.Read("zip", z, &faults); err != nil || faults.Faults() > 0 {
		t.Error(err, faults.String())
	}
}
