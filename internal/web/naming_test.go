package web

import (
	"context"
	"fmt"
	"slices"
	"strings"
	"testing"

	"rootworthy/internal/diag"
	"rootworthy/internal/field"
	"rootworthy/internal/job"
	"rootworthy/suitability"
)

// named are boundaries with a property for each field, beside the one that all have.
func named(tracts ...string) string {
	var out []string
	for i, x := range tracts {
		at := -78.19 + 0.005*float64(i)
		out = append(out, fmt.Sprintf(`{"type":"Feature","properties":{"Tract":%s,"who":"R. Alder"},"geometry":{"type":"Polygon","coordinates":[[[%[2]f,32.6],[%[3]f,32.6],[%[3]f,32.61],[%[2]f,32.61],[%[2]f,32.6]]]}}`, x, at, at+0.004))
	}
	return `{"type":"FeatureCollection","features":[` + strings.Join(out, ",") + `]}`
}

// The page is offered the properties of a file, and its fields are named by what it chose: with the ids and the faults, word for word, of the reader
// that the command line has.
func TestFieldsAreNamedByChoice(t *testing.T) {
	for name, tc := range map[string]struct {
		started field.Options // the flags of the program
		file    string
		more    string // chosen on the page
		naming  Naming
		ids     string
		faults  int
	}{
		"nothing said":        {file: named(`"12"`, `"13"`), ids: "1 2"},
		"by flags":            {started: field.Options{ID: "Tract", Customer: "who"}, file: named(`"12"`, `"13"`), naming: Naming{ID: "Tract", Customer: "who"}, ids: "12 13"},
		"flag, not there":     {started: field.Options{ID: "parcel"}, file: named(`"12"`, `"13"`), naming: Naming{ID: "parcel"}, ids: "1 2", faults: 1},
		"chosen":              {file: named(`12.0`, `13`), more: "&id=Tract&customer=who&farm=", naming: Naming{ID: "Tract", Customer: "who"}, ids: "12 13"},
		"chosen against flag": {started: field.Options{ID: "parcel", Farm: "none"}, file: named(`"12"`), more: "&id=&customer=&farm=", ids: "1"},
		"twice":               {file: named(`"12"`, `"12"`), more: "&id=Tract", naming: Naming{ID: "Tract"}, ids: "12 12 (2)", faults: 1},
		"missing":             {file: named(`"12"`, `null`), more: "&id=Tract", naming: Naming{ID: "Tract"}, ids: "12 2", faults: 1},
	} {
		sc := screening(t, nil)
		sc.Bounds = tc.started
		s := serve(t, sc)
		_, back := s.upload(map[string]string{"north.geojson": tc.file}, tc.more)
		var ids, got, want []string
		for _, f := range back.Fields {
			ids = append(ids, f.ID)
		}
		if back.Naming == nil || back.Naming.Naming != tc.naming || strings.Join(ids, " ") != tc.ids {
			t.Errorf("%s: %v, named %+v", name, ids, back.Naming)
			continue
		}
		var faults diag.List
		files := inMemory{"north.geojson": []byte(tc.file)}
		n := tc.naming
		if _, err := field.Read(context.Background(), []field.Source{{Name: "north.geojson", Files: files, Path: "north.geojson"}}, field.Options{ID: n.ID, Customer: n.Customer, Farm: n.Farm}, &faults); err != nil {
			t.Fatal(err)
		}
		for _, f := range faults.Kept() {
			want = append(want, f.String())
		}
		for _, f := range back.Faults {
			got = append(got, f.Text)
		}
		if !slices.Equal(got, want) || faults.Faults() != tc.faults {
			t.Errorf("%s: faults %q, want the %d of %q", name, got, tc.faults, want)
		}
		if p := back.Naming.Properties; len(p) != 2 || p[0].Name != "Tract" || !strings.HasPrefix(p[0].Label, "Tract: 12") || (p[0].Note == "") != (tc.faults == 0 || name == "flag, not there") {
			t.Errorf("%s: offered %+v", name, p)
		}
	}
}

// Where the program names no property, those of the run on the page hold, if the file has them: so a boundary that comes back from another program
// finds its field. The order says by what its fields were named, for the record.
func TestFieldsAreNamedAsInTheRun(t *testing.T) {
	orders := make(chan Order, 9)
	sc := screening(t, nil)
	screen := sc.Screen
	sc.Screen = func(ctx context.Context, o Order, p job.Progress, f *diag.List) (*suitability.Result, error) {
		orders <- o
		return screen(ctx, o, p, f)
	}
	s := serve(t, sc)
	b := s.server.shelf.get(1)
	l, err := s.server.shelf.open(b)
	if err != nil {
		t.Fatal(err)
	}
	b.Head.Provenance.Options = []suitability.Option{{Name: "customer", Value: "owner"}, {Name: "farm", Value: "farm"}, {Name: "id", Value: "tract"}}
	l.result.Provenance.Options = b.Head.Provenance.Options
	_, back := s.upload(map[string]string{"north.geojson": named(`"F1"`, `"F2"`)})
	if n := back.Naming; n.Naming != (Naming{ID: "tract"}) || len(back.Faults) != 0 || back.Fields[0].ID != "F1" {
		t.Errorf("%+v", back)
	}
	o, _ := asked(t, s, orders, fmt.Sprintf(`{"upload":%d,"run":0,"with":1}`, back.Upload))
	if o.Naming == nil || *o.Naming != (Naming{ID: "tract"}) {
		t.Errorf("alone: %+v", o.Naming)
	}
	o, p := asked(t, s, orders, fmt.Sprintf(`{"upload":%d,"run":1,"with":1}`, back.Upload))
	if o.Naming == nil || *o.Naming != (Naming{"tract", "owner", "farm"}) || len(o.Fields) != 7 {
		t.Errorf("among the fields: %+v, %d fields", o.Naming, len(o.Fields))
	}
	_, drawn := s.upload(map[string]string{"drawn.geojson": fmt.Sprintf(square, "F1")}, "&drawn=1")
	if o, _ = asked(t, s, orders, fmt.Sprintf(`{"upload":%d,"run":%d}`, drawn.Upload, p.Run)); *o.Naming != (Naming{"tract", "owner", "farm"}) {
		t.Errorf("corrected in turn: %+v", o.Naming)
	}
	if o, _ = asked(t, s, orders, fmt.Sprintf(`{"upload":%d,"run":0}`, drawn.Upload)); o.Naming != nil {
		t.Errorf("drawn alone: %+v", o.Naming)
	}
}
