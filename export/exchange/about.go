package exchange

import (
	"fmt"
	"slices"
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
		return "Lime figures rest on the soil survey alone: a budget, not a rate to spread. A soil test sets the rate, and your soil laboratory's advice comes first."
	}
	return fmt.Sprintf("Lime figures of %d of %d zones rest on the soil survey alone (lime_basis): a budget, not a rate to spread. A soil test sets the rate, and your soil laboratory's advice comes first.", untested, all)
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
	return append(out, s.cautions()...)
}

// cautions are what every reader must be told, but for the one on lime figures of the survey where the file says it of its own figures, and of how
// many of them: the same said twice is read neither time.
func (s *Set) cautions() []string {
	if s.budget() == "" {
		return s.words.Cautions
	}
	return slices.DeleteFunc(slices.Clone(s.words.Cautions), func(c string) bool { return c == s.words.Budget })
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
