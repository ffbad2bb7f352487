package run_test

import (
	"bytes"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"testing/fstest"

	"rootworthy/export/quillmoor"
	"rootworthy/internal/run"
)

// damaged returns a good run with one file changed.
func damaged(t *testing.T, name string, change func([]byte) []byte) fstest.MapFS {
	files := bytesOf(t, quillmoor.Result())
	b := change(bytes.Clone(files[name].Data))
	if b == nil {
		delete(files, name)
	} else {
		files[name] = &fstest.MapFile{Data: b}
	}
	return files
}

func replace(old, new string) func([]byte) []byte {
	return func(b []byte) []byte { return bytes.Replace(b, []byte(old), []byte(new), 1) }
}

func cutTo(share float64) func([]byte) []byte {
	return func(b []byte) []byte { return b[:int(float64(len(b))*share)] }
}

func firstLineOff(b []byte) []byte { return b[bytes.IndexByte(b, '\n')+1:] }

// Whatever is wrong with a folder, the message names the file; a run is whole or it is not used.
func TestDamagedRunsAreRefusedByName(t *testing.T) {
	gone := func([]byte) []byte { return nil }
	for _, c := range []struct {
		file, name string
		change     func([]byte) []byte
		want       string
	}{
		{"run.json", "missing", gone, "is missing"},
		{"run.json", "another program's", func([]byte) []byte { return []byte(`{"schema":1}`) }, "does not describe a run"},
		{"run.json", "newer", replace(`"schema": 1`, `"schema": 2`), "schema 2"},
		{"run.json", "not JSON", cutTo(0.5), "not readable"},
		{"zones.geojson", "missing", gone, "is missing"},
		{"zones.geojson", "cut off", cutTo(0.5), "feature"},
		{"zones.geojson", "cut off at its end", func(b []byte) []byte { return b[:len(b)-4] }, "zones.geojson"},
		{"zones.geojson", "a feature less", func(b []byte) []byte {
			lines := bytes.SplitAfter(b, []byte("\n"))
			return bytes.Join(append(lines[:1:1], lines[2:]...), nil)
		}, `lacks zone "Q1/1"`},
		{"zones.geojson", "a zone twice", replace(`"id":"Q1/2"`, `"id":"Q1/1"`), "twice"},
		{"zones.geojson", "unknown zone", replace(`"id":"Q1/2"`, `"id":"Q9/2"`), "Q9/2"},
		{"zones.geojson", "point", replace(`"type":"Polygon"`, `"type":"Point"`), "Point"},
		{"zones.geojson", "off the globe", replace(`[-83.5,32.1]`, `[-483.5,32.1]`), "longitude and latitude"},
		{"zones.geojson", "open ring", replace(`[-83.5,32.1]`, `[-83.51,32.1]`), "not closed"},
		{"zones.geojson", "short position", replace(`[-83.5,32.1]`, `[-83.5]`), "longitude and latitude"},
		{"zones.geojson", "text for a number", replace(`[-83.5,32.1]`, `["x",32.1]`), "not a number"},
		{"zones.geojson", "no collection", func([]byte) []byte { return []byte(`[1]`) }, "not a GeoJSON"},
		{"zones.geojson", "nested deep", func([]byte) []byte { return []byte(strings.Repeat("[", 100000)) }, "zones.geojson"},
		{"zones.geojson", "nested deep inside", replace(`[-83.5,32.1]`, strings.Repeat("[", 100000)), "zones.geojson"},
		{"zones.geojson", "empty", func([]byte) []byte { return []byte{} }, "zones.geojson"},
		{"fields.geojson", "a field twice", replace(`"id":"Q2"`, `"id":"Q1"`), "twice"},
		{"fields.geojson", "no properties", replace(`"properties":{`, `"properties":7,"x":{`), "properties"},
		{"fields.geojson", "a field of another run", replace(`"id":"Q2"`, `"id":"Q7"`), "Q2"},
		{"reasons.jsonl", "a line less", firstLineOff, "not of one run"},
		{"reasons.jsonl", "a line twice", func(b []byte) []byte { return append(b, b[:bytes.IndexByte(b, '\n')+1]...) }, "line 9"},
		{"reasons.jsonl", "not JSON", replace(`{"zone_id":"Q2/1"`, `x`), "line 3"},
		{"reasons.jsonl", "unknown class", replace(`"class":"suited"`, `"class":"splendid"`), "splendid"},
		{"fields.csv", "missing, which nobody reads", gone, ""},
	} {
		_, err := run.Read(damaged(t, c.file, c.change))
		switch {
		case c.want == "" && err != nil:
			t.Errorf("%s %s: %v", c.file, c.name, err)
		case c.want != "" && (err == nil || !strings.Contains(err.Error(), c.want) || len(err.Error()) > 300):
			t.Errorf("%s %s: err = %v, want a short one that says %q", c.file, c.name, err, c.want)
		}
	}
}

// An explanation needs one zone; a mistyped one is answered with those there are.
func TestOneZoneIsReadAlone(t *testing.T) {
	files := bytesOf(t, quillmoor.Result())
	z, _, err := run.ReadZone(files, "Q3/2")
	if err != nil || z.MapUnit != "Bramblehithe loam, wooded" || len(z.Rating.Components) != 2 {
		t.Errorf("got %s, %d components, %v", z.MapUnit, len(z.Rating.Components), err)
	}
	if _, _, err := run.ReadZone(files, "Q3/9"); err == nil || !strings.Contains(err.Error(), "Q3/2") {
		t.Errorf("err = %v, want one that lists the zones", err)
	}
	if _, _, err := run.ReadZone(fstest.MapFS{}, "Q3/9"); err == nil || !strings.Contains(err.Error(), "run.json") {
		t.Errorf("err = %v, want one that names run.json", err)
	}
}

// A folder that holds a file of the user keeps it, though a file of a run would have the same name.
func TestARunInAFolderOfOthersIsRefused(t *testing.T) {
	dir := t.TempDir()
	mine := filepath.Join(dir, "fields.geojson") // as when the fields lie where the run should go
	if err := os.WriteFile(mine, []byte("mine"), 0o644); err != nil {
		t.Fatal(err)
	}
	if run.Check(dir) == nil || run.Write(dir, quillmoor.Result()) == nil {
		t.Error("a folder with a file of the user was accepted")
	}
	if b, _ := os.ReadFile(mine); string(b) != "mine" {
		t.Errorf("the user's file now holds %q", b)
	}
}
