package samplesheet

import (
	"encoding/xml"
	"io"
	"strconv"

	"rootworthy/export/words"
	"rootworthy/suitability/sampling"
)

// The elements of GPX that we write, in the order that its schema asks for.
// Source: GPX 1.1 schema, http://www.topografix.com/GPX/1/1 (element order and the required attributes from memory, not checked).
type (
	gpxRoot struct {
		XMLName  xml.Name   `xml:"http://www.topografix.com/GPX/1/1 gpx"`
		Version  string     `xml:"version,attr"`
		Creator  string     `xml:"creator,attr"`
		Metadata gpxName    `xml:"metadata"`
		Points   []gpxPoint `xml:"wpt"`
		Routes   []gpxRoute `xml:"rte"`
	}
	gpxName struct {
		Name string `xml:"name"`
	}
	gpxPoint struct {
		Lat  string `xml:"lat,attr"`
		Lon  string `xml:"lon,attr"`
		Name string `xml:"name"`
		Desc string `xml:"desc,omitempty"`
	}
	gpxRoute struct {
		Name   string     `xml:"name"`
		Points []gpxPoint `xml:"rtept"`
	}
)

// mostName is how many letters of a name every receiver shows; longer ones are cut, the number of the stop kept.
const mostName = 40

// writeGPX writes every core twice: as a waypoint, which telephones show, and as a point of the field's route, which receivers lead along.
func writeGPX(w io.Writer, p *sampling.Plan) error {
	root := gpxRoot{Version: "1.1", Creator: "rootworthy", Metadata: gpxName{title}}
	for i := range p.Fields {
		f := &p.Fields[i]
		route := gpxRoute{Name: words.Shown(fieldName(f.Field), mostName)}
		for _, s := range f.Stops {
			x := gpxPoint{degrees(s.At[1]), degrees(s.At[0]), stopName(f.Field.ID, i, s.Number), fills(p, s)}
			root.Points = append(root.Points, x)
			// What is filled is told once, at the waypoint.
			x.Desc = ""
			route.Points = append(route.Points, x)
		}
		root.Routes = append(root.Routes, route)
	}
	if _, err := io.WriteString(w, xml.Header); err != nil {
		return err
	}
	enc := xml.NewEncoder(w)
	enc.Indent("", " ")
	if err := enc.Encode(root); err != nil {
		return err
	}
	_, err := io.WriteString(w, "\n")
	return err
}

// degrees prints seven decimals, about a centimetre.
func degrees(x float64) string { return strconv.FormatFloat(x, 'f', 7, 64) }

// stopName is what a receiver shows of a stop. A long id is cut; the place of its field in the plan keeps it apart from others.
func stopName(field string, place, number int) string {
	// Twelve letters are kept for the place in brackets and the number.
	short := words.Shown(field, mostName-12)
	if short != field {
		short += " (" + strconv.Itoa(place+1) + ")"
	}
	return short + " " + strconv.Itoa(number)
}
