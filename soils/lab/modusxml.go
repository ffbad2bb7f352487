package lab

import (
	"bytes"
	"encoding/xml"
	"errors"
	"fmt"
	"io"
	"strings"

	"golang.org/x/text/encoding/charmap"

	"rootworthy/internal/diag"
)

// modusDepth is how deep elements may lie within each other; Modus needs a dozen.
const modusDepth = 64

// modusXML walks a Modus document element by element, so that every figure knows its line. ref, layer and recID hold what belongs to the
// element at hand until it ends; inBag tells a result of a sample from a list of what there may be.
type modusXML struct {
	*modusReader
	d       *xml.Decoder
	path    []string
	text    strings.Builder
	inBag   bool
	depthID string
	line    int
	results []modusResult
	result  modusResult
	ref     struct{ id, name string }
	layer   modusLayer
	recID   string
	count   string        // the laboratory's number of the bag at hand
	advice  []modusAdvice // of the bag at hand, until it ends
}

// modusAdvice is a recommendation that waits for the layers of its bag, which may stand behind it.
type modusAdvice struct {
	modusResult
	recID string
}

// readModusXML reads Modus results, version 1.
func readModusXML(name string, b []byte, m *Mapping, faults *diag.List) (Results, error) {
	x := &modusXML{modusReader: newModusReader(name, m, faults), d: xml.NewDecoder(bytes.NewReader(b))}
	// Windows-1252 for all of them: it has the letters of ISO 8859-1 and those that files under that name really hold.
	x.d.CharsetReader = func(label string, in io.Reader) (io.Reader, error) {
		switch strings.ToLower(label) {
		case "windows-1252", "iso-8859-1", "latin1", "us-ascii":
			return charmap.Windows1252.NewDecoder().Reader(in), nil
		}
		return nil, fmt.Errorf("its encoding %q is not known; save it as UTF-8", label)
	}
	if err := x.walk(); err != nil {
		line, _ := x.d.InputPos()
		x.adviseAll() // of a bag that breaks off
		// Nothing was read, so there is nothing to keep; else what stands above the break is worth having.
		if len(x.samples) == 0 {
			return Results{}, fmt.Errorf("%s:%d: %w", name, line, err)
		}
		faults.Add(diag.Fault{File: name, Line: line, Kind: "broken file", What: "the file breaks off: " + err.Error(), Fix: "ask the laboratory for it again; what stands above was read"})
	}
	return x.modusReader.results("Modus results, XML")
}

// walk follows the elements; text is that of the innermost.
func (x *modusXML) walk() error {
	for {
		t, err := x.d.Token()
		if errors.Is(err, io.EOF) {
			return nil
		}
		if err != nil {
			return err
		}
		switch t := t.(type) {
		case xml.StartElement:
			// By the first element, so that a boundary file or a web page is called by its name.
			if len(x.path) == 0 && t.Name.Local != "ModusResult" {
				return fmt.Errorf("this XML holds <%s>, not <ModusResult>: it is not a file of Modus results", t.Name.Local)
			}
			if len(x.path) >= modusDepth {
				return fmt.Errorf("its elements nest over %d deep", modusDepth)
			}
			x.path = append(x.path, t.Name.Local)
			x.text.Reset()
			x.start(t)
		case xml.CharData:
			x.text.Write(t)
		case xml.EndElement:
			x.path = x.path[:len(x.path)-1]
			parent := ""
			if len(x.path) > 0 {
				parent = x.path[len(x.path)-1]
			}
			x.leaf(parent, t.Name.Local, strings.TrimSpace(x.text.String()))
			x.text.Reset()
			x.end(t.Name.Local)
		}
	}
}

// start makes ready for what an element holds. An event begins anew: ids of the last one do not hold in it.
func (x *modusXML) start(e xml.StartElement) {
	line, _ := x.d.InputPos()
	switch e.Name.Local {
	case "Event":
		x.event, x.layers, x.crops = modusEvent{}, map[string]modusLayer{}, map[string]string{}
	case "SoilSample":
		x.inBag, x.bag, x.count = true, modusBag{line: line, first: len(x.samples)}, ""
	case "Field":
		x.event.field = xmlAttr(e, "ID")
	case "DepthRef":
		x.ref.id, x.layer = xmlAttr(e, "DepthID"), modusLayer{}
	case "Depth":
		x.depthID, x.line, x.results = xmlAttr(e, "DepthID"), line, nil
	case "NutrientResult":
		x.result = modusResult{line: line}
	// RecID here names the crop, by the event's list of recommendations
	case "NutrientRecommendation":
		x.recID = xmlAttr(e, "RecID")
	case "Recommendation":
		// in that list the element has an id and a name, in a bag a figure
		x.ref.id, x.ref.name = xmlAttr(e, "RecID"), ""
		x.result = modusResult{line: line}
	}
}

// xmlAttr returns an attribute by its name alone; files use several namespaces.
func xmlAttr(e xml.StartElement, name string) string {
	for _, a := range e.Attr {
		if a.Name.Local == name {
			return strings.TrimSpace(a.Value)
		}
	}
	return ""
}

// leaf takes the text of an element that holds text only.
func (x *modusXML) leaf(parent, name, text string) {
	// an empty element leaves what an earlier one of the name gave
	if to := x.target(parent, name); to != nil && text != "" {
		*to = text
	}
}

// target says where the text of an element goes; nil when it is not needed.
func (x *modusXML) target(parent, name string) *string {
	switch parent + "/" + name {
	case "EventMetaData/EventDate":
		return &x.event.date
	case "LabMetaData/LabName":
		return &x.event.lab
	case "LabMetaData/ReceivedDate":
		return &x.event.received
	case "LabMetaData/ProcessedDate":
		return &x.event.day
	case "FMISProfile/Field":
		return &x.event.field
	case "DepthRef/StartingDepth":
		return &x.layer.top
	case "DepthRef/EndingDepth":
		return &x.layer.bottom
	case "DepthRef/DepthUnit":
		return &x.layer.unit
	case "SampleMetaData/SampleNumber":
		return &x.count
	case "SampleMetaData/FMISSampleID":
		return &x.bag.id
	case "SampleMetaData/ReportID":
		return &x.bag.labNumber
	case "Geometry/wkt":
		return &x.bag.wkt
	case "Recommendation/Name":
		return &x.ref.name
	}
	if parent != "NutrientResult" && parent != "Recommendation" {
		return nil
	}
	switch name {
	case "Element":
		return &x.result.element
	case "Value":
		return &x.result.value
	case "ValueUnit":
		return &x.result.unit
	case "ModusTestID":
		return &x.result.test
	}
	return nil
}

// end hands on what an element held. Outside a bag a recommendation only names the crop of an id.
func (x *modusXML) end(name string) {
	switch name {
	case "DepthRef":
		x.layers[x.ref.id] = x.layer
	case "SampleMetaData":
		// the id of who sent the bag goes before the laboratory's count of it, whichever stands first
		if x.bag.id == "" {
			x.bag.id = x.count
		}
	case "NutrientResult":
		if x.inBag {
			x.results = append(x.results, x.result)
		}
	case "Depth":
		if x.inBag {
			x.modusReader.layer(x.depthID, x.line, x.results)
		}
	case "Recommendation":
		if x.inBag {
			x.advice = append(x.advice, modusAdvice{x.result, x.recID})
		} else {
			x.crops[x.ref.id] = x.ref.name
		}
	case "SoilSample":
		x.adviseAll()
		x.inBag = false
	}
}

// adviseAll hands on the advice of the bag, once its layers are known.
func (x *modusXML) adviseAll() {
	for _, a := range x.advice {
		x.advise(a.modusResult, x.crops[a.recID])
	}
	x.advice = nil
}
