package web

import (
	"context"
	"net/url"
	"strconv"
	"strings"

	"rootworthy/internal/diag"
	"rootworthy/internal/field"
	"rootworthy/suitability"
)

// Naming says which properties of a file of boundaries hold the id of a field, its owner and its farm, as --id, --customer and --farm do;
// "" leaves the id to the rule of field.Read, and owner or farm empty.
type Naming struct {
	ID       string `json:"id"`
	Customer string `json:"customer"`
	Farm     string `json:"farm"`
}

// readNaming is what a page offers to choose from.
type readNaming struct {
	Naming                // what holds
	Properties []property `json:"properties"`
}

// property is one of the file's, in words.
type property struct {
	Name  string `json:"name"`
	Label string `json:"label"` // with what stands in it
	Note  string `json:"note"`  // what speaks against it as an id; "" where it can be one: every field has it, each another one
}

// mostProperties is how many properties are offered. Survey exports have some hundred columns; nobody looks for an id in more.
const mostProperties = 200

// readBounds reads every file that may hold boundaries.
//
// What was drawn on the page has its id from there and no owner (drawn=1). A file is read by the properties that the page chose; until it chose,
// by those of the program's command line, as screen would read it; and where that names none, by those of the run on the page, if the
// file has them: a boundary that comes back from another program must find its field again.
func (s *Server) readBounds(ctx context.Context, b *readBack, u *upload, names []string, files inMemory, q url.Values, faults *diag.List) {
	var sources []field.Source
	for _, n := range names {
		sources = append(sources, field.Source{Name: n, Files: files, Path: n})
		u.inputs = append(u.inputs, suitability.Input{Role: roleFields, Name: n, SHA256: files.digest(n)})
	}
	u.name = names[0]
	var opt field.Options
	if s.screener != nil {
		opt = s.screener.Bounds
	}
	naming, chosen := s.naming(q)
	// The script writes the id of the field that is corrected into what it sends; a property named by a flag is not in it, and would be a fault.
	if q.Has("drawn") {
		naming, chosen = Naming{}, true
	}
	read := func(n Naming, faults *diag.List) ([]field.Field, error) {
		opt.ID, opt.Customer, opt.Farm = n.ID, n.Customer, n.Farm
		return field.Read(ctx, sources, opt, faults)
	}
	if by := s.namingOfRun(q.Get("run")); !chosen && by != (Naming{}) {
		// Read for its properties first. What is wrong with it is told by the second reading.
		if fields, err := read(naming, &diag.List{}); err == nil {
			naming = naming.filled(by, field.Properties(fields))
		}
	}
	fields, err := read(naming, faults)
	if err != nil {
		b.Error = wordsOf(err)
		return
	}
	u.fields = fields
	b.describe(fields)
	if !q.Has("drawn") {
		u.naming = &naming
		b.Naming = &readNaming{naming, offered(field.Properties(fields), len(fields))}
	}
}

// naming is what a request chose, or how the program was started.
func (s *Server) naming(q url.Values) (n Naming, chosen bool) {
	if s.screener != nil {
		n = Naming{s.screener.Bounds.ID, s.screener.Bounds.Customer, s.screener.Bounds.Farm}
	}
	for name, to := range map[string]*string{"id": &n.ID, "customer": &n.Customer, "farm": &n.Farm} {
		if q.Has(name) { // also an empty one: the user chose none, whatever the flag says
			*to, chosen = q.Get(name), true
		}
	}
	return n, chosen
}

// filled takes what is left empty from another naming, as far as there are such properties.
func (n Naming) filled(by Naming, properties []field.Property) Naming {
	for _, x := range []struct {
		to   *string
		from string
	}{{&n.ID, by.ID}, {&n.Customer, by.Customer}, {&n.Farm, by.Farm}} {
		for _, p := range properties {
			if *x.to == "" && strings.EqualFold(p.Name, x.from) {
				*x.to = x.from
			}
		}
	}
	return n
}

// book is a run by its number as a page writes it; nil where there is none.
func (s *Server) book(run string) *book {
	n, err := strconv.Atoi(run)
	if err != nil {
		return nil
	}
	return s.shelf.get(n)
}

// namingOfRun is how the fields of a run on the shelf were named; nothing where there is no such run.
func (s *Server) namingOfRun(run string) (n Naming) {
	b := s.book(run)
	switch {
	case b == nil || b.Err != nil:
	case b.order != nil && b.order.Naming != nil:
		n = *b.order.Naming
	default:
		n = *namingOf(&b.Head.Provenance)
	}
	return n
}

// namingOf is the naming in the record of a run.
func namingOf(p *suitability.Provenance) *Naming {
	return &Naming{ID: p.Option("id"), Customer: p.Option("customer"), Farm: p.Option("farm")}
}

// offered puts properties into words.
func offered(list []field.Property, fields int) []property {
	out := []property{}
	for _, p := range list[:min(len(list), mostProperties)] {
		x := property{Name: p.Name, Label: p.Name + ": " + strings.Join(p.Examples, ", ")}
		switch {
		case p.Has < fields:
			x.Note = "not all fields have it"
		case p.Alike:
			x.Note = "some alike"
		}
		out = append(out, x)
	}
	return out
}
