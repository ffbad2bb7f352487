package ssurgo

import (
	"cmp"
	"strings"
	"time"

	"rootworthy/internal/diag"
	"rootworthy/soils"
	"rootworthy/soils/unit"
)

// generalSymbol is the area symbol of the general soil map of the country at 1:250,000 (STATSGO2).
const generalSymbol = "US"

// legend takes a row of table legend: a survey area. Should one stand twice, what is kept does not depend on the order.
func (j *joiner) legend(r *record) {
	symbol := j.area.intern(r.text("areasymbol"))
	if key := r.text("lkey"); key != "" {
		// the smaller of two, so that the order of rows decides nothing
		if old, ok := j.symbols[key]; !ok || symbol < old {
			j.symbols[j.area.intern(key)] = symbol
		}
	}
	s := j.areaOf(symbol)
	if name := j.area.intern(r.text("areaname")); s.Name == "" || name < s.Name {
		s.Name = name
	}
	// a scale under 1:1 or beyond any map is none
	if v, ok := r.real("projectscale").Get(); ok && v >= 1 && v <= 1e9 {
		s.Scale = unit.Some(max(int(v), s.Scale.Or(0))) // the coarser
	}
}

// catalog takes a row of table sacatalog: version and date of a survey area. Of two the newer is taken.
func (j *joiner) catalog(r *record) {
	s := j.areaOf(j.area.intern(r.text("areasymbol")))
	version, text := r.text("saversion"), r.text("saverest")
	day, ok := parseDay(text)
	if !ok && text != "" {
		r.fault("saverest", "date", "\""+clip(text)+"\" is not a date like 09/13/2021 16:35:51", "the date is taken as not recorded")
	}
	// the date decides, and the version only within one date
	if cmp.Or(cmp.Compare(day, s.Date), soils.CompareKeys(version, s.Version)) > 0 {
		s.Version, s.Date = j.area.intern(version), day
	}
	// the legend's name goes before the catalogue's, since it is read first
	if s.Name == "" {
		s.Name = j.area.intern(r.text("areaname"))
	}
}

// parseDay returns the day of a date as files write it, or as the web service does.
func parseDay(s string) (day string, ok bool) {
	for _, form := range []string{"01/02/2006 15:04:05", "1/2/2006 3:04:05 PM", "2006-01-02T15:04:05", "2006-01-02 15:04:05", "2006-01-02",
		"2006-01-02T15:04:05Z07:00", "2006/01/02 15:04:05", "2006/01/02 15:04:05-07", "01/02/2006", "1/2/2006 15:04:05"} {
		if t, err := time.Parse(form, s); err == nil {
			// days alone: the hours carry no zone
			return t.Format("2006-01-02"), true
		}
	}
	return "", false
}

// areaOf returns the survey area of that symbol, made when it is new. The pointer holds until the next call.
func (j *joiner) areaOf(symbol string) *soils.Area {
	at, ok := j.areaAt[symbol]
	if !ok {
		at = len(j.areas)
		j.areaAt[symbol] = at
		j.areas = append(j.areas, soils.Area{Symbol: symbol, General: symbol == generalSymbol})
	}
	return &j.areas[at]
}

// mapUnit takes a row of table mapunit.
func (j *joiner) mapUnit(r *record) {
	key := r.text("mukey")
	// polygons name map units by it, and components hang on it
	if key == "" {
		r.fault("mukey", "no key", "a map unit without a key", "it is left out: nothing can be joined to it")
		return
	}
	u := soils.MapUnit{Key: strings.Clone(key), Symbol: j.area.intern(r.text("musym")), Name: j.area.intern(r.text("muname")),
		Kind: j.area.intern(r.text("mukind")), Area: j.symbolOf(r)}
	if at, old := j.unitAt[key]; old {
		if r.repeated("mukey", contentOf(&j.units[at]), contentOf(&u)) {
			j.units[at] = u
		}
		return
	}
	j.unitAt[u.Key] = len(j.units)
	j.units = append(j.units, u)
}

// symbolOf returns the symbol of the survey area that a map unit belongs to.
func (j *joiner) symbolOf(r *record) string {
	symbol, ok := j.symbols[r.text("lkey")]
	// without a legend no unit has an area, which was told once for the table
	if !ok && len(j.symbols) > 0 {
		j.area.faults.Notice(diag.Fault{File: r.table.name, Line: r.line, Field: "lkey", Kind: "orphan",
			What: "the map unit belongs to no survey area of this export", Fix: "its area is taken as not recorded"})
	}
	return symbol
}
