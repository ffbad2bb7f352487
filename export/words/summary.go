package words

import (
	"fmt"
	"io"

	"rootworthy/export"
	"rootworthy/internal/diag"
	"rootworthy/suitability"
)

// SummaryOptions tunes [Summary]; the zero value suits a pipe.
type SummaryOptions struct {
	Width int    // columns; 0 means 80, and no less than 60 is used
	Color bool   // bold headings, for a terminal
	Out   string // folder that was written; "" when none was
}

// How much of a large run a summary shows; all of it is in the files.
const (
	mostFields = 20
	mostZones  = 40
	mostFaults = 10
)

// Summary prints a run for the landowner: the answer first, then field by field, zone by zone where there are few,
// then what was found wrong, what was written, and the cautions.
func Summary(w io.Writer, r *suitability.Result, o SummaryOptions) error {
	width := o.Width
	if width == 0 {
		width = defaultWidth
	}
	// On narrower terminals lines wrap by themselves; the table needs this much.
	s := &summary{page: page{w: w, width: max(width, 60)}, r: r, o: o, sums: export.Sums(r)}
	s.answer()
	s.fields()
	s.zones()
	s.tests()
	s.limeOrder()
	s.calendar()
	s.faults()
	s.written()
	s.cautions()
	return s.err
}

// summary is a summary in the making.
type summary struct {
	page
	r    *suitability.Result
	o    SummaryOptions
	sums []export.Sum
}

// heading prints a bold line after a blank one.
func (s *summary) heading(text string) {
	s.line("")
	s.line(s.bold(text))
}

// bold marks a line on a terminal that shows it.
func (s *summary) bold(text string) string {
	if s.o.Color {
		return "\x1b[1m" + text + "\x1b[0m"
	}
	return text
}

// faults prints faults, then notices, the first few of each.
func (s *summary) faults() {
	for _, kind := range []struct {
		severity   diag.Severity
		one, title string
	}{{diag.Wrong, "fault", "Without an answer, or wrong in the data"}, {diag.Notice, "notice", "Good to know"}} {
		var of []diag.Fault
		for _, f := range s.r.Faults {
			if f.Severity == kind.severity {
				of = append(of, f)
			}
		}
		if len(of) == 0 {
			continue
		}
		s.heading(kind.title)
		for _, f := range of[:min(len(of), mostFaults)] {
			s.text("- ", "  ", printable(f.String()))
		}
		if more := len(of) - mostFaults; more > 0 {
			s.line(fmt.Sprintf("  and %s in run.json", count(more, "more "+kind.one, "more "+kind.one+"s")))
		}
	}
}

// written says what each file is good for.
func (s *summary) written() {
	// Nothing was written, as with --explain.
	if s.o.Out == "" {
		return
	}
	s.heading("Written to " + printable(s.o.Out))
	for _, f := range [][2]string{
		{"zones.geojson", "the map: every zone with its class, reason and lime"},
		{"fields.geojson", "the boundaries as used"},
		{"fields.csv", "a row for each field, ranked"},
		{"lime.csv", "a row for each zone: lime, passes, dates"},
		{"reasons.jsonl", "why, with every value and source"},
		{"run.json", "what this run was made from"},
	} {
		s.line("  " + left(f[0], 16) + f[1])
	}
}

// cautions come last, where a reader stops, and whose data it is after them.
func (s *summary) cautions() {
	s.heading("Before you act")
	for _, c := range Cautions() {
		s.text("- ", "  ", c)
	}
	sources := export.Sources(&s.r.Provenance)
	if len(sources) == 0 {
		return
	}
	s.heading("Data")
	// Surveys of many areas; the files name all of them.
	for _, source := range sources[:min(len(sources), mostFaults)] {
		s.text("- ", "  ", printable(source))
	}
}
