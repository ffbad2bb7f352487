package soils

import (
	"math"
	"testing"

	"rootworthy/soils/unit"
)

// Spans may run over the turn of the year; numbers that are no month are in no set.
func TestMonthSets(t *testing.T) {
	for _, c := range []struct {
		first, last int
		want        MonthSet
	}{{4, 6, AprilToJune}, {11, 6, NovemberToJune}, {1, 12, AllMonths}, {7, 6, AllMonths}, {12, 1, 1<<12 | 1<<1}, {3, 3, 1 << 3}} {
		if got := MonthsFrom(c.first, c.last); got != c.want {
			t.Errorf("MonthsFrom(%d, %d) = %b, want %b", c.first, c.last, got, c.want)
		}
	}
	for m, want := range map[int]bool{0: false, 1: true, 6: true, 7: false, 10: false, 11: true, 12: true, 13: false, -3: false} {
		if NovemberToJune.Has(m) != want {
			t.Errorf("NovemberToJune.Has(%d) = %v", m, !want)
		}
	}
}

// Missing and known is a month described as dry, missing and unknown one of which nothing is said: the difference decides ratings.
func TestShallowestWet(t *testing.T) {
	c := Component{Months: []Month{
		{Month: 2, Layers: []MoistureLayer{layer(0, 46, "Moist"), layer(46, 200, "Wet")}},
		{Month: 5, Layers: []MoistureLayer{layer(0, 60, "Moist"), layer(60, 200, "wet")}},
		{Month: 8, Layers: []MoistureLayer{layer(0, 200, "Dry")}},
		{Month: 9, Layers: []MoistureLayer{layer(0, 10, "")}},
		{Month: 10},
	}}
	for _, w := range []struct {
		name  string
		in    MonthSet
		want  float64
		known bool
	}{
		{"of the year", AllMonths, 46, true}, {"April to June", AprilToJune, 60, true}, {"a dry month", MonthsFrom(8, 8), math.NaN(), true},
		{"a month without a status", MonthsFrom(9, 9), math.NaN(), false}, {"a month without rows", MonthsFrom(10, 12), math.NaN(), false},
	} {
		d, known := c.ShallowestWet(w.in)
		near(t, w.name, d, w.want, 0)
		if known != w.known {
			t.Errorf("%s: known = %v, want %v", w.name, known, w.known)
		}
	}
}

// Long counts only in months of the highest class: a rare flood that lasts says nothing about the more frequent ones.
func TestFloodingAndPonding(t *testing.T) {
	flood := func(f Frequency, duration string) Month { return Month{Flooding: f, FloodDuration: duration} }
	for _, c := range []struct {
		name   string
		months []Month
		want   Frequency
		long   bool
	}{
		{"no rows", nil, FrequencyUnknown, false},
		{"rows without a class", []Month{flood(FrequencyUnknown, "Long")}, FrequencyUnknown, false},
		{"none", []Month{flood(Never, ""), flood(FrequencyUnknown, "")}, Never, false},
		{"highest wins", []Month{flood(Rare, "Long"), flood(Occasional, "Brief"), flood(Never, "")}, Occasional, false},
		{"long in one month of the class", []Month{flood(Occasional, "Brief"), flood(Occasional, "Long"), flood(Rare, "")}, Occasional, true},
		{"with the span of time", []Month{flood(Frequent, "Very long (more than 30 days)")}, Frequent, true},
		{"short with the span", []Month{flood(Frequent, "Very brief (4 to 48 hours)")}, Frequent, false},
	} {
		got, long := Component{Months: c.months}.Flooding()
		if got != c.want || long != c.long {
			t.Errorf("%s: %v, long %v; want %v, %v", c.name, got, long, c.want, c.long)
		}
	}
	if got, _ := (Component{Months: []Month{{Flooding: Frequent, Ponding: Rare}}}).Ponding(); got != Rare {
		t.Errorf("ponding %v, want Rare", got)
	}
}

// Rock is a limit whether the table of restrictions names it or only a horizon does; the shallower of the two counts.
func TestRestrictions(t *testing.T) {
	at := func(kind string, cm float64) Restriction {
		return Restriction{Kind: kind, Top: unit.Some(unit.Depth(cm))}
	}
	rock := func(name, master string, top float64) Horizon {
		return Horizon{Name: name, Master: master, Top: unit.Some(unit.Depth(top)), Bottom: unit.Some(unit.Depth(top + 10))}
	}
	for _, c := range []struct {
		name     string
		c        Component
		hard     string
		hardTop  float64
		softKind string
	}{
		{"none", Component{}, "", math.NaN(), ""},
		{"soft above hard", Component{Restrictions: []Restriction{at("Abrupt textural change", 30), at("Fragipan", 60)}}, "Fragipan", 60, "Abrupt textural change"},
		{"a kind not recorded is hard", Component{Restrictions: []Restriction{at("", 40)}}, "", 40, ""},
		{"R horizon without a row", Component{Horizons: []Horizon{rock("2R", "R", 91)}}, "Bedrock", 91, ""},
		{"Cr horizon without a row", Component{Horizons: []Horizon{rock("Cr", "C", 70)}}, "Bedrock", 70, ""},
		{"rock below the row", Component{Restrictions: []Restriction{at("Lithic bedrock", 50)}, Horizons: []Horizon{rock("R", "R", 55)}}, "Lithic bedrock", 50, ""},
		{"C is no rock", Component{Horizons: []Horizon{rock("C", "C", 70)}}, "", math.NaN(), ""},
		{"a row without a depth", Component{Restrictions: []Restriction{{Kind: "Duripan"}}}, "", math.NaN(), ""},
	} {
		r, ok := c.c.HardRestriction()
		near(t, c.name, r.Top, c.hardTop, 0)
		if ok == math.IsNaN(c.hardTop) || r.Kind != c.hard {
			t.Errorf("%s: %+v, %v; want %q", c.name, r, ok, c.hard)
		}
		if s, _ := c.c.SoftRestriction(); s.Kind != c.softKind {
			t.Errorf("%s: soft %q, want %q", c.name, s.Kind, c.softKind)
		}
	}
}

// Codes as they stand in chtexgrp.txt of SSURGO AR017, AZ649, MO181 and TX347.
func TestParseTexture(t *testing.T) {
	for s, want := range map[string]string{"SIL": "SIL", "Silt loam": "SIL", "GRV-SIL": "SIL", "MK-SL": "SL", "SR- SIC": "SIC",
		"SR- FSL SIL": "", "SR- GRV-COS GRV-S": "", "CBX-L": "L", "BR": "", "SPM": "", "GR-SPM": "", "CEM-MAT": "", "VAR": "", "": "", "-": "", " sl ": "SL"} {
		if got, ok := ParseTexture(s); got != want || ok != (want != "") {
			t.Errorf("ParseTexture(%q) = %q, %v, want %q", s, got, ok, want)
		}
	}
	for _, code := range TextureClasses() {
		if got, ok := ParseTexture("PGR-" + code); !ok || got != code {
			t.Errorf("ParseTexture(PGR-%s) = %q, %v", code, got, ok)
		}
	}
}
