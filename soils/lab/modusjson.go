package lab

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"slices"
	"strings"

	"rootworthy/internal/diag"
)

// jsonText is text that files write as a string, a number or null.
type jsonText string

// UnmarshalJSON takes any scalar; objects and arrays give no text.
func (t *jsonText) UnmarshalJSON(b []byte) error {
	var s string
	switch {
	case len(b) == 0 || bytes.Equal(b, []byte("null")) || b[0] == '{' || b[0] == '[':
		*t = ""
	case b[0] == '"':
		if err := json.Unmarshal(b, &s); err != nil {
			return err
		}
		*t = jsonText(strings.TrimSpace(s))
	default:
		*t = jsonText(b)
	}
	return nil
}

// jsonList is a list that files write as an array or as an object, whose keys are then ids.
type jsonList[T any] []jsonEntry[T]

// jsonEntry is one element of a list.
type jsonEntry[T any] struct {
	key   string // empty in an array
	value T
}

// UnmarshalJSON takes either form; an object comes out in the order of its keys.
func (l *jsonList[T]) UnmarshalJSON(b []byte) error {
	// anything but an array or an object is no list and gives none, so that one odd member does not lose the file
	switch b = bytes.TrimSpace(b); {
	case len(b) > 0 && b[0] == '[':
		var list []T
		if err := json.Unmarshal(b, &list); err != nil {
			return err
		}
		for _, v := range list {
			*l = append(*l, jsonEntry[T]{value: v})
		}
	case len(b) > 0 && b[0] == '{':
		var byKey map[string]T
		if err := json.Unmarshal(b, &byKey); err != nil {
			return err
		}
		for k, v := range byKey {
			// in any order; sorted below, so that one file gives one list
			*l = append(*l, jsonEntry[T]{k, v})
		}
		slices.SortFunc(*l, func(a, b jsonEntry[T]) int { return strings.Compare(a.key, b.key) })
	}
	return nil
}

// modusDoc is a document: version 1 with events, or the flat form with samples.
type modusDoc struct {
	ModusResult *modusDoc
	Events      []modusDocEvent

	Date          jsonText                  `json:"date"`
	DateCollected jsonText                  `json:"dateCollected"`
	Lab           flatLab                   `json:"lab"`
	FMIS          flatFMIS                  `json:"FMIS"`
	Depth         flatDepth                 `json:"depth"`
	Samples       jsonList[modusFlatSample] `json:"samples"`
}

// flatLab, flatFMIS and flatDepth are parts of the flat form, in which names begin small.
type flatLab struct {
	Name          jsonText `json:"name"`
	DateReceived  jsonText `json:"dateReceived"`
	DateProcessed jsonText `json:"dateProcessed"`
}

// The field is all that is taken from the farm's own system.
type flatFMIS struct {
	Profile struct{ Field jsonText } `json:"profile"`
}

// Figures come as numbers or as strings, so all are taken as text and read like the cells of a table.
type flatDepth struct {
	Top    jsonText `json:"top"`
	Bottom jsonText `json:"bottom"`
	Units  jsonText `json:"units"`
}

// modusFlatSample is a sample of the flat form; it carries its depth and its place itself.
type modusFlatSample struct {
	ID          jsonText  `json:"id"`
	LabID       jsonText  `json:"labid"`
	Depth       flatDepth `json:"depth"`
	Geolocation struct {
		Lat jsonText `json:"lat"`
		Lon jsonText `json:"lon"`
	} `json:"geolocation"`
	Results jsonList[struct {
		Analyte jsonText `json:"analyte"`
		Value   jsonText `json:"value"`
		Units   jsonText `json:"units"`
		Test    jsonText `json:"modusTestID"`
	}] `json:"results"`
}

// modusDocEvent is an event of version 1: one visit, with what holds for all its samples. Names are those of the XML.
type modusDocEvent struct {
	EventMetaData struct{ EventDate jsonText }
	LabMetaData   struct{ LabName, ReceivedDate, ProcessedDate jsonText }
	FMISMetaData  struct {
		FMISProfile struct{ Field jsonText }
	}
	EventSamples struct {
		Soil struct {
			DepthRefs          jsonList[modusDocLayer]
			RecommendationRefs jsonList[struct{ RecID, Name jsonText }]
			SoilSamples        []modusDocSample
		}
	}
}

// modusDocLayer is a depth that samples refer to by its id.
type modusDocLayer struct{ DepthID, StartingDepth, EndingDepth, DepthUnit jsonText }

// modusDocSample is a bag, with the results of each of its layers and the laboratory's advice.
type modusDocSample struct {
	SampleMetaData struct {
		SampleNumber, FMISSampleID, ReportID jsonText
		Geometry                             struct {
			WKT jsonText `json:"wkt"`
		}
	}
	Depths []struct {
		DepthID         jsonText
		NutrientResults jsonList[modusDocResult]
	}
	NutrientRecommendations jsonList[struct {
		RecID          jsonText
		Recommendation modusDocResult
	}]
}

// modusDocResult is a figure, or a recommendation, which has the same parts.
type modusDocResult struct{ Element, Value, ValueUnit, ModusTestID jsonText }

// mostMembers bounds what a hostile document can make of memory: an element of a list takes up to 300 bytes, and needs a
// comma. A sample with thirty results has some two hundred.
const mostMembers = 1000000

// readModusJSON reads Modus results written as JSON: version 1, the same as in XML, or the flat form.
func readModusJSON(name string, b []byte, m *Mapping, faults *diag.List) (Results, error) {
	if n := bytes.Count(b, []byte(",")); n > mostMembers {
		return Results{}, fmt.Errorf("%s: the file has over %d members, more than a laboratory's largest; split it", name, mostMembers)
	}
	var docs []modusDoc
	var err error
	// some files hold a list of documents
	if b[0] == '[' {
		err = decodeJSON(b, &docs)
	} else {
		docs = make([]modusDoc, 1)
		err = decodeJSON(b, &docs[0])
	}
	if err != nil {
		return Results{}, fmt.Errorf("%s: not readable as Modus results: %w", name, placed(b, err))
	}
	r := newModusReader(name, m, faults)
	for _, d := range docs {
		// some wrap the document once more
		if d.ModusResult != nil {
			d = *d.ModusResult
		}
		for i := range d.Events {
			r.jsonEvent(&d.Events[i])
		}
		r.flat(&d)
	}
	return r.results("Modus results, JSON")
}

// decodeJSON decodes one value and nothing behind it.
func decodeJSON(b []byte, to any) error {
	d := json.NewDecoder(bytes.NewReader(b))
	if err := d.Decode(to); err != nil {
		return err
	}
	// two documents one after the other would be read as the first alone
	if _, err := d.Token(); !errors.Is(err, io.EOF) {
		return errors.New("text follows the document")
	}
	return nil
}

// placed adds the line to an error of the decoder.
func placed(b []byte, err error) error {
	if errors.Is(err, io.ErrUnexpectedEOF) || errors.Is(err, io.EOF) {
		return fmt.Errorf("line %d: the document breaks off; ask the laboratory for it again", 1+bytes.Count(b, []byte("\n")))
	}
	var syntax *json.SyntaxError
	if errors.As(err, &syntax) {
		// the decoder counts bytes, people count lines
		n := min(max(syntax.Offset, 0), int64(len(b)))
		return fmt.Errorf("line %d: %w", 1+bytes.Count(b[:n], []byte("\n")), err)
	}
	return err
}

// jsonEvent reads an event: what holds for all first, since samples refer to it.
func (r *modusReader) jsonEvent(e *modusDocEvent) {
	lab := e.LabMetaData
	r.event = modusEvent{lab: string(lab.LabName), field: string(e.FMISMetaData.FMISProfile.Field), date: string(e.EventMetaData.EventDate),
		received: string(lab.ReceivedDate), day: string(lab.ProcessedDate)}
	// ids hold within their event only
	r.layers, r.crops = map[string]modusLayer{}, map[string]string{}
	soil := e.EventSamples.Soil
	for _, l := range soil.DepthRefs {
		v := l.value
		r.layers[idOf(v.DepthID, l.key)] = modusLayer{string(v.StartingDepth), string(v.EndingDepth), string(v.DepthUnit)}
	}
	for _, c := range soil.RecommendationRefs {
		r.crops[idOf(c.value.RecID, c.key)] = string(c.value.Name)
	}
	for i := range soil.SoilSamples {
		r.jsonSample(&soil.SoilSamples[i])
	}
}

// idOf is the id that an element gives itself or, where the list is an object, its key there.
func idOf(id jsonText, key string) string {
	if id != "" {
		return string(id)
	}
	return key
}

// jsonSample makes a sample of each layer of a bag, and puts the advice with the first of them.
func (r *modusReader) jsonSample(s *modusDocSample) {
	meta := s.SampleMetaData
	r.bag = modusBag{id: idOf(meta.FMISSampleID, string(meta.SampleNumber)), labNumber: string(meta.ReportID), wkt: string(meta.Geometry.WKT), first: len(r.samples)}
	for _, d := range s.Depths {
		var list []modusResult
		for _, n := range d.NutrientResults {
			list = append(list, n.value.result(n.key))
		}
		r.layer(string(d.DepthID), 0, list)
	}
	for _, n := range s.NutrientRecommendations {
		r.advise(n.value.Recommendation.result(""), r.crops[string(n.value.RecID)])
	}
}

// result is the figure as both notations hand it on.
func (v modusDocResult) result(key string) modusResult {
	return modusResult{element: idOf(v.Element, key), value: string(v.Value), unit: string(v.ValueUnit), test: string(v.ModusTestID)}
}

// flat reads the flat form, in which a sample carries its own depth.
func (r *modusReader) flat(d *modusDoc) {
	r.event = modusEvent{lab: string(d.Lab.Name), field: string(d.FMIS.Profile.Field), date: idOf(d.DateCollected, string(d.Date)),
		received: string(d.Lab.DateReceived), day: string(d.Lab.DateProcessed)}
	for _, e := range d.Samples {
		s := e.value
		r.bag = modusBag{id: idOf(s.ID, e.key), labNumber: string(s.LabID), lon: string(s.Geolocation.Lon), lat: string(s.Geolocation.Lat), first: len(r.samples)}
		depth := s.Depth
		// a sample without a depth has that of the document
		if depth.Bottom == "" {
			depth = d.Depth
		}
		// under the empty id, by which the one layer of the sample is asked for
		r.layers = map[string]modusLayer{"": {string(depth.Top), string(depth.Bottom), string(depth.Units)}}
		var list []modusResult
		for _, n := range s.Results {
			list = append(list, modusResult{element: string(n.value.Analyte), value: string(n.value.Value), unit: string(n.value.Units), test: string(n.value.Test)})
		}
		r.layer("", 0, list)
	}
}
