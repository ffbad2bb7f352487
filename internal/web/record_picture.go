package web

import (
	"fmt"
	"html/template"
	"math"
	"strings"

	"rootworthy/export/words"
	"rootworthy/suitability/stand"
)

// standPicture is the counts of a zone against the years, with the same facts as a table.
type standPicture struct {
	Title string
	SVG   template.HTML // drawn here; its words are escaped
	Rows  []standRow
}

// standRow is one year of the picture.
type standRow struct{ Year, Count, Keep, GiveUp, Action string }

// picturesOf draws every zone that was counted, stems and plants apart: their limits have nothing in common.
func picturesOf(stories []stand.Story) []standPicture {
	var out []standPicture
	for i := range stories {
		for _, k := range []stand.Kind{stand.Stems, stand.Plants} {
			if c := chartOf(&stories[i], k); c != nil {
				c.id = fmt.Sprintf("stand%d", len(out))
				out = append(out, standPicture{c.title(), template.HTML(c.svg()), c.rows()})
			}
		}
	}
	return out
}

// chart is a picture in the making, in counts per square foot.
type chart struct {
	id, zone     string
	kind         stand.Kind
	calendar     [stand.Years + 1]int
	keep, giveUp [stand.Years + 1]float64
	decided      [stand.Years + 1]*stand.Decision
}

// chartOf gathers the counts of one kind; nil where there is none, or nobody wrote down when the stand was sown.
func chartOf(st *stand.Story, k stand.Kind) *chart {
	if st.Sown.IsZero() {
		return nil
	}
	c, any := &chart{zone: st.Zone, kind: k}, false
	for n := range c.calendar {
		c.calendar[n] = calendarYear(st.Sown, n)
		// limits go by the age of a stand; those of a year are those of its spring, when stands are counted
		day := springOf(c.calendar[n])
		if n == 0 {
			day = st.Sown
		}
		limit := stand.ByPlants(0, st.Sown, day)
		if k == stand.Stems {
			limit = stand.ByStems(0, st.Sown, day)
		}
		c.keep[n], c.giveUp[n] = limit.KeepFrom.PerSquareFoot(), limit.GiveUpTo.PerSquareFoot()
	}
	for i := range st.Years {
		y := &st.Years[i]
		if y.Decision != nil && y.Decision.Kind == k && y.Number < len(c.decided) {
			c.decided[y.Number], any = y.Decision, true
		}
	}
	if !any {
		return nil
	}
	return c
}

func (c *chart) title() string {
	where := "Whole field"
	if c.zone != "" {
		where = "Zone " + c.zone
	}
	return where + ": " + string(c.kind) + " in a square foot by year"
}

func (c *chart) rows() []standRow {
	var out []standRow
	for n, d := range c.decided {
		row := standRow{Year: fmt.Sprintf("%d (year %d)", c.calendar[n], n), Count: "–", Action: "–", Keep: words.Decimal(c.keep[n], 0), GiveUp: words.Decimal(c.giveUp[n], 0)}
		if d != nil {
			row.Count, row.Action = words.Decimal(d.Count.PerSquareFoot(), 1), string(d.Action)
		}
		out = append(out, row)
	}
	return out
}

// The picture in its own units; a phone shows it at this size.
const (
	chartWidth, chartHeight                      = 320.0, 212.0
	chartLeft, chartRight, chartTop, chartBottom = 30.0, 6.0, 14.0, 40.0
	chartText                                    = "#1a1a1a"
	slot                                         = (chartWidth - chartLeft - chartRight) / float64(stand.Years+1)
)

// svg draws thresholds as steps, counts as points with their figures.
func (c *chart) svg() string {
	most := 0.0
	for n := range c.keep {
		most = max(most, c.keep[n])
		if d := c.decided[n]; d != nil {
			most = max(most, d.Count.PerSquareFoot())
		}
	}
	step := niceStep(most * 1.12)
	top := step * math.Ceil(most*1.12/step)
	y := func(v float64) float64 { return chartTop + (1-v/top)*(chartHeight-chartTop-chartBottom) }
	x := func(n int) float64 { return chartLeft + (float64(n)+0.5)*slot }
	var b strings.Builder
	fmt.Fprintf(&b, `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 %g %g" role="img" aria-labelledby="%s-t %s-d" font-family="Segoe UI, DejaVu Sans, sans-serif" font-size="12" fill="%s">`,
		chartWidth, chartHeight, c.id, c.id, chartText)
	fmt.Fprintf(&b, `<title id="%s-t">%s</title><desc id="%s-d">%s</desc>`, c.id, template.HTMLEscapeString(c.title()), c.id, template.HTMLEscapeString(c.says()))
	fmt.Fprintf(&b, `<rect width="%g" height="%g" fill="#fff"/>`, chartWidth, chartHeight)
	for v := 0.0; v <= top+1e-9; v += step {
		fmt.Fprintf(&b, `<path d="M%g %.1fH%g" stroke="#d9d8d2"/><text x="%g" y="%.1f" text-anchor="end">%g</text>`, chartLeft, y(v), chartWidth-chartRight, chartLeft-4, y(v)+4, v)
	}
	c.steps(&b, c.keep, y, `stroke="#1f5f8b" stroke-width="2"`)
	c.steps(&b, c.giveUp, y, `stroke="#7a0f1e" stroke-width="2" stroke-dasharray="5 3"`)
	for n := range c.calendar {
		fmt.Fprintf(&b, `<text x="%.1f" y="%g" text-anchor="middle">%d</text><text x="%.1f" y="%g" text-anchor="middle">%d</text>`, x(n), chartHeight-23, n, x(n), chartHeight-8, c.calendar[n])
	}
	for n, d := range c.decided {
		if d == nil {
			continue
		}
		v := d.Count.PerSquareFoot()
		fmt.Fprintf(&b, `<circle cx="%.1f" cy="%.1f" r="5" stroke="#fff" stroke-width="1.5"/>`, x(n), y(v))
		c.label(&b, x(n), y(v)-9, "middle", words.Decimal(v, 0))
	}
	b.WriteString("</svg>")
	return b.String()
}

// steps draws a limit, level within each year.
func (c *chart) steps(b *strings.Builder, limit [stand.Years + 1]float64, y func(float64) float64, how string) {
	fmt.Fprintf(b, `<path fill="none" %s d="`, how)
	for n, v := range limit {
		if n == 0 {
			fmt.Fprintf(b, "M%g %.1f", chartLeft, y(v))
		} else {
			fmt.Fprintf(b, "V%.1f", y(v))
		}
		fmt.Fprintf(b, "H%.1f", chartLeft+float64(n+1)*slot)
	}
	b.WriteString(`"/>`)
}

// label writes text that lines do not cross out.
func (c *chart) label(b *strings.Builder, x, y float64, anchor, text string) {
	fmt.Fprintf(b, `<text x="%.1f" y="%.1f" text-anchor="%s" font-weight="700" stroke="#fff" stroke-width="3.5" paint-order="stroke">%s</text>`, x, y, anchor, template.HTMLEscapeString(text))
}

// says is the picture in a sentence.
func (c *chart) says() string {
	var parts []string
	for n, d := range c.decided {
		if d != nil {
			parts = append(parts, fmt.Sprintf("%d: %s, %s", c.calendar[n], words.Decimal(d.Count.PerSquareFoot(), 1), d.Action))
		}
	}
	return "Points are counts, the line above is where a stand is kept without loss, the dashed line where it is given up. " + strings.Join(parts, "; ") + ". The table holds the same."
}

// niceStep is a round distance of about four lines.
func niceStep(most float64) float64 {
	for _, s := range []float64{1, 2, 5, 10, 20, 50, 100, 200, 500, 1000} {
		if most/s <= 5 {
			return s
		}
	}
	return most / 4
}
