package web

import (
	"encoding/json"
	"errors"
	"fmt"
	"net/http"
	"slices"
	"strings"

	"rootworthy/internal/field"
	"rootworthy/suitability"
)

// Order is what a page wants screened. What is empty is as the program was started.
type Order struct {
	Start   bool // take the fields of the command line, with Fields among them
	Fields  []field.Field
	Inputs  []suitability.Input // files that came in through the page
	Tests   []Text              // laboratory files that came in through the page
	Mapping *Text               // how their columns are to be read
	Lime    LimeOrder           // of Tests
	// Like is how a run used Tests that are taken along from it: its options, by name, those of no test too. It holds in the place of Lime and of
	// whatever the program was started with about tests. nil: Tests were brought by the page, or made a run since the program was started.
	Like  []suitability.Option
	Table *Text // lime table of that run; nil where it had none
	// Naming is which properties name the fields, for the record; nil: as the program was started.
	Naming *Naming
}

// Text is a file that came in through the page.
type Text struct {
	Name  string // without a folder
	Bytes []byte
}

// LimeOrder says how lime is worked out from tests, each word as on the command line.
type LimeOrder struct {
	Method      string  `json:"method"`      // "": tests rate the ground, and lime is a budget at the tested pH
	State       string  `json:"state"`       // whose target pH holds
	TargetPH    float64 `json:"target"`      // 0: that of the state
	Interpolate string  `json:"interpolate"` // "": zones take their own bags
}

// request is what a page sends to have something screened.
type request struct {
	Upload int `json:"upload"`
	Run    int `json:"run"`  // whose fields to put them among; 0: none
	With   int `json:"with"` // the run on the page, to compare with
	// Leave screens without the laboratory files of the run on the page, which a boundary that is corrected otherwise keeps.
	Leave bool `json:"leave"`
	LimeOrder
}

// noSurvey refuses to screen where no survey is open.
const noSurvey = "No soil survey is open. Start the page with rootworthy view FIELDS --survey PATH to screen boundaries in it."

// screen begins to screen what was read before.
func (s *Server) screen(w http.ResponseWriter, r *http.Request) {
	if s.screener == nil {
		s.fail(w, r, http.StatusConflict, noSurvey)
		return
	}
	var q request
	if err := json.NewDecoder(http.MaxBytesReader(w, r.Body, 1<<16)).Decode(&q); err != nil {
		s.fail(w, r, http.StatusBadRequest, "The request cannot be read: "+err.Error())
		return
	}
	u := s.uploads.get(q.Upload)
	if u == nil {
		s.fail(w, r, http.StatusGone, "These files are no longer here; drop them again.")
		return
	}
	o, status, err := s.order(u, &q)
	if err != nil {
		s.fail(w, r, status, err.Error())
		return
	}
	t, err := s.begin(u.name, func(t *task) (*made, error) {
		r, err := s.screener.Screen(t.ctx, o, t.stage, t.faults)
		return &made{Name: fmt.Sprintf("%s (%d)", u.name, t.Number), Result: r, order: &o, before: q.With}, err
	})
	if err != nil {
		s.fail(w, r, http.StatusConflict, err.Error())
		return
	}
	answer(w, http.StatusAccepted, map[string]int{"task": t.Number})
}

// order puts together what is to be screened: the boundaries of an upload, alone or among the fields of a run, with the
// tests of the upload or those that the run was made with here.
func (s *Server) order(u *upload, q *request) (o Order, status int, err error) {
	o = Order{Fields: u.fields, Inputs: slices.Clone(u.inputs), Tests: u.tests, Mapping: u.mapping, Lime: q.LimeOrder}
	switch {
	case q.Run != 0:
		b := s.shelf.get(q.Run)
		if b == nil {
			return o, http.StatusNotFound, errors.New("there is no such run")
		}
		if status, err := s.among(b, &o, q.Leave); err != nil {
			return o, status, err
		}
	case len(u.fields) == 0:
		return o, http.StatusBadRequest, errors.New("these tests need fields; screen them with those of a run")
	default:
		o.Naming = u.naming
		if b := s.shelf.get(q.With); b != nil && !q.Leave && s.corrects(b, u.fields) {
			h, _, err := s.held(b)
			if err != nil {
				return o, http.StatusUnprocessableEntity, err
			}
			o.takeAlong(h)
		}
	}
	if s.screener.Check != nil {
		if err := s.screener.Check(o); err != nil {
			return o, http.StatusBadRequest, err
		}
	}
	return o, 0, nil
}

// corrects says whether boundaries are those of fields that a run has: one of its own alone has use for its tests.
func (s *Server) corrects(b *book, fields []field.Field) bool {
	l, err := s.shelf.open(b)
	return err == nil && slices.ContainsFunc(fields, func(f field.Field) bool { _, has := l.field[f.ID]; return has })
}

// among puts an order among the fields of a run. What the run was made of here is taken as it was brought, not as zones cut it; of
// a run that was read from its folder, which remembers no files, that is as near as it comes.
func (s *Server) among(b *book, o *Order, leave bool) (status int, err error) {
	if before := b.order; before != nil {
		o.Start, o.Fields, o.Naming = before.Start, Among(before.Fields, o.Fields), before.Naming
		for _, in := range before.Inputs {
			if !ofTests(in) {
				o.Inputs = append(o.Inputs, in)
			}
		}
	} else {
		l, err := s.shelf.open(b)
		if err != nil {
			return http.StatusUnprocessableEntity, err
		}
		o.Fields, o.Naming = Among(fieldsOf(l.result), o.Fields), namingOf(&l.result.Provenance)
		for _, in := range l.result.Provenance.Inputs {
			if in.Role == roleFields { // an earlier run: its record says where the fields came from
				o.Inputs = append(o.Inputs, in)
			}
		}
	}
	if leave || len(o.Tests) > 0 {
		return 0, nil
	}
	h, _, err := s.held(b)
	if err != nil { // a run that would silently have no tests is worse than none
		return http.StatusUnprocessableEntity, err
	}
	o.takeAlong(h)
	return 0, nil
}

// screenAgain is the command that screens the fields of a run again with tests, for where no survey is open. Files are
// named as the run names them: where they stand is not in its record.
func screenAgain(p *suitability.Provenance, tests []string) string {
	words := []string{"rootworthy", "screen"}
	for _, in := range p.Inputs {
		if in.Role == roleFields {
			words = append(words, quoted(in.Name))
		}
	}
	if len(words) == 2 {
		words = append(words, "FIELDS")
	}
	survey := false
	for _, o := range p.Options {
		switch o.Name {
		case "tests", "mapping", "runs", "port":
			continue
		case "survey", "tables", "exclude":
			for _, v := range strings.Split(o.Value, ", ") {
				words = append(words, "--"+o.Name, quoted(v))
			}
			survey = survey || o.Name == "survey"
			continue
		}
		if words = append(words, "--"+o.Name); o.Value != "true" {
			words = append(words, quoted(o.Value))
		}
	}
	if !survey {
		words = append(words, "--survey", "PATH")
	}
	for _, t := range tests {
		words = append(words, "--tests", quoted(t))
	}
	return strings.Join(append(words, "--out", "DIR"), " ")
}

// quoted is a word for a shell.
func quoted(s string) string {
	if s != "" && strings.Trim(s, "abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ0123456789._-/:=") == "" {
		return s
	}
	return `"` + strings.NewReplacer(`\`, `\\`, `"`, `\"`, "$", `\$`, "`", "\\`").Replace(s) + `"`
}
