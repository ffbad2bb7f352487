package web

import (
	"slices"
	"strconv"
	"strings"

	"rootworthy/soils/lime"
)

// limeChoices are the ways to work out lime from tests that the page offers, with what holds if nothing is chosen.
type limeChoices struct {
	Methods     []limeChoice `json:"methods"`
	Interpolate []limeChoice `json:"interpolate"`
	Usual       LimeOrder    `json:"usual"`
	Target      string       `json:"target"` // pH of the run on the page; "" without one
}

// limeChoice is one of several.
type limeChoice struct {
	Name  string `json:"name"`
	Label string `json:"label"`
}

// limeChoices lists the methods, with the one calibrated for the state of the run in front of the mind.
func (s *Server) limeChoices(shown *book) *limeChoices {
	c := &limeChoices{Usual: s.screener.Lime, Methods: []limeChoice{{"", "none: tests rate the ground, lime stays a budget"}},
		Interpolate: []limeChoice{{"", "each zone takes its own samples"}, {"kriging", "kriging"}, {"inverse-distance", "inverse distance"}, {"nearest", "the nearest sample"}}}
	if shown != nil {
		if h, _, err := s.held(shown); err == nil && h != nil {
			c.Usual = h.lime
		}
	}
	state := strings.ToUpper(c.Usual.State)
	for _, m := range lime.Methods() {
		if m.Memory || m.Name == tableMethod {
			continue // these need what a page has no place for
		}
		label := m.Name + ": " + m.Title
		if len(m.States) > 0 {
			label += " (" + strings.Join(m.States, ", ") + ")"
		}
		c.Methods = append(c.Methods, limeChoice{m.Name, label})
		if c.Usual.Method == "" && state != "" && slices.Contains(m.States, state) {
			c.Usual.Method = m.Name
		}
	}
	if shown != nil {
		if l, err := s.shelf.open(shown); err == nil {
			c.Target = strconv.FormatFloat(float64(l.target()), 'f', -1, 64)
		}
	}
	return c
}

// tableMethod is the method of an own table, which comes as a file.
const tableMethod = "table"
