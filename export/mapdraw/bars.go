package mapdraw

import (
	"fmt"
	"strings"

	"rootworthy/export/words"
)

// Bar is one line of a picture of shares: a name and parts that together make up 1.
type Bar struct {
	Label string
	Parts []BarPart
}

// BarPart is a part of a bar, drawn as on the maps.
type BarPart struct {
	Look
	Share float64 // 0…1
}

// Bars draws shares as bars under one another, with the letters of the parts in them and a scale of chances in 10 below. Patterns
// tell the parts apart, as on the maps.
func Bars(title string, bars []Bar, o Options) *Drawing {
	o = o.settled()
	t := o.Style.Text
	d := &Drawing{Width: o.Width, Style: o.Style, Title: title, Desc: barsInWords(title, bars)}
	d.add(Area{}) // the sheet, once its height is known
	name := TextWidth("Chances in 10:", t, false) + t*0.4
	for _, b := range bars {
		name = max(name, TextWidth(b.Label, t, false))
	}
	// Names may take two fifths of the picture; the bars are what it is for.
	name = min(name+t*0.6, o.Width*0.4)
	left, wide := name, o.Width-name-t*0.8
	y := t * 0.3
	for _, b := range bars {
		d.bar(b, left, y, wide, t)
		y += t * 1.9
	}
	d.tenths(left, y, wide, t)
	d.Height = y + t*1.9
	d.Items[0] = Area{Rings: [][]Point{rectangle(0, 0, d.Width, d.Height)}, Fill: white()}
	return d
}

// bar draws one bar: fills with patterns, double lines between them, letters in white boxes where they have room.
func (d *Drawing) bar(b Bar, left, y, wide, t float64) {
	high := t * 1.5
	d.add(Text{At: Point{left - t*0.6, y + high*0.68}, Text: cutTo(b.Label, left-t*0.59, t), Size: t, Anchor: End, Color: ink()})
	x := left
	var letters []label
	for _, p := range b.Parts {
		w := p.Share * wide
		if w <= 0 {
			continue
		}
		d.add(Area{Rings: [][]Point{rectangle(x, y, w, high)}, Fill: p.Fill, Pattern: p.Pattern})
		d.add(Line{Paths: [][]Point{{{x, y}, {x, y + high}}}, Width: d.Style.Rim, Color: white()}, Line{Paths: [][]Point{{{x, y}, {x, y + high}}}, Width: d.Style.Core, Color: ink()})
		// A letter that would stick out of its part would be read as that of the next one.
		if box, _ := boxSize(p.Letter, t); w > box+d.Style.Rim*2 {
			letters = append(letters, label{text: p.Letter, at: Point{x + w/2, y + high/2}, size: t})
		}
		x += w
	}
	d.add(Line{Paths: [][]Point{rectangle(left, y, wide, high)}, Closed: true, Width: d.Style.Core, Color: ink()})
	for _, l := range letters {
		d.boxed(l.text, l.at, t, t*boxHeight*0.9)
	}
}

// tenths draws the scale under the bars, and at its left what it counts.
// Every second tenth is named: more would touch on a narrow picture.
func (d *Drawing) tenths(left, y, wide, t float64) {
	for k := 0; k <= 10; k += 2 {
		x := left + wide*float64(k)/10
		d.add(Line{Paths: [][]Point{{{x, y - t*0.3}, {x, y}}}, Width: d.Style.Core, Color: ink()},
			Text{At: Point{x, y + t*1.1}, Text: fmt.Sprint(k), Size: t, Anchor: Middle, Color: ink()})
	}
	d.add(Text{At: Point{left - t, y + t*1.1}, Text: cutTo("Chances in 10:", left-t, t), Size: t, Anchor: End, Color: ink()})
}

// cutTo shortens a text to a width, the cut marked.
func cutTo(s string, width, size float64) string {
	r := []rune(s)
	for len(r) > 1 && TextWidth(s, size, false) > width {
		r = r[:len(r)-1]
		s = string(r) + "…"
	}
	return s
}

// barsInWords says what the bars show, the first few by name.
func barsInWords(title string, bars []Bar) string {
	// For who hears the picture read out: five are told, and the table has them all.
	const few = 5
	var parts []string
	for _, b := range bars[:min(few, len(bars))] {
		most := BarPart{}
		for _, p := range b.Parts {
			if p.Share > most.Share {
				most = p
			}
		}
		parts = append(parts, fmt.Sprintf("%s: %s, %s", b.Label, strings.ToLower(most.Word), words.Chance(most.Share)))
	}
	s := title + ". " + strings.Join(parts, "; ")
	if more := len(bars) - few; more > 0 {
		s += "; and " + words.Count(more, "more", "more")
	}
	return s + "."
}
