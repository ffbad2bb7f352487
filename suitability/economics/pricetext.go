package economics

import (
	"fmt"
	"maps"
	"slices"
	"strings"
	"time"

	"github.com/pelletier/go-toml/v2"
	"github.com/pelletier/go-toml/v2/unstable"

	"rootworthy/internal/diag"
	"rootworthy/soils/nutrient"
)

// priceText is a file of prices with the line of every key, so that faults of content can say where they are.
type priceText struct {
	name   string
	faults *diag.List
	lines  map[string]int // by path: "date", "lime", "lime.source", "product.0-0-60.year"
	count  int            // of faults
	bad    bool
}

func join(path, key string) string {
	if path == "" {
		return key
	}
	return path + "." + key
}

// longestPath is how long the path of a key may be, in bytes; those of prices have up to fifty. It keeps a text of long or deep keys from
// costing memory out of proportion.
const longestPath = 300

// index finds the line of every table and of every key in one. ok is false when a key is long or nested beyond reason.
func (d *priceText) index(text []byte) (ok bool) {
	d.lines = map[string]int{}
	var p unstable.Parser
	p.Reset(text)
	line, offset, at := 1, 0, ""
	for p.NextExpression() {
		e := p.Expression()
		path, n, ok := pathOf(e)
		if !ok {
			return false
		}
		if to := int(n.Raw.Offset); to >= offset && to <= len(text) {
			line += strings.Count(string(text[offset:to]), "\n")
			offset = to
		}
		switch e.Kind {
		case unstable.Table, unstable.ArrayTable:
			at = path
		case unstable.KeyValue:
			path = join(at, path)
		}
		if d.lines[path] == 0 {
			d.lines[path] = line
		}
	}
	return true
}

// pathOf returns the dotted key of an expression and its first part; ok is false when it is too long, or its value is too deep.
func pathOf(e *unstable.Node) (path string, first *unstable.Node, ok bool) {
	key := e.Key()
	for key.Next() {
		if first == nil {
			first = key.Node()
		}
		if path = join(path, string(key.Node().Data)); len(path) > longestPath {
			return "", first, false
		}
	}
	return path, first, e.Kind != unstable.KeyValue || depth(e.Value(), 0) < deepest
}

// deepest is how many brackets may stand in each other; prices need one.
const deepest = 8

func depth(n *unstable.Node, so int) int {
	if so >= deepest {
		return so
	}
	most := so
	for children := n.Children(); children.Next(); {
		most = max(most, depth(children.Node(), so+1))
	}
	return most
}

// fault reports a fault at a path, or at the nearest thing around it that has a line.
func (d *priceText) fault(path, kind, fix, format string, args ...any) {
	d.bad = true
	d.count++
	line := 0
	for at := path; at != "" && line == 0; {
		line = d.lines[at]
		if i := strings.LastIndexByte(at, '.'); i > 0 {
			at = at[:i]
		} else {
			at = ""
		}
	}
	d.faults.Add(diag.Fault{File: d.name, Line: line, Field: path, Kind: kind, What: fmt.Sprintf(format, args...), Fix: fix})
}

func sorted(m map[string]any) []string { return slices.Sorted(maps.Keys(m)) }

// unknown reports keys that mean nothing, each with the nearest that does.
func (d *priceText) unknown(t map[string]any, path string, known []string) {
	for _, k := range sorted(t) {
		if slices.Contains(known, k) {
			continue
		}
		fix := "the keys here are " + strings.Join(known, ", ")
		if near, ok := diag.Nearest(k, known); ok {
			fix = "did you mean " + near + "?"
		}
		d.fault(join(path, k), "unknown key", fix, "%q means nothing in a file of prices", k)
	}
}

// text returns a text that must be there.
func (d *priceText) text(t map[string]any, path, key string) string {
	v, ok := t[key]
	if !ok {
		d.fault(join(path, key), "missing "+key, "add "+key+" = …", "%s is missing", key)
		return ""
	}
	s, ok := v.(string)
	if s = strings.TrimSpace(s); !ok || s == "" {
		d.fault(join(path, key), "no text", "write it in quotes", "%s says nothing", key)
	}
	return s
}

// number returns a finite number from least to most; where there is none the fault is reported.
func (d *priceText) number(t map[string]any, path, key string, least, most float64) float64 {
	var v float64
	switch n := t[key].(type) {
	case int64:
		v = float64(n)
	case float64:
		v = n
	default:
		d.fault(join(path, key), "no number", "write a number without quotes", "%v is no number", t[key])
		return 0
	}
	if !(v >= least && v <= most) { // NaN too
		d.fault(join(path, key), "range", "correct the number, or the unit", "%v is not between %.6g and %.6g", v, least, most)
		return 0
	}
	return v
}

// The years that a price may be from.
const firstYear, lastYear = 1950, 2150

// year reads the year that a figure is from, which is not after the date of the prices.
func (d *priceText) year(t map[string]any, path string, p *Prices) int {
	at := join(path, "year")
	v, ok := t["year"]
	if !ok {
		d.fault(at, "missing year", "add year = …, the year that the figure is from", "year is missing")
		return 0
	}
	n, ok := v.(int64)
	switch {
	case !ok || n < firstYear || n > lastYear:
		d.fault(at, "year", "write the year that the figure is from", "%v is no year", v)
	case !p.Date.IsZero() && int(n) > p.Date.Year():
		d.fault(at, "year to come", "correct the year, or the date of the prices", "%d is after the date of the prices, %s", n, p.Date.Format(time.DateOnly))
	}
	return int(n)
}

// date reads the day that the prices hold for, as a date of TOML or as text.
func (d *priceText) date(root map[string]any) time.Time {
	v, ok := root["date"]
	if !ok {
		d.fault("date", "missing date", "add date = 2026-11-25, the day that the prices hold for", "date is missing")
		return time.Time{}
	}
	var s string
	switch x := v.(type) {
	case toml.LocalDate:
		s = x.String()
	case string:
		s = x
	}
	day, err := time.Parse(time.DateOnly, s)
	if err != nil || day.Year() < firstYear || day.Year() > lastYear {
		d.fault("date", "date", "write year, month and day: 2026-11-25", "%v is no day", v)
		return time.Time{}
	}
	return day
}

// nutrient returns what fertilizer is sold by for a code.
func (d *priceText) nutrient(code string) (sold string, ok bool) {
	if n, ok := nutrient.ByCode(code); ok {
		return n.Sold(), true
	}
	var codes []string
	for _, n := range nutrient.Nutrients() {
		codes = append(codes, n.Code())
	}
	d.fault(join("nutrient", code), "nutrient", "write "+strings.Join(codes, ", "), "%q is no nutrient", code)
	return "", false
}
