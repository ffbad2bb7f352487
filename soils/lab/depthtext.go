package lab

import (
	"strings"

	"rootworthy/soils/unit"
)

// layerText is a layer as a cell gives it, before its unit is known.
type layerText struct {
	top, bottom float64
	unit        measure // unitless when the cell does not say
}

// readLayer reads "0-6", `0-6"`, "0 to 15 cm", "6 in". A single figure reaches from the surface.
func readLayer(cell string, mark decimalMark) (layerText, bool) {
	// a text as long is no layer, and looking for units in it would cost time
	if len(cell) > longestHeader {
		return layerText{}, false
	}
	s := strings.ToLower(squeeze(strings.NewReplacer("–", "-", "—", "-", "\u00a0", " ", `"`, " in ", "''", " in ", " to ", "-", "”", " in ").Replace(cell)))
	var l layerText
	// the unit may stand behind the figures or before them: "0-6 in", "in 0-6"
	lengths, rest := words().takeAll("length", apart(s))
	// two units in one cell: which holds, nobody can say
	if len(lengths) > 1 {
		return l, false
	}
	if len(lengths) == 1 {
		l.unit = measureByCode(lengths[0])
	}
	// cut at the first hyphen, so a depth below zero is not a figure and is refused
	from, to, ranged := strings.Cut(strings.ReplaceAll(rest, " ", ""), "-")
	a := readFigure(from, mark)
	// "6 in" is what a probe went down, from the surface
	if !ranged {
		l.bottom = a.value
		return l, a.state == cellFigure && a.bound == Exactly && l.bottom > 0
	}
	b := readFigure(to, mark)
	l.top, l.bottom = a.value, b.value
	return l, a.state == cellFigure && b.state == cellFigure && a.bound == Exactly && b.bound == Exactly
}

// apart puts a blank between a figure and the letters that follow it: "15cm".
func apart(s string) string {
	var b strings.Builder
	// byte by byte is safe here: no part of a letter beyond ASCII lies between a and z
	for i := range len(s) {
		if i > 0 && isDigit(s[i-1]) && s[i] >= 'a' && s[i] <= 'z' {
			b.WriteByte(' ')
		}
		b.WriteByte(s[i])
	}
	return b.String()
}

// isDigit knows the digits of ASCII, which are all that readFigure takes.
func isDigit(c byte) bool { return c >= '0' && c <= '9' }

// depthOf turns a figure into a depth; ok is false without a unit.
func depthOf(v float64, m measure) (d unit.Depth, ok bool) {
	switch m {
	case centimetres:
		return unit.Depth(v), true
	case inches:
		return unit.InchesDeep(v), true
	}
	return 0, false
}

// layerInID finds a layer at the end of a sample id: "DS4-A5 10-20" or "7B 0-6in".
func layerInID(id string) (layerText, bool) {
	id = strings.TrimSpace(id)
	// The last word alone, and only with one hyphen: field codes such as A-5-20 are no layers.
	i := strings.LastIndexByte(id, ' ')
	if i < 0 || strings.Count(id[i+1:], "-") != 1 {
		return layerText{}, false
	}
	l, ok := readLayer(id[i+1:], markPoint)
	return l, ok && l.top >= 0 && l.bottom > l.top
}
