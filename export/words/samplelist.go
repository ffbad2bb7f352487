package words

import (
	"fmt"
	"io"
	"slices"
	"strings"

	"rootworthy/export"
	"rootworthy/soils/lab"
	"rootworthy/soils/lime"
	"rootworthy/suitability/limeplan"
)

// mostSamples is how many lines of samples a terminal gets; the file has all of them.
const mostSamples = 60

// LimeSamples prints what lime methods say of laboratory samples: a line for each, then the methods with their range and
// source, what was refused and what to beware of. Lines are at most 80 columns.
func LimeSamples(w io.Writer, rows []export.LimeSample) error {
	l := &sampleList{page: page{w: w, width: defaultWidth}, rows: rows}
	l.table()
	l.methods()
	l.told("No figure", func(s *export.LimeSample) []string {
		if s.Answer.Refusal == nil {
			return nil
		}
		return []string{sampleWhy(s)}
	})
	l.told("Against the laboratory's own figure", func(s *export.LimeSample) []string {
		if d := sampleDifference(s); d != "" {
			return []string{d}
		}
		return nil
	})
	l.told("Beware", cautionLines)
	return l.err
}

// target names the pH that was asked for, one for all; the laboratory's own figure may aim at another.
func (l *sampleList) target() string {
	if len(l.rows) == 0 {
		return ""
	}
	return fmt.Sprintf("; target pH %.3g", float64(l.rows[0].Target))
}

// saltMark stands behind a pH in calcium chloride in tables whose pH is that in water, and saltLegend under them: the two
// differ by more than many a rate turns on.
const (
	saltMark   = "c"
	saltLegend = saltMark + ": pH in 0.01 M calcium chloride, which reads about half a unit below pH in water."
)

// sampleList is the list in the making.
type sampleList struct {
	page
	rows []export.LimeSample
}

// table prints a line for each sample and method, the first so many.
func (l *sampleList) table() {
	l.line("Lime in short tons an acre" + l.target())
	l.line(left("Sample", 15) + right("water pH", 8) + "  " + left("Buffer", 17) + left("Method", 15) + right("Rate", 12) + right("Product", 11))
	salt := false
	for i := range l.rows[:min(len(l.rows), mostSamples)] {
		s := &l.rows[i]
		ph, mark := "-", ""
		if x, ok := s.Answer.PH.Get(); ok {
			ph = fixed(float64(x), 2)
		} else if x, ok := s.Answer.PHCaCl2.Get(); ok {
			ph, mark, salt = fixed(float64(x), 2), saltMark, true
		}
		method := s.Answer.Need.Method
		switch {
		case s.Deeper:
			method = "not topsoil"
		case s.Answer.Refusal != nil:
			method = "refused"
		case method == "":
			method = "none needed"
		}
		l.line(left(printable(s.Answer.ID), 17) + " " + right(ph, 5) + left(mark, 2) + left(bufferText(s), 17) + left(method, 15) + right(rateOf(s), 12) + right(spreadOf(s.AsSpread()), 11))
	}
	if more := len(l.rows) - mostSamples; more > 0 {
		l.line(fmt.Sprintf("and %s; --out FILE.csv has them all", count(more, "more line", "more lines")))
	}
	if salt {
		l.text("", "  ", saltLegend)
	}
}

// bufferText prints what was measured beside pH.
func bufferText(s *export.LimeSample) string {
	if name, ph := export.BufferOf(s.Sample); ph > 0 {
		return name + " " + fixed(ph, 2)
	}
	if x, ok := s.Sample.LBCeq.Get(); ok {
		return "LBCeq " + fixed(float64(x), 0)
	}
	if x, ok := s.Sample.LBC.Get(); ok {
		return "LBC " + fixed(float64(x), 0)
	}
	return "-"
}

// methods prints each method that answered, once.
func (l *sampleList) methods() {
	var used []string
	for i := range l.rows {
		if name := l.rows[i].Answer.Need.Method; l.rows[i].Answer.Refusal == nil && name != "" && !slices.Contains(used, name) {
			used = append(used, name)
		}
	}
	for _, m := range lime.Methods() {
		if slices.Contains(used, m.Name) {
			l.line("")
			l.text("", "  ", m.Name+": "+m.Title+".")
			l.text("  ", "  ", "Range: "+m.Range+".")
			l.text("  ", "  ", "Source: "+m.Source+".")
			if len(m.States) > 0 {
				l.text("  ", "  ", "Made for "+strings.Join(m.States, ", ")+"; elsewhere ask your state laboratory.")
			}
		}
	}
}

// told prints under a heading what is said of samples, each sentence once with the samples it is said of.
func (l *sampleList) told(heading string, of func(*export.LimeSample) []string) {
	var said []string
	// By sample, not by its name: bags of several fields may share a number. The lines of a sample stand together.
	by := map[string][]*lab.Sample{}
	samples := 0
	for i := range l.rows {
		if i == 0 || l.rows[i].Sample != l.rows[i-1].Sample {
			samples++
		}
		for _, s := range of(&l.rows[i]) {
			if by[s] == nil {
				said = append(said, s)
			}
			x := l.rows[i].Sample
			if n := len(by[s]); n == 0 || by[s][n-1] != x {
				by[s] = append(by[s], x)
			}
		}
	}
	if len(said) == 0 {
		return
	}
	l.line("")
	l.line(heading + ":")
	for _, s := range said {
		l.text("- ", "  ", printable(fmt.Sprintf("%s (%s)", s, samplesText(by[s], samples))))
	}
}

// samplesText names the samples a sentence is about, or counts them.
func samplesText(of []*lab.Sample, all int) string {
	const few = 5
	switch {
	case len(of) == all && all > few:
		return "all samples"
	case len(of) > few:
		return count(len(of), "sample", "samples")
	}
	var ids []string
	for _, s := range of {
		ids = append(ids, limeplan.SampleID(s))
	}
	if len(ids) == 1 {
		return "sample " + ids[0]
	}
	return "samples " + strings.Join(ids, ", ")
}
