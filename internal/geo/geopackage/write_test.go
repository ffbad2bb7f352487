package geopackage

import (
	"bytes"
	"errors"
	"reflect"
	"strings"
	"testing"

	"github.com/paulmach/orb"

	"rootworthy/internal/geo/feature"
)

// The layer is asked for in other capitals than it was written in.
func TestRoundTrip(t *testing.T) {
	db, faults := open(t, made(t, zones(), samples()))
	l, got := readLayer(t, db, "ZONES")
	want := []string{
		`0 1 [[[[-86 38] [-85.984375 38] [-85.984375 38.015625] [-86 38.015625] [-86 38]] [[-85.99609375 38.00390625] [-85.99609375 38.0078125] [-85.9921875 38.0078125] [-85.9921875 38.00390625] [-85.99609375 38.00390625]]] [[[-85.5 38] [-85.484375 38] [-85.484375 38.015625] [-85.5 38.015625] [-85.5 38]]]] zone_id="Été & \"fils\"" cuts=4 ph=6.5 drained=true sown="2024-09-15"`,
		`1 2 [[[[-85.75 38.125] [-85.734375 38.125] [-85.734375 38.140625] [-85.75 38.140625] [-85.75 38.125]]]] zone_id="=cmd" cuts=null ph=null drained=false sown=null`,
		`2 3 [] zone_id="no shape" cuts=null ph=0 drained=null sown=null`,
	}
	if !reflect.DeepEqual(show(got), want) {
		t.Errorf("got\n%s\nwant\n%s", strings.Join(show(got), "\n"), strings.Join(want, "\n"))
	}
	if l.Title != "Zones of the farm" || l.Kind != "MULTIPOLYGON" || l.SRS.Code != "4326" {
		t.Errorf("layer %+v", l)
	}
	if crs, ok, err := l.CRS(); err != nil || !ok || crs.String() != "EPSG:4326" {
		t.Errorf("system %v %v %v", crs, ok, err)
	}
	if said := faults.String(); said != "f.gpkg (feature 3, id \"3\"): it has no geometry; draw it as a polygon, or take its row out\n" {
		t.Errorf("said %s", said)
	}
	if _, err := db.Layer(t.Context(), ""); err == nil || err.Error() != "f.gpkg: holds 2 layers; name one of them: zones, samples" {
		t.Errorf("no layer named: %v", err)
	}
	if _, err := db.Layer(t.Context(), "soil"); err == nil || err.Error() != `f.gpkg: holds no layer "soil"; there are: zones, samples` {
		t.Errorf("unknown layer: %v", err)
	}
}

func TestSameBytes(t *testing.T) {
	if a, b := made(t, zones(), samples()), made(t, zones(), samples()); !bytes.Equal(a, b) {
		t.Error("two runs differ")
	}
}

func TestWhatCannotBeWritten(t *testing.T) {
	with := func(change func(*Content)) []Content {
		l := zones()
		change(&l)
		return []Content{l}
	}
	bad := func(r row) func(*Content) {
		return func(l *Content) { l.Columns, l.Rows = l.Columns[:1], rowsOf([]row{{nil, []any{"a"}}, r}) }
	}
	for name, tc := range map[string]struct {
		layers []Content
		want   string
	}{
		"nothing":       {nil, "a GeoPackage needs at least one layer"},
		"name":          {with(func(l *Content) { l.Name = "a b" }), `layer name "a b": `},
		"reserved name": {with(func(l *Content) { l.Name = "Gpkg_x" }), `layer name "Gpkg_x": `},
		"column":        {with(func(l *Content) { l.Columns = []feature.Column{{Name: "FID"}} }), `layer zones: column name "FID" stands twice`},
		"twice":         {[]Content{zones(), zones()}, "layer zones: its name or title stands twice"},
		"no rows":       {with(func(l *Content) { l.Rows = nil }), "layer zones: needs either polygons or points"},
		"value":         {with(bad(row{nil, []any{7}})), "layer zones: row 2: column zone_id: 7 is no text"},
		"short row":     {with(bad(row{nil, nil})), "layer zones: row 2: 0 values for 1 columns"},
		"ring":          {with(bad(row{orb.MultiPolygon{{{{0, 0}}}}, []any{"a"}})), "layer zones: row 2: a ring has 1 points"},
	} {
		var b bytes.Buffer
		if err := Write(t.Context(), &b, tc.layers, changed()); err == nil || !strings.HasPrefix(err.Error(), tc.want) || b.Len() > 0 {
			t.Errorf("%s: got %v and %d bytes, want %s", name, err, b.Len(), tc.want)
		}
	}
}

type full struct{}

func (full) Write([]byte) (int, error) { return 0, errors.New("disk full") }

func TestWriteErrorsAreReturned(t *testing.T) {
	if err := Write(t.Context(), full{}, []Content{zones()}, changed()); err == nil || err.Error() != "disk full" {
		t.Errorf("got %v", err)
	}
}
