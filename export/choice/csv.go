package choice

import (
	"io"
	"strconv"
	"strings"

	"rootworthy/export"
	"rootworthy/soils/unit"
	"rootworthy/suitability/ranking"
	"rootworthy/suitability/season"
)

// WriteCSV writes rank.csv (RFC 4180, CR LF): a row for each field, the best first, then those of which nothing is known. A missing
// value is an empty cell, never zero.
func WriteCSV(w io.Writer, c *Choice) error {
	out := export.NewTable(w, c.heads()...)
	for k := range c.Ranking.Fields {
		out.Row(c.row(k)...)
	}
	for _, f := range c.Ranking.Unanswered {
		out.Row(c.unanswered(f)...)
	}
	return out.Close()
}

// heads name the columns; a cost says what it is counted in.
func (c *Choice) heads() []string {
	// Without prices lime stands for the cost, in another unit, so the column has another name: a program that adds up money finds no
	// column to take by mistake.
	cost := "lime_st_per_suited_ac"
	if c.Basis == ranking.ByMoney {
		cost = "cost_per_suited_ac"
	}
	heads := []string{"rank", "verdict", "why", "run", "field_id", "field_name", "customer", "farm", "area_ac",
		"suited_ac", "suited_low_ac", "suited_high_ac", "suited_today_ac",
		cost, cost + "_low", cost + "_high", "currency", "value", "value_low", "value_high",
		"ready_days", "ready_low_days", "ready_high_days", "sow_first", "sow_last",
		"enough_ac", "chance_enough", "chance_off", "risk_pct", "low_confidence_pct", "not_known_pct", "score"}
	for _, x := range ranking.Criteria() {
		heads = append(heads, "marks_"+x.String())
	}
	return append(heads, "missing", "rank_best", "rank_worst", "rank_p10", "rank_p90", "top", "chance_in_top", "chance_overtaken", "layer", "beaten_by")
}

// row is one ranked field.
// The order of the cells is that of heads.
func (c *Choice) row(k int) []string {
	f := &c.Ranking.Fields[k]
	x := &f.Facts
	row := append([]string{strconv.Itoa(f.Rank), string(f.Verdict), codes(f.Why)}, c.who(f.Field)...)
	row = append(row, three(f.Measures[ranking.Suited], func(a float64) float64 { return unit.Area(a).Acres() }, 2)...)
	row = append(row, number(x.SuitedToday.Acres(), 2))
	row = append(row, three(f.Measures[ranking.Cost], c.perAcre, 3)...)
	row = append(row, c.Currency)
	row = append(row, three(x.Value, func(m float64) float64 { return m }, 0)...)
	row = append(row, three(f.Measures[ranking.Ready], func(d float64) float64 { return d }, 0)...)
	row = append(row, day(x.Sow)...)
	row = append(row, number(x.Enough.Acres(), 2), one(f.Measures[ranking.Sure], 1, 3), number(x.ChanceOff, 3), one(f.Measures[ranking.Risk], 100, 1),
		number(100*x.LowConfidence, 1), number(100*x.Unknown, 1), number(100*f.Score, 2))
	for _, m := range f.Marks {
		row = append(row, number(100*m, 2))
	}
	var lacks, beaten []string
	for _, l := range f.Lacks() {
		lacks = append(lacks, l.String())
	}
	for _, b := range f.BeatenBy {
		beaten = append(beaten, c.key(c.Ranking.Fields[b].Field))
	}
	return append(row, strings.Join(lacks, " "), strconv.Itoa(f.Best), strconv.Itoa(f.Worst), strconv.Itoa(f.P10), strconv.Itoa(f.P90), strconv.Itoa(c.Ranking.Top),
		number(f.InTop, 3), number(f.Overtaken, 3), strconv.Itoa(f.Layer), strings.Join(beaten, "; "))
}

// unanswered is a field without a place.
func (c *Choice) unanswered(f *ranking.Field) []string {
	row := append([]string{"", string(ranking.VisitFirst), ranking.WhyNoAnswer}, c.who(f)...)
	// Empty to the end of the row: a field without an answer has no figure, not even zero.
	return append(row, make([]string, len(c.heads())-len(row))...)
}

// who names a field, with its area.
func (c *Choice) who(f *ranking.Field) []string {
	return []string{f.Run, f.ID, f.Name, f.Customer, f.Farm, number(f.Area.Acres(), 2)}
}

// key is the id of a field, with its run where there are several.
func (c *Choice) key(f *ranking.Field) string {
	if len(c.Runs) > 1 {
		return f.Run + "/" + f.ID
	}
	return f.ID
}

// codes lists the stable codes of reasons.
func codes(why []ranking.Reason) string {
	out := make([]string, len(why))
	for i, w := range why {
		out[i] = w.Code
	}
	return strings.Join(out, "; ")
}

// three prints likely, low and high.
func three(m ranking.Measure, in func(float64) float64, decimals int) []string {
	if m.State != ranking.Known {
		return []string{"", "", ""}
	}
	return []string{number(in(m.Likely), decimals), number(in(m.Low), decimals), number(in(m.High), decimals)}
}

// one prints the likely value times a scale.
func one(m ranking.Measure, scale float64, decimals int) string {
	if m.State != ranking.Known {
		return ""
	}
	return number(scale*m.Likely, decimals)
}

// number prints as many decimals as the column has, zeros too.
func number(x float64, decimals int) string { return strconv.FormatFloat(x, 'f', decimals, 64) }

// day prints the first and the last day of a window; nothing where there is none.
func day(w season.Window) []string {
	if w.First.IsZero() {
		return []string{"", ""}
	}
	return []string{season.Day(w.First), season.Day(w.Last)}
}
