package kml

import (
	"bytes"
	"fmt"
	"image/color"
	"strings"
	"testing"

	"github.com/paulmach/orb"

	"rootworthy/internal/diag"
	"rootworthy/internal/geo/feature"
)

func read(text string) ([]feature.Feature, *diag.List, error) {
	faults := &diag.List{}
	var out []feature.Feature
	err := Scan("f.kml", strings.NewReader(text), faults, func(f feature.Feature) error { out = append(out, f); return nil })
	return out, faults, err
}

// show prints features for comparison.
func show(fs []feature.Feature) (out []string) {
	for _, f := range fs {
		s := fmt.Sprintf("%d:%d %v", f.Index, f.Line, f.Geometry)
		if f.Reason != "" {
			s += " " + f.Reason
		}
		for _, p := range f.Properties {
			s += " " + p.Name + "=" + string(p.Value)
		}
		out = append(out, s)
	}
	return out
}

func square(x, y, size float64) orb.Ring {
	return orb.Ring{{x, y}, {x + size, y}, {x + size, y + size}, {x, y + size}, {x, y}}
}

func reversed(r orb.Ring) orb.Ring {
	r = r.Clone()
	r.Reverse()
	return r
}

// zones is a document with a layer of polygons, of every type of column, missing values, a hole, two parts, and one
// without a shape; and a layer of points.
func zones() Document {
	return Document{
		Name: "Zones & <more>", About: "as rated",
		Styles: []Style{
			{ID: "suited", Fill: color.NRGBA{0x2c, 0x7f, 0xb8, 0xcc}, Line: color.NRGBA{0x10, 0x20, 0x30, 0xff}, Width: 2},
			{ID: "unsuited", Fill: color.NRGBA{0x7a, 0x0f, 0x1e, 0xcc}, Line: color.NRGBA{A: 0xff}},
		},
		Layers: []Layer{
			{
				Name:    "zones",
				Columns: []feature.Column{{Name: "zone_id", Title: "Zone"}, {Name: "cuts", Type: feature.Integer}, {Name: "ph", Type: feature.Real}, {Name: "drained", Type: feature.Bool}, {Name: "sown", Type: feature.Date}},
				Rows: func(yield func(orb.MultiPolygon, []any) bool) {
					_ = yield(orb.MultiPolygon{{square(-86, 38, 1./64), reversed(square(-86+1./256, 38+1./256, 1./256))}, {square(-85.5, 38, 1./64)}}, []any{"Été & \"fils\"", 4, 6.5, true, "2024-09-15"}) &&
						yield(orb.MultiPolygon{{square(-85.75, 38.125, 1./64)}}, []any{"=cmd", nil, nil, false, nil}) &&
						yield(nil, []any{"no shape", nil, 0.0, nil, nil})
				},
				Label: func(v []any) string { return fmt.Sprint("Z ", v[0]) },
				Style: func(v []any) string {
					if v[3] == true {
						return "suited"
					}
					return "unsuited"
				},
				About: func(v []any) string { return "lime: 1.5 <short tons> & more" },
			},
			{
				Name:    "samples",
				Columns: []feature.Column{{Name: "ph", Type: feature.Real}},
				Points:  func(yield func(orb.Point, []any) bool) { yield(orb.Point{-86, 38}, []any{5.5}) },
				Label:   func([]any) string { return "S1" },
			},
		},
	}
}

func made(t testing.TB, d Document) string {
	t.Helper()
	var b bytes.Buffer
	if err := Write(&b, d); err != nil {
		t.Fatal(err)
	}
	return b.String()
}
