package exchange

import (
	"fmt"
	"strings"

	"rootworthy/export"
)

// budget says what lime figures of the survey are worth; "" when every figure rests on a test.
func (s *Set) budget() string {
	untested, all := s.Untested()
	switch {
	case untested == 0:
		return ""
	case untested == all:
		return "Lime figures rest on the soil survey alone: a budget, not a rate to spread. A soil test sets the rate."
	}
	return fmt.Sprintf("Lime figures of %d of %d zones rest on the soil survey alone (lime_basis): a budget, not a rate to spread. A soil test sets the rate.", untested, all)
}

// about tells in sentences what the files hold, from when and from what, and what every reader must be told.
func (s *Set) about() []string {
	p := &s.result.Provenance
	out := []string{s.zones.Title + "."}
	if text := s.budget(); text != "" {
		out = append(out, text)
	}
	if p.Date != "" {
		out = append(out, "Date of the run: "+p.Date+".")
	}
	if p.Program != "" {
		out = append(out, "Made by "+p.Program+".")
	}
	if p.Profile != "" {
		out = append(out, "Crop profile: "+p.Profile+".")
	}
	// Units that go by one name in several countries are said once in every file.
	out = append(out, "Acres are international acres, tons are short tons of 2,000 lb unless they are called tonnes or t. An empty value is not known, never zero.")
	out = append(out, export.Sources(p)...)
	for _, c := range s.words.Cautions {
		// The caution about budgets stands at the top already where it holds.
		if c != s.budget() {
			out = append(out, c)
		}
	}
	return out
}

// aboutText is the same as one text.
func (s *Set) aboutText() string { return strings.Join(s.about(), " ") }

// meaning says what a column holds and in which unit.
func meaning(c export.Column) string {
	if c.Unit == "" {
		return c.Meaning
	}
	return c.Meaning + " (" + c.Unit + ")"
}
