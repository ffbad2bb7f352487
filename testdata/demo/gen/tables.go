package main

import (
	"fmt"
	"strconv"
	"strings"
)

// row is one record of a table: values by 1-based position, as the survey's text form writes them.
type row map[int]string

const areaSymbol, areaName, legendKey = "ZZ901", "Tarn Hollow, an invented survey area", "99001"

func quoted(s string) string {
	if s == "" {
		return ""
	}
	return `"` + strings.ReplaceAll(s, `"`, `""`) + `"`
}

func number(v float64) string { return strconv.FormatFloat(v, 'f', -1, 64) }

// line prints a record of n fields between pipes.
func (r row) line(n int) string {
	f := make([]string, n)
	for i := range f {
		f[i] = r[i+1]
	}
	return strings.Join(f, "|") + "\r\n"
}

// tables returns the text tables by file name. Positions: soil survey data dictionary of template version 2.3.3.
func tables() map[string]string {
	t := map[string]string{"version.txt": "2.3.3\r\n"}
	add := func(file string, n int, r row) { t[file] += r.line(n) }
	add("legend.txt", 14, row{1: quoted("Non-MLRA Soil Survey Area"), 2: quoted(areaSymbol), 3: quoted(areaName), 4: "1380", 9: "20000", 14: quoted(legendKey)})
	add("sacatlog.txt", 11, row{1: quoted(areaSymbol), 2: quoted(areaName), 3: "1", 4: "01/15/2026 00:00:00", 5: "1", 6: "01/15/2026 00:00:00"})
	for _, m := range mapUnits {
		add("mapunit.txt", 24, row{1: quoted(m.musym), 2: quoted(m.name), 3: quoted(m.kind), 23: quoted(legendKey), 24: quoted(m.mukey)})
		for ci, c := range m.components {
			c.write(add, m, fmt.Sprintf("%s%02d", m.mukey, ci+1))
		}
	}
	return t
}

func (c component) write(add func(string, int, row), m mapUnit, cokey string) {
	r := row{2: strconv.Itoa(c.pct), 4: quoted(c.name), 5: quoted("Series"), 6: quoted("No "), 24: quoted(c.drainage), 80: quoted(c.hydgrp), 84: quoted(c.order), 108: quoted(m.mukey), 109: quoted(cokey)}
	if c.pct >= 15 {
		r[6] = quoted("Yes")
	}
	if c.misc {
		r[5] = quoted("Miscellaneous area")
	}
	if c.slope[2] > 0 {
		r[9], r[10], r[11] = number(c.slope[0]), number(c.slope[1]), number(c.slope[2])
	}
	add("comp.txt", 109, r)
	for hi, h := range c.horizons {
		h.write(add, cokey, fmt.Sprintf("%s%02d", cokey, hi+1))
	}
	if c.restriction != "" {
		add("crstrcts.txt", 13, row{1: quoted(c.restriction), 4: strconv.Itoa(c.restrictionTop), 12: quoted(cokey), 13: quoted(cokey + "r")})
	}
	if len(c.horizons) > 0 {
		c.months(add, cokey)
	}
}

func (h horizon) write(add func(string, int, row), cokey, chkey string) {
	r := row{1: quoted(h.name), 7: strconv.Itoa(h.top), 10: strconv.Itoa(h.bottom), 170: quoted(cokey), 171: quoted(chkey)}
	r[3] = quoted(strings.TrimRight(h.name, "pgtwx12"))
	if h.ph > 0 {
		r[135], r[136], r[137] = number(h.phL), number(h.ph), number(h.phH)
		r[86], r[34], r[61] = number(h.awc), strconv.Itoa(h.sand), strconv.Itoa(h.clay)
		r[52] = strconv.Itoa(100 - h.sand - h.clay)
		r[121], r[124] = "0", "0"
	}
	add("chorizon.txt", 171, r)
	add("chtextur.txt", 4, row{1: quoted(textureWords[h.texture]), 3: quoted(chkey + "t"), 4: quoted(chkey + "u")})
	add("chtexgrp.txt", 6, row{1: quoted(h.texture), 2: quoted("No "), 3: quoted("Yes"), 5: quoted(chkey), 6: quoted(chkey + "t")})
}

// textureWords are the survey's words for the codes used here; rock has none.
var textureWords = map[string]string{"SL": "Sandy loam", "SCL": "Sandy clay loam", "L": "Loam", "CL": "Clay loam", "SIL": "Silt loam", "SICL": "Silty clay loam"}

var monthNames = []string{"January", "February", "March", "April", "May", "June", "July", "August", "September", "October", "November", "December"}

func (c component) months(add func(string, int, row), cokey string) {
	for i, name := range monthNames {
		key := fmt.Sprintf("%sm%02d", cokey, i+1)
		r := row{1: strconv.Itoa(i + 1), 2: quoted(name), 3: quoted(c.flooding), 5: quoted(c.ponding), 16: quoted(cokey), 17: quoted(key)}
		if c.flooding != "None" {
			r[4] = quoted("Brief (2 to 7 days)")
		}
		add("cmonth.txt", 17, r)
		if c.wetFrom > 0 && (i < 4 || i == 11) {
			add("csmoist.txt", 9, row{2: "0", 5: strconv.Itoa(c.wetFrom), 7: quoted("Moist"), 8: quoted(key), 9: quoted(key + "a")})
			add("csmoist.txt", 9, row{2: strconv.Itoa(c.wetFrom), 5: "150", 7: quoted("Wet"), 8: quoted(key), 9: quoted(key + "b")})
		} else {
			add("csmoist.txt", 9, row{2: "0", 5: "150", 7: quoted("Moist"), 8: quoted(key), 9: quoted(key + "a")})
		}
	}
}
