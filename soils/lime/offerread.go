package lime

import (
	"fmt"
	"io"
	"slices"
	"strconv"
	"strings"

	"rootworthy/internal/csvlist"
	"rootworthy/internal/diag"
	"rootworthy/soils/unit"
)

// mostOffers is the longest list of offers, in bytes.
const mostOffers = 1 << 20

// offerColumns are the columns of a list of offers, beside a mesh_N for each sieve.
func offerColumns() []string {
	return []string{"name", "price", "ecce", "cce", "scheme", "moisture", "dolomitic"}
}

// ReadOffers reads a list of limes and what they cost, delivered and spread, from CSV as [csvlist] takes it. The columns may stand in any order:
//
//	name,price,ecce,cce,scheme,mesh_20,mesh_60,mesh_100,moisture,dolomitic
//	River quarry,42,63,,,,,,8,no
//	Hill quarry,55,,94,new-york,100,80,60,,yes
//
// A line gives the ECCE of the dry material (or what the state prints in its place), or the CCE with one of [Schemes] and what
// falls through its sieves, cumulative percent; never both, for then the fineness would count twice. Lines with faults are
// told and left out. The error says that the file could not be read.
func ReadOffers(name string, r io.Reader, faults *diag.List) ([]Offer, error) {
	list, err := csvlist.Open(name, r, csvlist.Form{Columns: offerColumns(), MostBytes: mostOffers, Instead: "list only the limes that can be had"})
	if err != nil {
		return nil, err
	}
	if list.Header == nil {
		faults.Add(diag.Fault{File: name, Line: list.Line, Kind: "no header", What: "the file has none", Fix: "begin with name,price,ecce,moisture,dolomitic"})
		return nil, nil
	}
	checkOfferHeader(list, faults)
	var out []Offer
	for row := range list.Rows(faults) {
		l := offerLine{name: name, Row: row, faults: faults}
		if o, ok := l.offer(list.Header); ok {
			out = append(out, o)
		}
	}
	return out, nil
}

// offerLine is one line of the list, and where to tell its faults. bad is set by any fault of the line, so that all of them are told
// before it is left out.
type offerLine struct {
	csvlist.Row
	name   string // of the file
	faults *diag.List
	bad    bool
}

// fault tells what is wrong with the line and marks it.
func (l *offerLine) fault(field, what, fix string) {
	l.bad = true
	l.faults.Add(diag.Fault{File: l.name, Line: l.Line, Field: field, Kind: "bad offer", What: what, Fix: fix})
}

// checkOfferHeader tells of columns that mean nothing here. A sieve is mesh_ and how many meshes it has to the inch.
func checkOfferHeader(list *csvlist.List, faults *diag.List) {
	l := offerLine{name: list.Name, Row: list.Row(list.Line, nil), faults: faults}
	for _, h := range list.Header {
		mesh, isMesh := strings.CutPrefix(h, "mesh_")
		n, err := strconv.Atoi(mesh)
		if !slices.Contains(offerColumns(), h) && !(isMesh && err == nil && n > 0 && n <= 400) {
			l.fault(h, "this column means nothing here and is left out", "columns are name, price, ecce or cce with scheme and mesh_20 …, moisture, dolomitic")
		}
	}
}

// offer reads the line by the columns of header; ok is false where it has a fault.
func (l *offerLine) offer(header []string) (o Offer, ok bool) {
	if o.Name = l.Cell("name"); o.Name == "" {
		l.fault("name", "the lime has no name", "give one")
	}
	price, given := l.figure("price")
	if !given || !(price > 0 && price < 1e6) {
		l.fault("price", "there is no price over 0", "give the price of a ton delivered and spread")
	}
	moisture, _ := l.figure("moisture")
	o.Price, o.Product = price, Product{ECCE: l.ecce(header), Moisture: unit.Percent(moisture)}
	switch d := strings.ToLower(l.Cell("dolomitic")); d {
	case "yes", "no", "":
		o.Dolomite = d == "yes"
	default:
		l.fault("dolomitic", fmt.Sprintf("%q is neither yes nor no", d), "write yes or no")
	}
	// a line that is wrong already would only be told the same once more
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
	s, ok := SchemeByName(l.Cell("scheme"))
	if !ok {
		l.fault("scheme", fmt.Sprintf("there is no fineness scheme %q; a CCE alone says nothing of fineness", l.Cell("scheme")), "give ohio, new-york or mississippi, or the label's own ECCE")
		return 100
	}
	var passes []Pass
	for _, h := range header {
		if mesh, ok := strings.CutPrefix(h, "mesh_"); ok {
			// a column that is no sieve was told with the header; 0 is no mesh of any scheme
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
	text := l.Cell(name)
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
