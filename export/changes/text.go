package changes

import (
	"cmp"
	"fmt"
	"io"
	"slices"
	"strings"

	"rootworthy/export/words"
	"rootworthy/soils/unit"
	"rootworthy/suitability"
	"rootworthy/suitability/change"
)

// mostLines is how many turns of class and how many fields are printed: what fits on a screen; the table has all.
const mostLines = 15

// mostName is how many letters of a name are shown.
const mostName = 60

// WriteText prints what changed for a terminal of that many columns; names are those of the first and of the second run.
func WriteText(w io.Writer, c *change.Comparison, names [2]string, width int) error {
	var b strings.Builder
	sum := c.Sum()
	for _, s := range Say(&sum, names) {
		b.WriteString(words.Paragraph(s, width, "", ""))
	}
	if len(sum.Turns) > 0 {
		fmt.Fprintf(&b, "\nGround that changed class, acres: %s, then %s\n", names[0], names[1])
		for _, t := range sum.Turns[:min(len(sum.Turns), mostLines)] {
			b.WriteString(words.Paragraph(fmt.Sprintf("%s -> %s", stateText(t.From), stateText(t.To)), width, fmt.Sprintf("%8s  ", words.Acres(t.Area)), "          "))
		}
		more(&b, len(sum.Turns), "of less ground")
	}
	fields := turned(c)
	if len(fields) > 0 {
		fmt.Fprintf(&b, "\nFields in which it is, acres that changed class or that one run has alone\n")
		for _, f := range fields[:min(len(fields), mostLines)] {
			fmt.Fprintf(&b, "%8s  %s\n", words.Acres(f.area), f.name)
		}
		more(&b, len(fields), "with less")
	}
	_, err := io.WriteString(w, b.String())
	return err
}

func more(b *strings.Builder, n int, what string) {
	if n > mostLines {
		fmt.Fprintf(b, "          and %d more %s\n", n-mostLines, what)
	}
}

// stateText is a class with what limits it: "suited, today unsuited (surface pH, which lime mends)".
func stateText(s change.State) string {
	out := s.Class.String()
	if s.Today != s.Class {
		out += ", today " + s.Today.String()
	}
	if l := Limits(s); l != "" && s.Class != suitability.NotRated {
		out += " (" + l + ")"
	}
	return out
}

// turnedField is how much of some fields changed class.
type turnedField struct {
	name string
	area unit.Area
}

// turned lists the fields with ground that changed class or that one of the runs has alone, the most first.
func turned(c *change.Comparison) (out []turnedField) {
	for i := range c.Fields {
		f := &c.Fields[i]
		// The same sum over one field: nothing is counted in a second way.
		one := change.Comparison{A: c.A, B: c.B, Fields: c.Fields[i : i+1]}
		sum := one.Sum()
		area := sum.Survey + sum.Only[0] + sum.Only[1]
		for _, t := range sum.Turns {
			area += t.Area
		}
		if area > 0 {
			out = append(out, turnedField{Names(c, f), area})
		}
	}
	// Stable: equal areas stay in the order of the runs.
	slices.SortStableFunc(out, func(x, y turnedField) int { return cmp.Compare(y.area, x.area) })
	return out
}

// Names names the fields of both runs that lie on one another: mostly one name.
func Names(c *change.Comparison, f *change.Fields) string {
	a, b := namesIn(c.A, f.A), namesIn(c.B, f.B)
	switch {
	case a == "" || a == b:
		return b
	case b == "":
		return a
	}
	return a + " → " + b
}

func namesIn(r *suitability.Result, fields []int) string {
	var out []string
	for _, i := range fields {
		f := &r.Fields[i]
		// A run folder is somebody's file: what stands in a name must not steer a terminal.
		name := words.Shown(f.ID, mostName)
		if f.Name != "" && f.Name != f.ID {
			name = words.Shown(f.Name, mostName) + " (" + name + ")"
		}
		out = append(out, name)
	}
	return strings.Join(out, " + ")
}
