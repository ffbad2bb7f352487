package samplesheet

import (
	"fmt"
	"io"

	"rootworthy/export/marker"
	"rootworthy/suitability/sampling"
)

// Names of the files.
const (
	gpxFile   = "samples.gpx"
	jsonFile  = "samples.geojson"
	bagsFile  = "bags.csv"
	stopsFile = "stops.csv"
	sureFile  = "chances.csv"
	SheetHTML = "sheet.html"
	SheetText = "sheet.txt"
	markFile  = "sample.json"
)

// Files lists the files of a folder in the order in which they are written.
func Files() []string {
	return []string{gpxFile, jsonFile, bagsFile, stopsFile, sureFile, SheetHTML, SheetText, markFile}
}

// Write writes one of [Files].
func Write(w io.Writer, name string, p *sampling.Plan) error {
	switch name {
	case gpxFile:
		return writeGPX(w, p)
	case jsonFile:
		return writeGeoJSON(w, p)
	case bagsFile:
		return writeBags(w, p)
	case stopsFile:
		return writeStops(w, p)
	case sureFile:
		return writeChances(w, p)
	case SheetHTML:
		return writeHTML(w, p)
	case SheetText:
		return writeText(w, p)
	case markFile:
		return writeMark(w, p)
	}
	return fmt.Errorf("there is no file %q in a sampling plan", name)
}

// kind is what [Ours] knows the folder by.
func kind() marker.Kind { return marker.Kind{Word: "sample", What: "a sampling plan"} }

// mark is sample.json.
type mark struct {
	marker.Head
	Seed      uint64   `json:"seed"`
	Bags      int      `json:"bags"`
	Cores     int      `json:"cores"`
	SetBack   float64  `json:"set_back_m"`
	Headland  float64  `json:"headland_m"`
	Judgement []string `json:"judgements"`
}

// writeMark writes what the plan was made with, how much it is, and the judgements it rests on.
func writeMark(w io.Writer, p *sampling.Plan) error {
	m := mark{Head: kind().Head(p.Result.Provenance.Program, p.Result.Provenance.Date), Seed: p.Options.Seed, Bags: len(p.Bags),
		SetBack: float64(p.Options.SetBack), Headland: float64(p.Options.Headland), Judgement: judgements()}
	for _, f := range p.Fields {
		m.Cores += len(f.Stops)
	}
	return marker.Write(w, m)
}

// Ours says whether a marker is one of ours; anything else is somebody's work and is left alone.
func Ours(r io.Reader) error { return kind().Ours(r) }
