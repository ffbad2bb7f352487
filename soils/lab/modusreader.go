package lab

import (
	"fmt"
	"strconv"
	"strings"

	"rootworthy/internal/diag"
)

// modusReader collects samples from results in either notation of Modus.
type modusReader struct {
	filler
	mapping  *Mapping
	samples  []Sample
	columns  map[modusKind]int // index into accounts
	kinds    []column
	accounts []Column
	advice   map[modusKind]column // what recommendations are of
	full     bool                 // no more samples are taken

	event  modusEvent
	bag    modusBag
	layers map[string]modusLayer
	crops  map[string]string // recommendation id to its crop
}

// modusKind is what makes results of one kind: they share an account.
type modusKind struct{ element, unit, test string }

// modusEvent is what a file says once for all its samples.
type modusEvent struct {
	lab, field          string
	date, received, day string // day the samples were taken; received and processed by the laboratory
}

// modusBag is one soil sample, which may have several layers.
type modusBag struct {
	id, labNumber, wkt, lon, lat string
	line                         int
	first                        int // index of its first layer in samples
}

// modusLayer is a depth that samples refer to.
type modusLayer struct{ top, bottom, unit string }

// modusResult is one figure.
type modusResult struct {
	element, value, unit, test string
	line                       int
}

// newModusReader begins a file. Layers and crops are there from the start, for files whose samples refer to none.
func newModusReader(name string, m *Mapping, faults *diag.List) *modusReader {
	r := &modusReader{filler: filler{file: name, faults: faults}, mapping: m, columns: map[modusKind]int{}, advice: map[modusKind]column{}, layers: map[string]modusLayer{}, crops: map[string]string{}}
	r.settings(m)
	if r.mark == markUnclear {
		r.mark = markPoint // both notations of Modus have a decimal point
	}
	return r
}

// layer makes a sample of the results of one layer of the bag.
func (r *modusReader) layer(id string, line int, results []modusResult) {
	// told once, at the first that is left out
	if r.full || len(r.samples) >= mostSamples {
		if !r.full {
			tooMany(r.file, line, r.faults)
		}
		r.full = true
		return
	}
	s := Sample{ID: r.bag.id, LabNumber: r.bag.labNumber, Lab: r.event.lab, Place: Place{Field: r.event.field}, File: r.file, Line: line}
	var notes rowNotes
	place := func(h holds, text string) {
		r.cell(column{holds: h}, text, kinds[h].code, line).put(&s, &notes)
	}
	// through the cells of a table, so that both kinds of file are read by the same rules and told in the same words
	place(takenDate, r.event.date)
	place(reportedDate, r.event.received)
	place(reportedDate, r.event.day)
	lon, lat := r.bag.lon, r.bag.lat
	// version 1 gives the place as text, the flat form as two figures
	if x, y, ok := wktPoint(r.bag.wkt); ok {
		lon, lat = x, y
	}
	place(longitude, lon)
	place(latitude, lat)
	r.depths(&s, id, line)
	got := 0
	for _, res := range results {
		i := r.kind(res)
		done := r.cell(r.kinds[i], res.value, r.accounts[i].Header, res.line).put(&s, &notes)
		// counted even when the sample is left out: the account is of the file
		r.accounts[i].count(done)
		if done == taken || done == beyond || done == refused {
			got++
		}
	}
	// Refused results count as results: a bag with nothing but a buffer pH of unknown buffer is kept, and asked about.
	if got == 0 {
		r.faults.Notice(diag.Fault{File: r.file, Line: line, Feature: s.ID, Kind: "no results", What: "the sample holds no result that is read, and is left out"})
		return
	}
	r.finish(&s, &notes, r.mapping, diag.Fault{Line: line, Feature: s.ID})
	r.samples = append(r.samples, s)
}

// cell is a figure on its way into the sample at hand.
func (r *modusReader) cell(c column, text, name string, line int) cell {
	return cell{filler: &r.filler, c: c, text: text, name: name, line: line, id: r.bag.id}
}

// depths sets the layer that the sample refers to.
func (r *modusReader) depths(s *Sample, id string, line int) {
	l, ok := r.layers[id]
	if !ok {
		return
	}
	// the unit of the mapping stands in where the reference gives none
	from := layerText{unit: r.depth}
	if means, rest, ok := words().take("length", plainWords(l.unit)); ok && rest == "" {
		from.unit = measureByCode(means)
	}
	top, bottom := readFigure(l.top, r.mark), readFigure(l.bottom, r.mark)
	x := r.cell(column{holds: depthRange}, l.top+" to "+l.bottom+" "+l.unit, "depth", line)
	switch {
	case top.state == cellEmpty && bottom.state == cellEmpty:
	case top.state != cellFigure || bottom.state != cellFigure:
		x.fault("bad layer", quoted(x.text)+" is not a layer", "correct the depth references of the file")
	default:
		from.top, from.bottom = top.value, bottom.value
		if x.putDepths(s, from) == refused {
			x.fault("depth without a unit", quoted(x.text)+" is a depth without its unit", `set depth_unit = "in" or "cm" in the mapping`)
		}
	}
}

// kind returns the account of a result's kind, made when the first of its kind comes.
func (r *modusReader) kind(res modusResult) int {
	// by all three: one element by two tests is two kinds
	k := modusKind{res.element, res.unit, res.test}
	if i, ok := r.columns[k]; ok {
		return i
	}
	if len(r.kinds) >= widest {
		return r.lastKind(leftOut("the file has too many kinds of results"))
	}
	header := squeeze(res.element + " " + res.test)
	c := r.mapping.ofSlice(r.mapping.apply(header, modusColumn(res.element, res.unit, res.test)))
	r.columns[k] = len(r.kinds)
	r.kinds = append(r.kinds, c)
	r.accounts = append(r.accounts, explain(c, "", len(r.kinds), header, res.unit))
	return len(r.kinds) - 1
}

// lastKind keeps one account for all kinds beyond the bound.
func (r *modusReader) lastKind(c column) int {
	if len(r.kinds) == widest {
		r.kinds = append(r.kinds, c)
		r.accounts = append(r.accounts, explain(c, "", len(r.kinds), "further results", ""))
	}
	return widest
}

// advise keeps the laboratory's lime with the first layer of the bag, as a rule the shallowest; other advice is not read.
func (r *modusReader) advise(res modusResult, crop string) {
	k := modusKind{element: res.element, unit: res.unit}
	c, known := r.advice[k]
	// beyond the bound c is nothing, and the advice is not read
	if !known && len(r.advice) < widest {
		c = understand(res.element, res.unit)
		r.advice[k] = c
	}
	// fertilizer, or a bag whose layers were all left out
	if c.holds != limeRate || r.bag.first >= len(r.samples) {
		return
	}
	s := &r.samples[r.bag.first]
	// behind what the bag has already
	c.slot = len(s.Lime)
	x := r.cell(c, res.value, "lime", res.line)
	if x.put(s, &rowNotes{}) == refused {
		r.faults.Notice(diag.Fault{File: r.file, Line: res.line, Feature: s.ID, Field: "lime", Kind: "lime without a unit",
			What: quoted(res.value) + " of lime has no unit that is known; it stands in words only", Fix: "ask the laboratory: in which unit is the lime?"})
	}
	// a recommendation that came to nothing leaves no empty one behind
	if last := len(s.Lime) - 1; last >= c.slot && s.Lime[last].Given == "" {
		s.Lime = s.Lime[:last]
	} else if last >= c.slot {
		s.Lime[last].Crop = crop
	}
}

// wktPoint reads "POINT (lon lat)". From memory, not checked: that bags carry their place in this form.
func wktPoint(wkt string) (lon, lat string, ok bool) {
	s := strings.ToUpper(squeeze(wkt))
	inside, found := strings.CutPrefix(s, "POINT")
	// a third figure would be a height, and is left
	f := strings.Fields(strings.Trim(inside, " ()Z"))
	if !found || len(f) < 2 {
		return "", "", false
	}
	for _, v := range f[:2] {
		if _, err := strconv.ParseFloat(v, 64); err != nil {
			return "", "", false
		}
	}
	return f[0], f[1], true
}

// results closes the reading.
func (r *modusReader) results(format string) (Results, error) {
	// once a kind and at the end, when it is known how many figures a question is about
	for i := range r.accounts {
		if r.accounts[i].Refused > 0 {
			ask(&r.accounts[i], r.kinds[i], diag.Fault{File: r.file, Field: r.accounts[i].Header}, r.faults)
		}
	}
	if len(r.samples) == 0 {
		return Results{}, fmt.Errorf("%s: no soil sample with results in this Modus file", r.file)
	}
	return Results{Samples: r.samples, Understood: Understood{Format: format, Columns: r.accounts}}, nil
}
