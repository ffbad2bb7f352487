package quillmoor

import (
	"encoding/json"
	"fmt"

	"github.com/paulmach/orb"
	"github.com/paulmach/orb/geo"

	"rootworthy/internal/diag"
	"rootworthy/soils/unit"
	"rootworthy/suitability"
)

// Result returns the invented run, freshly made each time.
func Result() *suitability.Result {
	r := &suitability.Result{Provenance: suitability.Provenance{Program: "rootworthy test", Date: "2026-11-25",
		Inputs:  []suitability.Input{{Role: "fields", Name: "quillmoor.geojson", SHA256: "00ff"}, {Role: "survey", Name: "QM001.zip", SHA256: "11ee"}},
		Surveys: []suitability.SurveyArea{{Symbol: "QM001", Name: "Invented Quillmoor County", Version: "3", Date: "2024-08-30", Scale: unit.Some(24000)}},
		Plane:   "EPSG:5070", Profile: "alfalfa in warm-season sod, edition 1",
		Options: []suitability.Option{{Name: "lime-cap", Value: "2.5 short ton/ac"}, {Name: "target-ph", Value: "6.5"}}}}
	b := builder{r}
	b.field("Q1", "North Paddock, \"home\"", 0, 0, 40, 20, attributes(`"area_ac"`, `12.5`, `"user_area_ac"`, `"kept"`, `"crop"`, `"bermudagrass"`, `"tags"`, `["a", {"b":null}]`))
	b.zone("qa", "QaB", "Quillmoor sandy loam, 2 to 5 percent slopes", suitedUnit(), 1.35036, rect(0, 0, 30, 20))
	b.zone("qw", "QwA", "Rushlade loam, 0 to 1 percent slopes", wetUnit(), -1, rect(30, 0, 40, 20))
	b.field("Q2", "=1+1 Rushy Bottom", 60, 0, 100, 20, nil)
	b.zone("qw", "QwA", "Rushlade loam, 0 to 1 percent slopes", wetUnit(), -1, holed(rect(60, 0, 100, 20), rect(70, 5, 80, 15)))
	b.zone("qa", "QaB", "Quillmoor sandy loam, 2 to 5 percent slopes", suitedUnit(), 1.35036, rect(70, 5, 80, 15))
	b.field("Q3", "Ledge", 0, 40, 30, 60, nil)
	b.zone("ql", "QlD", "Ledgewick clay loam, 8 to 15 percent slopes, rocky", shallowUnit(), -1, rect(0, 40, 10, 60), rect(20, 40, 30, 60))
	b.zone("qb", "QbC", "Bramblehithe loam, wooded", acidUnit(), 1.26324, rect(10, 40, 20, 60))
	b.field("Q4", "Far Side é & ñ", 200, 0, 220, 20, nil)
	b.trouble("outside the survey")
	b.field("Q5", "", 60, 40, 100, 60, nil)
	b.zone("qb", "QbC", "Bramblehithe loam, wooded", acidUnit(), 1.26324, rect(60, 40, 80, 60))
	b.zone("w", "W", "Water", unratedUnit(), -1, rect(80, 40, 88, 60))
	b.outside(rect(88, 40, 100, 60))
	r.Faults = []diag.Fault{
		{File: "quillmoor.geojson", Feature: "Q4", Ground: "Q4", Kind: "outside the survey", What: "the field lies wholly outside the survey", Fix: "add the soil survey of its county with another --survey"},
		{Severity: diag.Notice, File: "quillmoor.geojson", Feature: "Q5", Ground: "Q5", Kind: "partly outside", What: "part of it lies outside the survey and is not rated"},
	}
	return r
}

// builder puts a farm together field by field.
type builder struct{ r *suitability.Result }

// field starts a field: a rectangle in grid steps.
func (b builder) field(id, name string, west, south, east, north int, attributes []suitability.Attribute) {
	shape := rect(west, south, east, north)
	b.r.Fields = append(b.r.Fields, suitability.Field{ID: id, Name: name, Customer: "Quillmoor Farm", Farm: "Home", Attributes: attributes,
		Shape: orb.MultiPolygon{shape}, Area: unit.Area(geo.Area(shape))})
}

// last is the field being built.
func (b builder) last() *suitability.Field { return &b.r.Fields[len(b.r.Fields)-1] }

// trouble makes it a field without an answer.
func (b builder) trouble(what string) {
	f := b.last()
	f.Trouble, f.Uncovered = what, f.Area
	f.Outside = f.Shape
	f.Repairs = []string{"ring closed", "1 point repeated; dropped"}
}

// outside adds ground that the survey does not cover.
func (b builder) outside(parts ...orb.Polygon) {
	f := b.last()
	f.Partly, f.Outside = true, parts
	f.Uncovered = unit.Area(geo.Area(orb.MultiPolygon(parts)))
}

// zone adds a zone to the last field; a negative likely lime means none.
func (b builder) zone(key, symbol, name string, rating suitability.UnitRating, likely float64, parts ...orb.Polygon) {
	f := b.last()
	area := unit.Area(geo.Area(orb.MultiPolygon(parts)))
	lime := noLime(suitability.WhyZoneUnsuited)
	switch {
	case likely >= 0:
		lime = limeOf(likely, area)
	case rating.Class == suitability.NotRated:
		lime = noLime(suitability.WhyZoneNotRated)
	}
	number := len(f.Zones) + 1
	f.Zones = append(f.Zones, len(b.r.Zones))
	b.r.Zones = append(b.r.Zones, suitability.Zone{ID: fmt.Sprintf("%s/%d", f.ID, number), FieldID: f.ID, FieldName: f.Name, Number: number,
		Shape: parts, Area: area, Pieces: len(parts), SurveyArea: "QM001", MapUnitKey: key, Symbol: symbol, MapUnit: name, Rating: rating, Lime: lime})
}

// rect is a rectangle on a grid of 0.0001 degree (about 10 m) at an invented place.
func rect(west, south, east, north int) orb.Polygon {
	at := func(x, y int) orb.Point { return orb.Point{-83.5 + float64(x)*1e-4, 32.1 + float64(y)*1e-4} }
	return orb.Polygon{{at(west, south), at(east, south), at(east, north), at(west, north), at(west, south)}}
}

// holed cuts inner out of outer.
func holed(outer, inner orb.Polygon) orb.Polygon { return orb.Polygon{outer[0], inner[0]} }

// attributes pairs names and values, both as JSON.
func attributes(pairs ...string) []suitability.Attribute {
	var out []suitability.Attribute
	for i := 0; i+1 < len(pairs); i += 2 {
		out = append(out, suitability.Attribute{Name: pairs[i][1 : len(pairs[i])-1], Value: json.RawMessage(pairs[i+1])})
	}
	return out
}
