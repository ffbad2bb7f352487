package economics

import (
	"maps"
	"slices"
	"strings"
	"time"

	"github.com/pelletier/go-toml/v2"

	"rootworthy/internal/diag"
	"rootworthy/internal/tomltext"
	"rootworthy/soils/nutrient"
)

// priceText is a file of prices; its getters report what is wrong with a key and go on.
type priceText struct{ *tomltext.Text }

// sorted lists the keys of a table in one order, so that faults come in the same order every time.
func sorted(m map[string]any) []string { return slices.Sorted(maps.Keys(m)) }

// unknown reports keys that mean nothing, each with the nearest that does.
func (d priceText) unknown(t map[string]any, path string, known []string) {
	for _, k := range sorted(t) {
		if slices.Contains(known, k) {
			continue
		}
		fix := "the keys here are " + strings.Join(known, ", ")
		if near, ok := diag.Nearest(k, known); ok {
			fix = "did you mean " + near + "?"
		}
		d.Fault(tomltext.Join(path, k), "unknown key", fix, "%q means nothing in a file of prices", k)
	}
}

// text returns a text that must be there.
func (d priceText) text(t map[string]any, path, key string) string {
	v, ok := t[key]
	if !ok {
		d.Fault(tomltext.Join(path, key), "missing "+key, "add "+key+" = …", "%s is missing", key)
		return ""
	}
	s, ok := v.(string)
	if s = strings.TrimSpace(s); !ok || s == "" {
		d.Fault(tomltext.Join(path, key), "no text", "write it in quotes", "%s says nothing", key)
	}
	return s
}

// number returns a finite number from least to most; where there is none the fault is reported.
func (d priceText) number(t map[string]any, path, key string, least, most float64) float64 {
	var v float64
	switch n := t[key].(type) {
	case int64:
		v = float64(n)
	case float64:
		v = n
	default:
		d.Fault(tomltext.Join(path, key), "no number", "write a number without quotes", "%v is no number", t[key])
		return 0
	}
	if !(v >= least && v <= most) { // NaN too
		d.Fault(tomltext.Join(path, key), "range", "correct the number, or the unit", "%v is not between %.6g and %.6g", v, least, most)
		return 0
	}
	return v
}

// The years that a price may be from. They catch a slip of the pen, no more.
const firstYear, lastYear = 1950, 2150

// year reads the year that a figure is from, which is not after the date of the prices.
func (d priceText) year(t map[string]any, path string, p *Prices) int {
	at := tomltext.Join(path, "year")
	v, ok := t["year"]
	if !ok {
		d.Fault(at, "missing year", "add year = …, the year that the figure is from", "year is missing")
		return 0
	}
	// a year in quotes or with a point is no whole number of TOML
	n, ok := v.(int64)
	switch {
	case !ok || n < firstYear || n > lastYear:
		d.Fault(at, "year", "write the year that the figure is from", "%v is no year", v)
	case !p.Date.IsZero() && int(n) > p.Date.Year():
		d.Fault(at, "year to come", "correct the year, or the date of the prices", "%d is after the date of the prices, %s", n, p.Date.Format(time.DateOnly))
	}
	return int(n)
}

// date reads the day that the prices hold for, as a date of TOML or as text.
func (d priceText) date(root map[string]any) time.Time {
	v, ok := root["date"]
	if !ok {
		d.Fault("date", "missing date", "add date = 2026-11-25, the day that the prices hold for", "date is missing")
		return time.Time{}
	}
	// a value of another type leaves s empty, which is no day
	var s string
	switch x := v.(type) {
	case toml.LocalDate:
		s = x.String()
	case string:
		s = x
	}
	day, err := time.Parse(time.DateOnly, s)
	if err != nil || day.Year() < firstYear || day.Year() > lastYear {
		d.Fault("date", "date", "write year, month and day: 2026-11-25", "%v is no day", v)
		return time.Time{}
	}
	return day
}

// nutrient returns what fertilizer is sold by for a code.
func (d priceText) nutrient(code string) (sold string, ok bool) {
	if n, ok := nutrient.ByCode(code); ok {
		return n.Sold(), true
	}
	var codes []string
	for _, n := range nutrient.Nutrients() {
		codes = append(codes, n.Code())
	}
	d.Fault(tomltext.Join("nutrient", code), "nutrient", "write "+strings.Join(codes, ", "), "%q is no nutrient", code)
	return "", false
}
