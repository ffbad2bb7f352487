package run_test

import (
	"bytes"
	"testing"
	"testing/fstest"

	"rootworthy/export/quillmoor"
	"rootworthy/internal/run"
)

// FuzzReadRun feeds damaged files to the reader: refusing is fine; a panic is not, nor a run that, written again, reads
// as something else. Run it with -fuzzminimizetime=20x: by default the fuzzer spends its time making long inputs short.
func FuzzReadRun(f *testing.F) {
	good := fstest.MapFS{}
	r := quillmoor.Result()
	r.Fields, r.Zones = r.Fields[4:], r.Zones[7:] // one small zone: the fuzzer crawls on long inputs
	r.Fields[0].Zones = []int{0}
	for _, name := range run.Files() {
		var b bytes.Buffer
		if err := run.WriteFile(&b, name, r); err != nil {
			f.Fatal(err)
		}
		good[name] = &fstest.MapFile{Data: b.Bytes()}
	}
	f.Add(good["zones.geojson"].Data, good["fields.geojson"].Data, good["reasons.jsonl"].Data)
	f.Add([]byte(`{"features":[{"id":"a","geometry":{"type":"MultiPolygon","coordinates":[[[[0,0,7],[1,0],[1,1],[0,0]]]]}}]}`),
		[]byte(`{"x":[1],"features":[{"id":"a","properties":{"user_zones":1,"k":{}},"m2":{"field":1e3},"uncovered":null}]}`), []byte(`{"zone_id":"a","field_id":"a"}`))
	f.Fuzz(func(t *testing.T, zones, fields, reasons []byte) {
		files := fstest.MapFS{"zones.geojson": {Data: zones}, "fields.geojson": {Data: fields}, "reasons.jsonl": {Data: reasons}}
		for _, counts := range []string{`{"rootworthy":"run","schema":1,"fields":1,"zones":0}`, `{"rootworthy":"run","schema":1,"fields":1,"zones":1}`} {
			files["run.json"] = &fstest.MapFile{Data: []byte(counts)}
			r, err := run.Read(files)
			if err != nil {
				continue
			}
			again := bytesOf(t, r)
			r, err = run.Read(again)
			if err != nil {
				t.Fatalf("what was read and written cannot be read: %v", err)
			}
			sameFiles(t, bytesOf(t, r), again)
		}
	})
}
