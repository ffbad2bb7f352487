package kml

import (
	"encoding/json"
	"encoding/xml"
	"strconv"
	"strings"

	"rootworthy/internal/geo/feature"
	"rootworthy/internal/geo/xmlscan"
)

// properties are the attributes of one Placemark while it is read.
// The order is that of the file, with the path of the folders last.
type properties struct {
	k     *reader
	list  []feature.Property
	of    map[string]int // place in list by name
	twice []string       // names that stand twice with different values
}

// add takes an attribute; the first of a name counts.
func (p *properties) add(name string, v json.RawMessage) {
	if i, there := p.of[name]; there {
		// The first value stays, and only a difference is told: programs that write name twice, as an element and among the
		// data, write the same.
		if string(p.list[i].Value) != string(v) {
			p.twice = append(p.twice, name)
		}
		return
	}
	p.of[name] = len(p.list)
	p.list = append(p.list, feature.Property{Name: name, Value: v})
}

// extended takes an ExtendedData: Data with a value of no type, SchemaData with values of the types of a Schema.
func (p *properties) extended() error {
	s := p.k.s
	return s.Children(func(e xml.StartElement) error {
		switch e.Name.Local {
		case "Data":
			return p.data(xmlscan.Attr(e, "name"))
		case "SchemaData":
			// A schema that is not there leaves types nil, and all its values texts.
			types := p.k.schemas[strings.TrimPrefix(xmlscan.Attr(e, "schemaUrl"), "#")]
			return s.Children(func(e xml.StartElement) error {
				if e.Name.Local != "SimpleData" {
					return nil
				}
				text, err := s.Text()
				// A value without a name could not be asked for.
				name := xmlscan.Attr(e, "name")
				if name != "" {
					p.add(name, typed(types[name], text))
				}
				return err
			})
		}
		return nil
	})
}

// data takes one Data element; without a value it is null.
func (p *properties) data(name string) error {
	s := p.k.s
	value := feature.JSON(nil)
	err := s.Children(func(e xml.StartElement) error {
		if e.Name.Local != "value" {
			return nil
		}
		text, err := s.Text()
		value = feature.JSON(text)
		return err
	})
	if name != "" {
		p.add(name, value)
	}
	return err
}

// maxFields bounds the fields of all schemas of a file.
const maxFields = 100_000

// schema takes the types of the fields of a Schema.
func (k *reader) schema(e xml.StartElement) error {
	types := map[string]string{}
	if id := xmlscan.Attr(e, "id"); id != "" {
		k.schemas[id] = types
	}
	if name := xmlscan.Attr(e, "name"); name != "" && k.schemas[name] == nil {
		k.schemas[name] = types // some files point to the name
	}
	return k.s.Children(func(e xml.StartElement) error {
		// Fields beyond the bound have no type, and their values stay texts.
		if k.fields++; e.Name.Local == "SimpleField" && k.fields < maxFields {
			types[xmlscan.Attr(e, "name")] = xmlscan.Attr(e, "type")
		}
		return nil
	})
}

// typed returns a value as the type of its field has it; what does not fit stays a text. An empty number is missing.
//
// Source: OGC 07-147r2, clause 9.8, kml:SimpleField.
func typed(kind, text string) json.RawMessage {
	plain := strings.TrimSpace(text)
	switch kind {
	case "int", "uint", "short", "ushort", "float", "double":
		if plain == "" {
			return feature.JSON(nil)
		}
		// Whole numbers first, so that an id in a column of doubles keeps all its digits.
		if v, err := strconv.ParseInt(plain, 10, 64); err == nil {
			return feature.JSON(v)
		}
		if v, err := strconv.ParseFloat(plain, 64); err == nil {
			return feature.JSON(v)
		}
	case "bool":
		switch strings.ToLower(plain) {
		case "1", "true":
			return feature.JSON(true)
		case "0", "false":
			return feature.JSON(false)
		case "":
			return feature.JSON(nil)
		}
	}
	return feature.JSON(text)
}
