package money

import (
	"fmt"
	"math"

	"rootworthy/export/mapdraw"
	"rootworthy/suitability/economics"
)

// mostBars is how many inputs the picture shows; the table beside it has all.
const mostBars = 12

// Colours and patterns of the two ends: told apart in grey and by any eye.
var (
	ink    = mapdraw.Color{R: 0x1a, G: 0x1a, B: 0x1a}
	grey   = mapdraw.Color{R: 0x59, G: 0x59, B: 0x59}
	atLow  = mapdraw.Color{R: 0xff, G: 0xe9, B: 0xa3}
	atHigh = mapdraw.Color{R: 0x2c, G: 0x7f, B: 0xb8}
)

const (
	lowWord  = "input at its low"
	highWord = "input at its high"
)

// Picture draws what each input alone does to the worth of an acre, the widest first.
func (b *Book) Picture(o mapdraw.Options) *mapdraw.Drawing {
	if o.Style == (mapdraw.Style{}) {
		o.Style = mapdraw.Screen()
	}
	if o.Width <= 0 {
		o.Width = 700
	}
	p := newPlot(b, o)
	p.legend()
	for _, bar := range p.bars {
		p.row(bar)
	}
	p.axis()
	p.Height = p.y + p.text*0.2
	return &p.Drawing
}

// plot is the picture in the making.
// text is the size of letters, y the upper edge of what comes next, high the height of a bar; all in units of the drawing.
type plot struct {
	mapdraw.Drawing
	bars          []economics.Bar
	currency      string
	likely        float64 // of an acre
	from, to      float64 // ends of the scale
	left, width   float64 // of the scale on the picture
	text, y, high float64
}

// newPlot lays out the scale: from the lowest to the highest worth that any bar reaches, with room at both sides for the longest figure.
func newPlot(b *Book, o mapdraw.Options) *plot {
	p := &plot{bars: b.Study.Bars, text: o.Style.Text, currency: b.currency()}
	p.bars = p.bars[:min(len(p.bars), mostBars)]
	p.likely = b.Study.Farm.ValuePerArea().Or(economics.Range[economics.PerArea]{}).Likely.PerAcre()
	p.Width, p.Style = o.Width, o.Style
	p.Title = "What moves the worth of an acre most"
	p.from, p.to = p.likely, p.likely
	widest := 0.0
	for _, bar := range p.bars {
		for _, x := range []float64{bar.Low.PerAcre(), bar.High.PerAcre()} {
			p.from, p.to = min(p.from, x), max(p.to, x)
			widest = max(widest, mapdraw.TextWidth(amount(x), p.text, false))
		}
	}
	// A scale of no length has no place for anything; any length will do, since all bars are points then.
	if p.to == p.from {
		p.to++
	}
	// The same room on both sides, for the figures at the ends of the bars.
	p.left, p.width = widest+8, o.Width-2*(widest+8)
	p.high = p.text * 1.1
	p.Desc = fmt.Sprintf("Bars of what an acre is worth over the sod, in %s, when one input alone goes from its low to its high. All others stay likely, where the acre is worth %s.", p.currency, amount(p.likely))
	if len(p.bars) > 0 {
		w := p.bars[0]
		p.Desc += fmt.Sprintf(" The widest is %s: from %s to %s.", ItemName(w.Input), amount(math.Min(w.Low.PerAcre(), w.High.PerAcre())), amount(math.Max(w.Low.PerAcre(), w.High.PerAcre())))
	}
	return p
}

// at is where an amount lies across the picture.
func (p *plot) at(x float64) float64 { return p.left + (x-p.from)/(p.to-p.from)*p.width }

// add puts items on the picture, over those before.
func (p *plot) add(items ...mapdraw.Item) { p.Items = append(p.Items, items...) }

// write puts a text at a baseline.
func (p *plot) write(x, y float64, s string, bold bool, a mapdraw.Anchor, c mapdraw.Color) {
	p.add(mapdraw.Text{At: mapdraw.Point{X: x, Y: y}, Text: s, Size: p.text, Bold: bold, Anchor: a, Color: c})
}

// box paints a filled box with a rim.
func (p *plot) box(x0, x1, y float64, fill mapdraw.Color, pattern mapdraw.Pattern, title string) {
	ring := []mapdraw.Point{{X: x0, Y: y}, {X: x1, Y: y}, {X: x1, Y: y + p.high}, {X: x0, Y: y + p.high}}
	p.add(mapdraw.Area{Title: title, Rings: [][]mapdraw.Point{ring}, Fill: fill, Pattern: pattern}, mapdraw.Line{Paths: [][]mapdraw.Point{ring}, Closed: true, Width: 1, Color: ink})
}

// legend says what the two looks mean; on a narrow picture in two lines.
func (p *plot) legend() {
	p.y = p.text * 0.4
	x := 0.5
	for _, l := range []struct {
		word    string
		fill    mapdraw.Color
		pattern mapdraw.Pattern
	}{{lowWord, atLow, mapdraw.Dotted}, {highWord, atHigh, mapdraw.Plain}} {
		w := 28 + 6 + mapdraw.TextWidth(l.word, p.text, false)
		if x+w > p.Width {
			x, p.y = 0.5, p.y+p.high*1.5
		}
		p.box(x, x+28, p.y, l.fill, l.pattern, "")
		p.write(x+34, p.y+p.text*0.95, l.word, false, mapdraw.Start, ink)
		x += w + 18
	}
	p.y += p.high * 2
	p.write(0, p.y+p.text, fmt.Sprintf("Worth of an acre, %s; thick line: likely, %s", p.currency, amount(p.likely)), false, mapdraw.Start, grey)
	p.y += p.text * 1.9
}

// row draws one input: its name, and under it the bar with the worth at both ends.
func (p *plot) row(bar economics.Bar) {
	name := ItemName(bar.Input)
	for _, l := range mapdraw.Wrap(name, p.Width, p.text, true) {
		p.write(0, p.y+p.text, l, true, mapdraw.Start, ink)
		p.y += p.text * 1.2
	}
	y := p.y + p.text*0.2
	low, high := bar.Low.PerAcre(), bar.High.PerAcre()
	draw := func(x float64, fill mapdraw.Color, pattern mapdraw.Pattern, word string) {
		a, b := p.at(math.Min(x, p.likely)), p.at(math.Max(x, p.likely))
		// A hundredth of a point is nothing to see.
		if b-a > 0.01 {
			p.box(a, b, y, fill, pattern, fmt.Sprintf("%s, %s: %s", name, word, amount(x)))
		}
	}
	if math.Abs(low-p.likely) >= math.Abs(high-p.likely) { // the longer first, should both lie on one side
		draw(low, atLow, mapdraw.Dotted, lowWord)
		draw(high, atHigh, mapdraw.Plain, highWord)
	} else {
		draw(high, atHigh, mapdraw.Plain, highWord)
		draw(low, atLow, mapdraw.Dotted, lowWord)
	}
	least, most := math.Min(low, high), math.Max(low, high)
	p.write(p.at(math.Min(least, p.likely))-4, y+p.text*0.95, amount(least), false, mapdraw.End, ink)
	p.write(p.at(math.Max(most, p.likely))+4, y+p.text*0.95, amount(most), false, mapdraw.Start, ink)
	p.line(p.at(p.likely), y-1, p.at(p.likely), y+p.high+1, 2.5)
	p.y = y + p.high + p.text*0.6
}

// line draws a line in ink.
func (p *plot) line(x0, y0, x1, y1, width float64) {
	p.add(mapdraw.Line{Paths: [][]mapdraw.Point{{{X: x0, Y: y0}, {X: x1, Y: y1}}}, Width: width, Color: ink})
}

// axis is the scale under the bars, with round amounts.
func (p *plot) axis() {
	p.line(p.left, p.y, p.left+p.width, p.y, 1)
	for _, x := range ticks(p.from, p.to) {
		p.line(p.at(x), p.y, p.at(x), p.y+4, 1)
		p.write(p.at(x), p.y+5+p.text, amount(x), false, mapdraw.Middle, grey)
	}
	p.y += 5 + p.text*1.4
}

// ticks are round amounts, three to eight of them, zero among them where it lies within.
func ticks(from, to float64) []float64 {
	step := math.Pow(10, math.Floor(math.Log10((to-from)/3)))
	for _, m := range []float64{5, 2} {
		if (to-from)/(step*m) >= 3 {
			step *= m
			break
		}
	}
	var out []float64
	for k := math.Ceil(from / step); k*step <= to && len(out) < 10; k++ {
		out = append(out, k*step)
	}
	return out
}
