package lime

import (
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"strconv"
	"strings"

	"rootworthy/internal/diag"
	"rootworthy/soils/unit"
)

// mostOffers is the longest list of offers, in bytes.
const mostOffers = 1 << 20

// ReadOffers reads a list of limes and what they cost, delivered and spread, from CSV. The columns may stand in any order:
//
//	name,price,ecce,cce,scheme,mesh_20,mesh_60,mesh_100,moisture,dolomitic
//	River quarry,42,63,,,,,,8,no
//	Hill quarry,55,,94,new-york,100,80,60,,yes
//
// A line gives the ECCE of the dry material (or what the state prints in its place), or the CCE with one of [Schemes] and what
// falls through its sieves, cumulative percent; never both, for then the fineness would count twice. Lines with faults are
// told and left out. The error says that the file could not be read.
func ReadOffers(name string, r io.Reader, faults *diag.List) ([]Offer, error) {
	limited := &io.LimitedReader{R: r, N: mostOffers + 1}
	c := csv.NewReader(limited)
	c.FieldsPerRecord, c.TrimLeadingSpace = -1, true
	var header []string
	var out []Offer
	for {
		row, err := c.Read()
		switch {
		case limited.N == 0:
			return nil, fmt.Errorf("%s: over 1 MiB; this is no list of limes", name)
		case errors.Is(err, io.EOF):
			if header == nil {
				faults.Add(diag.Fault{File: name, Line: 1, Kind: "no header", What: "the file is empty", Fix: "begin with name,price,ecce,moisture,dolomitic"})
			}
			return out, nil
		}
		var broken *csv.ParseError
		if errors.As(err, &broken) {
			faults.Add(diag.Fault{File: name, Line: broken.Line, Kind: "not CSV", What: broken.Err.Error(), Fix: "mend this line; it was left out"})
			continue
		} else if err != nil {
			return nil, fmt.Errorf("%s: %w", name, err)
		}
		line, _ := c.FieldPos(0)
		l := offerLine{name: name, line: line, faults: faults}
		if header == nil {
			header = l.header(row)
			continue
		}
		if o, ok := l.offer(header, row); ok {
			out = append(out, o)
		}
	}
}

// offerLine is one line of the list, and where to tell its faults.
type offerLine struct {
	name   string
	line   int
	faults *diag.List
	bad    bool
	cells  map[string]string
}

func (l *offerLine) fault(field, what, fix string) {
	l.bad = true
	l.faults.Add(diag.Fault{File: l.name, Line: l.line, Field: field, Kind: "bad offer", What: what, Fix: fix})
}

func (l *offerLine) header(row []string) []string {
	out := make([]string, len(row))
	for i, h := range row {
		h = strings.ToLower(strings.TrimSpace(strings.TrimPrefix(h, "\ufeff")))
		mesh, isMesh := strings.CutPrefix(h, "mesh_")
		n, err := strconv.Atoi(mesh)
		switch {
		case isMesh && err == nil && n > 0 && n <= 400:
		case h == "name" || h == "price" || h == "ecce" || h == "cce" || h == "scheme" || h == "moisture" || h == "dolomitic":
		default:
			l.fault(h, "this column means nothing here and is left out", "columns are name, price, ecce or cce with scheme and mesh_20 …, moisture, dolomitic")
		}
		out[i] = h
	}
	return out
}

func (l *offerLine) offer(header, row []string) (o Offer, ok bool) {
	l.cells = map[string]string{}
	for i, v := range row {
		if i < len(header) {
			l.cells[header[i]] = strings.TrimSpace(v)
		}
	}
	if o.Name = l.cells["name"]; o.Name == "" {
		l.fault("name", "the lime has no name", "give one")
	}
	price, given := l.figure("price")
	if !given || !(price > 0 && price < 1e6) {
		l.fault("price", "there is no price over 0", "give the price of a ton delivered and spread")
	}
	moisture, _ := l.figure("moisture")
	o.Price, o.Product = price, Product{ECCE: l.ecce(header), Moisture: unit.Percent(moisture)}
	switch d := strings.ToLower(l.cells["dolomitic"]); d {
	case "yes", "no", "":
		o.Dolomite = d == "yes"
	default:
		l.fault("dolomitic", fmt.Sprintf("%q is neither yes nor no", d), "write yes or no")
	}
	if err := o.Product.Check(); err != nil && !l.bad {
		l.fault("ecce", err.Error(), "take the figures from the label")
	}
	return o, !l.bad
}

// ecce returns the effective calcium carbonate equivalent of the line, as given or by a state's scheme.
func (l *offerLine) ecce(header []string) unit.Percent {
	e, hasE := l.figure("ecce")
	cce, hasCCE := l.figure("cce")
	switch {
	case hasE && hasCCE:
		l.fault("cce", "both ECCE and CCE are given; the fineness would count twice", "give the ECCE alone, or the CCE with scheme and sieves")
		return 100
	case hasE:
		return unit.Percent(e)
	case !hasCCE:
		l.fault("ecce", "there is neither ECCE nor CCE", "give the ECCE (ENV, RNV) of the label, or the CCE with scheme and sieves")
		return 100
	}
	s, ok := SchemeByName(l.cells["scheme"])
	if !ok {
		l.fault("scheme", fmt.Sprintf("there is no fineness scheme %q; a CCE alone says nothing of fineness", l.cells["scheme"]), "give ohio, new-york or mississippi, or the label's own ECCE")
		return 100
	}
	var passes []Pass
	for _, h := range header {
		if mesh, ok := strings.CutPrefix(h, "mesh_"); ok {
			n, _ := strconv.Atoi(mesh)
			if v, given := l.figure(h); given {
				passes = append(passes, Pass{n, unit.Percent(v)})
			}
		}
	}
	f, err := s.Fineness(passes...)
	if err != nil {
		l.fault("scheme", err.Error(), "correct the sieves")
		return 100
	}
	return ECCE(unit.Percent(cce), f)
}

// figure reads a cell; given is false where it is empty or no figure, which is told.
func (l *offerLine) figure(name string) (v float64, given bool) {
	text := l.cells[name]
	if text == "" {
		return 0, false
	}
	v, err := strconv.ParseFloat(text, 64)
	if err != nil || v-v != 0 {
		l.fault(name, fmt.Sprintf("%q is no figure", text), "write a number with a decimal point")
		return 0, false
	}
	return v, true
}
