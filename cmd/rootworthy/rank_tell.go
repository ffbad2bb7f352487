package main

import (
	"fmt"
	"io"
	"strings"

	"rootworthy/export/choice"
	"rootworthy/export/words"
	"rootworthy/suitability/ranking"
)

// mostRankTold is how many fields a terminal gets; the page has more.
const mostRankTold = 10

// tell says what came of it: the answer, the first fields, how many are beaten, how firm the order is, what was written.
func (w *rankWork) tell(out io.Writer) error {
	var b strings.Builder
	c := &w.choice
	r := c.Ranking
	for _, s := range c.Answer() {
		writeWrapped(&b, s)
	}
	b.WriteByte('\n')
	if n := min(len(r.Fields), mostRankTold); n > 0 {
		// Two lines of heads, since the widest of them would not fit into 80 columns beside the others.
		fmt.Fprintf(&b, "%5s %-20s %-11s %6s  %-22s %6s  %s\n", "", "", "", "suited", "", "score", "place in 8")
		fmt.Fprintf(&b, "%5s %-20s %-11s %6s  %-22s %6s  %s\n", "place", "field", "advice", "acres", "enough is suited", "of 100", "draws of 10")
		for k := range n {
			b.WriteString(rankLine(c, &r.Fields[k]))
		}
		if more := len(r.Fields) - n; more > 0 {
			fmt.Fprintf(&b, "%5s and %s more\n", "", words.Decimal(float64(more), 0))
		}
		b.WriteByte('\n')
		if len(r.Fields) > 1 {
			writeWrapped(&b, rankFirmness(c))
		}
	}
	w.notes(&b)
	fmt.Fprintf(&b, "\nWritten to %s\n", w.dir)
	lines := [][2]string{{rankPage, "the list, why, and how firm it is"}, {rankPDF, "the same to print"}, {rankCSV, "a row for each field, all figures"}}
	if len(r.Fields) > 0 {
		lines = append(lines, [2]string{rankPicture, "where each field stands and how far that moves"})
	}
	if n := w.lettersOf(); n > 0 {
		lines = append(lines, [2]string{lettersPDF, "letters on " + words.Count(n, "field", "fields") + ", to print; letters.html to read"}, [2]string{"letters/", "the same, a page of its own for each"})
	}
	for _, l := range lines {
		fmt.Fprintf(&b, "  %-13s %s\n", l[0], l[1])
	}
	_, err := io.WriteString(out, b.String())
	return err
}

// rankLine is a field in one line of 80 columns.
func rankLine(c *choice.Choice, f *ranking.Ranked) string {
	name := c.FieldName(f.Field)
	if r := []rune(name); len(r) > 20 {
		name = string(r[:19]) + "…"
	}
	places := fmt.Sprint(f.P10)
	if f.P90 > f.P10 {
		places = fmt.Sprintf("%d–%d", f.P10, f.P90)
	}
	return fmt.Sprintf("%5d %-20s %-11s %6s  %-22s %6.0f  %s\n", f.Rank, name, f.Verdict, choice.SuitedAcres(f.Field), choice.Sure(f.Field), 100*f.Score, places)
}

// rankFirmness says how many are beaten and how much of the order moves.
func rankFirmness(c *choice.Choice) string {
	beaten, r := 0, c.Ranking
	for k := range r.Fields {
		if r.Fields[k].Layer > 1 {
			beaten++
		}
	}
	return strings.TrimSpace(fmt.Sprintf("Beaten by another on every count: %s of %s. %s", words.Decimal(float64(beaten), 0), words.Count(len(r.Fields), "field", "fields"), c.Turned()))
}

// notes say what stands for what, and which weights count.
func (w *rankWork) notes(b *strings.Builder) {
	c := &w.choice
	of := "as typed"
	if c.Proposed {
		of = ranking.ProposalName
	}
	writeWrapped(b, fmt.Sprintf("Weights (%s): %s.", of, strings.ReplaceAll(c.Ranking.Weights.String(), ",", ", ")))
	if c.Basis == ranking.ByLime {
		writeWrapped(b, "No prices were given: lime stands for the cost. --prices counts in money.")
	}
	if len(w.left) > 0 {
		writeWrapped(b, "In no sum, because the prices do not say: "+itemNames(w.left)+".")
	}
	if len(w.wants) > 0 {
		writeWrapped(b, "Whether a field pays is not known without "+itemNames(w.wants)+".")
	}
	if c.Start == ranking.ByWait {
		writeWrapped(b, "No day and region: the wait after lime stands for the day of sowing. --date and --region count to a sowing window.")
	}
}

// writeWrapped writes a sentence in lines of 80 columns, which every terminal has.
func writeWrapped(b *strings.Builder, s string) { b.WriteString(words.Paragraph(s, 80, "", "")) }
