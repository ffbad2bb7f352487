package web

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"rootworthy/suitability"
)

// held is the laboratory files that a run was made with, and how it used them. The run folder has their names and digests alone, that of the
// page as that of the command line; without the files a boundary could not be corrected and keep its tests.
type held struct {
	tests          []Text
	mapping, table *Text
	inputs         []suitability.Input  // of all of them, as the run lists them
	lime           LimeOrder            // as far as a page chooses it
	like           []suitability.Option // all options of the run; nil where it was made here, since the program was started
}

// names are the files as the user knows them.
func (h *held) names() string {
	var out []string
	for _, in := range h.inputs {
		if in.Role == roleTests {
			out = append(out, in.Name)
		}
	}
	for _, t := range []*Text{h.mapping, h.table} {
		if t != nil {
			out = append(out, t.Name)
		}
	}
	return strings.Join(out, ", ")
}

// held returns the files of a run; nil where it was made without any, or they are not to be found, and then lacks says what is wrong with
// the first one that is missing.
//
// Two kinds of run have them. One that came in through a page has a zip beside its folder. One of the command line was made of files where the
// user keeps them, and they are taken from there: as long as they are the same to the last bit, since a run must not change under its
// name. Nothing is copied anywhere for it, and no path is written down.
func (s *Server) held(b *book) (h *held, lacks string, err error) {
	switch {
	case b.order != nil && len(b.order.Tests) > 0:
		o := b.order
		h := &held{tests: o.Tests, mapping: o.Mapping, table: o.Table, lime: o.Lime, like: o.Like}
		h.inputs = slices.DeleteFunc(slices.Clone(o.Inputs), func(in suitability.Input) bool { return !ofTests(in) })
		return h, "", nil
	case b.order != nil || b.source == nil:
		return nil, "", nil
	}
	var pack []byte
	if b.source.Held != nil {
		if pack, err = b.source.Held(); err != nil {
			return nil, "", err
		}
	}
	if pack == nil {
		return b.source.find(&b.Head.Provenance)
	}
	h, err = b.source.unpackTests(pack, &b.Head.Provenance)
	return h, "", err
}

// find looks for the files of a run where the user may still have them.
func (src *Source) find(p *suitability.Provenance) (h *held, lacks string, err error) {
	if src.Find == nil {
		return nil, "", nil
	}
	h = heldOf(p)
	for _, in := range p.Inputs {
		if !ofTests(in) {
			continue
		}
		text, err := src.Find(in)
		if err != nil {
			return nil, err.Error(), nil
		}
		if text == nil {
			return nil, "", nil
		}
		h.put(in, text)
	}
	if len(h.tests) == 0 {
		return nil, "", nil
	}
	return h, "", nil
}

// heldOf is how a run used its tests, without any file yet.
func heldOf(p *suitability.Provenance) *held {
	like := p.Options
	if like == nil {
		like = []suitability.Option{} // a run without any option is like that, not like the program as it was started
	}
	return &held{lime: limeOf(p), like: like}
}

// put takes in a file of the run.
func (h *held) put(in suitability.Input, text []byte) {
	h.inputs = append(h.inputs, in)
	switch t := (Text{in.Name, text}); in.Role {
	case roleMapping:
		h.mapping = &t
	case roleTable:
		h.table = &t
	default:
		h.tests = append(h.tests, t)
	}
}

// ofTests says whether a file of a run's record is a laboratory's, or says how to read one or what to make of it.
func ofTests(in suitability.Input) bool {
	return in.Role == roleTests || in.Role == roleMapping || in.Role == roleTable
}

// limeOf is how a run worked out lime from its tests, by its record; what is not there was left at what is usual.
func limeOf(p *suitability.Provenance) LimeOrder {
	target, _ := strconv.ParseFloat(p.Option("target-ph"), 64)
	return LimeOrder{Method: p.Option("lime-method"), State: p.Option("state"), TargetPH: target, Interpolate: p.Option("interpolate")}
}

// readBackTests tells a page that brings boundaries what becomes of the laboratory files of the run on it.
type readBackTests struct {
	Names string `json:"names"`
	Held  bool   `json:"held"`          // they can be taken along
	Say   string `json:"say,omitempty"` // how they were used, or why they cannot be taken along
}

// testsOf says what becomes of the laboratory files of a run where a boundary of it is corrected; nil where it has none.
func (s *Server) testsOf(run string) *readBackTests {
	b := s.book(run)
	if b == nil || b.Err != nil || b.order != nil && len(b.order.Tests) == 0 {
		return nil // tests of the command line are read anew for every run
	}
	h, lacks, err := s.held(b)
	if h != nil {
		return &readBackTests{Names: h.names(), Held: true, Say: s.howUsed(h, &b.Head.Provenance)}
	}
	var names []string
	for _, in := range b.Head.Provenance.Inputs {
		if in.Role == roleTests {
			names = append(names, in.Name)
		}
	}
	if len(names) == 0 {
		return nil
	}
	t := &readBackTests{Names: strings.Join(names, ", ")}
	t.Say = fmt.Sprintf("This run was made with the laboratory tests of %s, which this page does not hold%s. Drop them together with the boundary if they are to count.", t.Names, s.looked(b))
	switch {
	case err != nil:
		lacks = err.Error()
		fallthrough
	case lacks != "":
		t.Say = "This run was made with laboratory tests, but " + lacks + ". Drop them together with the boundary if they are to count."
	}
	return t
}

// looked says where files of a run were looked for; "" where they were not.
func (s *Server) looked(b *book) string {
	if b.source == nil || b.source.Find == nil {
		return ""
	}
	return " and which are no longer beside the run, beside the fields or where the program was started"
}

// howUsed says how the tests of a run were used, by its own record: the same holds again.
func (s *Server) howUsed(h *held, p *suitability.Provenance) string {
	var out []string
	for _, o := range p.Options {
		if slices.Contains(s.screener.TestOptions, o.Name) {
			if o.Value == "true" {
				out = append(out, "--"+o.Name)
			} else {
				out = append(out, "--"+o.Name+" "+o.Value)
			}
		}
	}
	if len(out) == 0 {
		return "They are used as in this run: they rate the ground, and lime is a budget at the tested pH."
	}
	return "They are used as in this run: " + strings.Join(out, ", ") + "."
}

// takeAlong gives an order the laboratory files of a run, unless it brings some itself.
func (o *Order) takeAlong(h *held) {
	if h == nil || len(o.Tests) > 0 {
		return
	}
	o.Tests, o.Mapping, o.Table, o.Lime, o.Like = h.tests, h.mapping, h.table, h.lime, h.like
	at := slices.IndexFunc(o.Inputs, func(in suitability.Input) bool { return in.Role != roleFields })
	if at < 0 {
		at = len(o.Inputs)
	}
	o.Inputs = slices.Insert(o.Inputs, at, h.inputs...)
}
