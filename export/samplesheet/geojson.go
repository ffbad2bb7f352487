package samplesheet

import (
	"encoding/json"
	"fmt"
	"io"

	"github.com/paulmach/orb"

	"rootworthy/suitability/sampling"
)

// feature is one core as a point (RFC 7946).
type feature struct {
	Type     string `json:"type"`
	ID       string `json:"id"`
	Geometry struct {
		Type        string         `json:"type"`
		Coordinates [2]json.Number `json:"coordinates"`
	} `json:"geometry"`
	Properties properties `json:"properties"`
}

// properties are what a map shows of a core. Depths are centimetres, as in all files for programs.
type properties struct {
	Field string   `json:"field_id"`
	Zone  string   `json:"zone_id"`
	Stop  int      `json:"stop"`
	Bags  []string `json:"bags"`
	Deep  float64  `json:"deepest_cm"`
}

// writeGeoJSON writes core by core, so that a plan of ten thousand cores is never held as one text.
func writeGeoJSON(w io.Writer, p *sampling.Plan) error {
	if _, err := io.WriteString(w, `{"type":"FeatureCollection","bbox":`+bbox(p)+`,"features":[`); err != nil {
		return err
	}
	comma := "\n"
	for i := range p.Fields {
		f := &p.Fields[i]
		for _, s := range f.Stops {
			// Numbers of stops begin anew in each field, so the id needs both.
			x := feature{Type: "Feature", ID: fmt.Sprintf("%s:%d", f.Field.ID, s.Number)}
			x.Geometry.Type = "Point"
			// As text of our own making: a float64 would print with as many digits as it has, and another number of them from core to core.
			x.Geometry.Coordinates = [2]json.Number{json.Number(degrees(s.At[0])), json.Number(degrees(s.At[1]))}
			x.Properties = properties{Field: f.Field.ID, Stop: s.Number}
			for _, b := range s.Bags {
				bag := &p.Bags[b]
				x.Properties.Zone = bag.Zone.ID
				x.Properties.Bags = append(x.Properties.Bags, bag.ID)
				x.Properties.Deep = max(x.Properties.Deep, float64(bag.To))
			}
			text, err := json.Marshal(x)
			if err != nil {
				return err
			}
			if _, err := io.WriteString(w, comma+string(text)); err != nil {
				return err
			}
			comma = ",\n"
		}
	}
	_, err := io.WriteString(w, "\n]}\n")
	return err
}

// bbox is the box around all cores (RFC 7946, section 5).
func bbox(p *sampling.Plan) string {
	var at orb.MultiPoint
	for i := range p.Fields {
		for _, s := range p.Fields[i].Stops {
			at = append(at, s.At)
		}
	}
	b := at.Bound()
	return "[" + degrees(b.Min[0]) + "," + degrees(b.Min[1]) + "," + degrees(b.Max[0]) + "," + degrees(b.Max[1]) + "]"
}
