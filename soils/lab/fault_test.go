package lab

import (
	"strings"
	"testing"

	"rootworthy/internal/diag"
)

// readString reads text as a file.
func readString(t *testing.T, text string, m *Mapping) (Results, *diag.List) {
	t.Helper()
	var faults diag.List
	r, err := Read("tests.csv", strings.NewReader(text), int64(len(text)), m, &faults)
	if err != nil {
		t.Fatalf("%v\n%s", err, text)
	}
	return r, &faults
}

// The place of each fault is marked «» in the input; the fault must name its line and column, and nothing else be wrong.
func TestFaultsNameTheirPlace(t *testing.T) {
	for name, c := range map[string]struct{ marked, field, kind string }{
		"letters":          {"sample_id,ph_water\nA1,«abc»\nA2,6\n", "ph_water", "not a figure"},
		"out of range":     {"sample_id,ph_water\nA1,6.4\nA2,«64»\n", "ph_water", "out of range"},
		"negative":         {"sample_id,p_m3_ppm\nA1,5\nA2,«-5»\n", "p_m3_ppm", "out of range"},
		"limit of a pH":    {"sample_id,ph_water,om_pct\nA1,«<4.5»,3\n", "ph_water", "limit"},
		"not detected pH":  {"sample_id,ph_water,om_pct\nA1,«ND»,3\n", "ph_water", "limit"},
		"comma":            {"sample_id;ca_m3_ppm\nA1;«1,150»\nA2;900\n", "ca_m3_ppm", "comma"},
		"day or month":     {"sample_id,date,ph_water\nA1,«7/8/2022»,6\n", "date", "day or month"},
		"no such day":      {"sample_id,date,ph_water\nA1,«2022-02-30»,6\n", "date", "bad date"},
		"upside down":      {"sample_id,top_cm,bottom_cm,ph_water\nA1,«30»,15,6\n", "depth", "upside down"},
		"too deep":         {"sample_id,top_cm,bottom_cm,ph_water\nA1,0,«15000»,6\n", "bottom_cm", "out of range"},
		"bad layer":        {"sample_id,depth_cm,ph_water\nA1,«deep»,6\n", "depth_cm", "bad layer"},
		"projected":        {"sample_id,lon,lat,ph_water\nA1,«512345»,\"\",6\n", "lon", "not degrees"},
		"swapped":          {"sample_id,lon,lat,ph_water\nA1,33.1,«-96.4»,6\n", "lat", "not degrees"},
		"null island":      {"sample_id,lon,lat,ph_water\nA1,«0»,0,6\n", "lon, lat", "null island"},
		"half a point":     {"sample_id,lon,lat,ph_water\nA1,«-83»,,6\n", "lon, lat", "half a point"},
		"half a core":      {"sample_id,cores,ph_water\nA1,«2.5»,6\n", "cores", "out of range"},
		"buffer unsaid":    {"sample_id,«buffer_ph»\nA1,6.4\n", "buffer_ph", "buffer not stated"},
		"unknown buffer":   {"sample_id,buffer,buffer_ph_smp\nA1,«Jones»,6.4\n", "buffer", "unknown method"},
		"two depth units":  {"sample_id,depth_in,ph_water\nA1,«0-20 cm»,6.4\nA2,0-6 in,6.4\n", "depth_in", "two units of depth"},
		"depth unit":       {"sample_id,«depth»,ph_water\nA1,0-6,6.4\n", "depth", "depth without a unit"},
		"too many cells":   {"sample_id,ph_water\nA1,6,«4»\n", "", "too many cells"},
		"more than soil":   {"sample_id,ca_m3_pct\nA1,«101»\n", "ca_m3_pct", "out of range"},
		"open quotation":   {"sample_id,ph_water\n«\"A1»,6\n", "", "open quotation mark"},
		"lime of a planet": {"sample_id,lab_lime_st_ac\nA1,«400»\n", "lab_lime_st_ac", "out of range"},
		"after preamble":   {"A Laboratory\n12 Some Street\n\nSample ID,pH (water)\nA1,«x»\nA2,6\n", "pH (water)", "not a figure"},
		"quoted lines":     {"sample_id,lab_lime_text,ph_water\n\"A\n1\",\"two\nlines\",«x»\nA2,,6\n", "ph_water", "not a figure"},
		"old mac":          {"sample_id,ph_water\rA1,6\rA2,«x»\r", "ph_water", "not a figure"},
	} {
		text := strings.NewReplacer("«", "", "»", "").Replace(c.marked)
		r, faults := readString(t, text, nil)
		kept := faults.Kept()
		before := c.marked[:strings.Index(c.marked, "«")]
		line := 1 + strings.Count(strings.ReplaceAll(before, "\r", "\n"), "\n")
		if name == "quoted lines" {
			line = 2 // where the row begins
		}
		if faults.Faults() != 1 || kept[0].Line != line || kept[0].Field != c.field || kept[0].Kind != c.kind || kept[0].File != "tests.csv" || kept[0].Fix == "" {
			t.Errorf("%s: %v, want one fault of kind %q in line %d, field %q", name, kept, c.kind, line, c.field)
		}
		if len(r.Samples) == 0 && c.kind == "too many cells" {
			t.Errorf("%s: the row is lost", name)
		}
	}
}

// A fault costs its cell and nothing more.
func TestTheRestOfTheRowStays(t *testing.T) {
	r, faults := readString(t, "sample_id,ph_water,p_m3_ppm,k_m3_ppm\nA1,64,<5,x\nA2,6.1,9,120\n", nil)
	if faults.Faults() != 2 || len(r.Samples) != 2 {
		t.Fatalf("%d samples; %s", len(r.Samples), faults)
	}
	p, _ := r.Samples[0].Nutrient(Phosphorus, Mehlich3)
	if r.Samples[0].PH.Has() || p.ByMass.Bound != Below || p.ByMass.Value.Or(0) != 5 {
		t.Errorf("first sample: %+v", r.Samples[0])
	}
	if v, ok := p.ByMass.Exact(); ok {
		t.Errorf("a limit was taken for the figure %v", v)
	}
}

// Files that are often sent and are no tests end in one sentence that says what to do.
func TestOtherFiles(t *testing.T) {
	for text, want := range map[string]string{
		"":                                 "empty",
		" \n\n":                            "empty",
		"%PDF-1.4 …":                       "PDF",
		"\xd0\xcf\x11\xe0\xa1\xb1\x1a":     "save it as .xlsx",
		"<html><body>":                     "web page",
		"<table><tr>":                      "web page",
		"<Report><pH>6</pH></Report>":      "not a file of Modus results",
		"<ModusSubmit/>":                   "not a file of Modus results",
		"<ModusResult/>":                   "no soil sample",
		"<ModusResult":                     "XML",
		"{}":                               "no soil sample",
		`{"Events":[{`:                     "line 1",
		"{} {}":                            "text follows",
		"PK\x03\x04 and nothing":           "not a readable workbook",
		"name,phone\nA,1\n":                "no header of soil test results",
		"a,b,c":                            "no header of soil test results",
		"\x00\x01\x02\x03\x04\x05\x06\x07": "no header of soil test results",
	} {
		var faults diag.List
		_, err := Read("file", strings.NewReader(text), int64(len(text)), nil, &faults)
		if err == nil || !strings.Contains(err.Error(), want) || !strings.HasPrefix(err.Error(), "file") || strings.Contains(err.Error(), "\n") {
			t.Errorf("Read(%q) = %v, want one line with %q", text, err, want)
		}
	}
	var faults diag.List
	if _, err := Read("file", strings.NewReader(""), 1<<40, nil, &faults); err == nil || !strings.Contains(err.Error(), "more than") {
		t.Errorf("a file of a terabyte: %v", err)
	}
}

// TestNoSample: a file that is read but holds no sample is no success.
func TestNoSample(t *testing.T) {
	for _, text := range []string{"sample_id,ph_water\n", "sample_id,ph_water\nA,\n"} {
		faults := &diag.List{}
		res, err := Read("tests.csv", strings.NewReader(text), int64(len(text)), nil, faults)
		if err != nil || len(res.Samples) != 0 || faults.Faults() != 1 || !strings.Contains(faults.String(), "holds no sample") {
			t.Errorf("%q: %v, %v", text, err, faults)
		}
	}
}
