package lab

import (
	"bytes"
	"math"
	"strings"
	"testing"
	"time"

	"golang.org/x/text/encoding/charmap"
	"golang.org/x/text/encoding/unicode"

	"rootworthy/internal/diag"
	"rootworthy/soils/unit"
)

// The same table in many dialects reads the same.
func TestDialects(t *testing.T) {
	plain := "Sample ID,Water pH,P Mehlich-3 ppm,Crop,Lime Rec tons/ac\nÄcker 1,6.4,1150.5,alfalfa,1.5\nA2,5.25,<0.5,alfalfa,0\n"
	comma := strings.NewReplacer(",", ";", ".", ",").Replace(plain)
	utf16, err := unicode.UTF16(unicode.LittleEndian, unicode.UseBOM).NewEncoder().Bytes([]byte(strings.ReplaceAll(plain, ",", "\t")))
	if err != nil {
		t.Fatal(err)
	}
	latin, err := charmap.Windows1252.NewEncoder().Bytes([]byte(comma))
	if err != nil {
		t.Fatal(err)
	}
	for name, c := range map[string]struct{ text, format string }{
		"plain":             {plain, "text with commas, UTF-8"},
		"byte order mark":   {"\xef\xbb\xbf" + plain, "text with commas, UTF-8"},
		"windows lines":     {strings.ReplaceAll(plain, "\n", "\r\n"), "text with commas, UTF-8"},
		"tabs":              {strings.ReplaceAll(plain, ",", "\t"), "text with tabs, UTF-8"},
		"bars":              {strings.ReplaceAll(plain, ",", " | "), "text with bars, UTF-8"},
		"decimal comma":     {comma, "text with semicolons, UTF-8"},
		"Windows-1252":      {string(latin), "text with semicolons, Windows-1252"},
		"UTF-16":            {string(utf16), "text with tabs, UTF-16"},
		"UTF-16, no mark":   {string(utf16[2:]), "text with tabs, UTF-16"},
		"quoted":            {`"` + strings.NewReplacer(",", `","`, "\n", "\"\n\"").Replace(strings.TrimSuffix(plain, "\n")) + "\"\n", "text with commas, UTF-8"},
		"no last line end":  {strings.TrimSuffix(plain, "\n"), "text with commas, UTF-8"},
		"below an address":  {"A Laboratory, 12 Some Street\nClient: somebody\n\n" + plain, "text with commas, UTF-8"},
		"header repeated":   {plain[:strings.Index(plain, "A2")] + plain[:strings.Index(plain, "Ä")] + plain[strings.Index(plain, "A2"):], "text with commas, UTF-8"},
		"with a mean below": {plain + "Average,5.8,575,,0.75\n", "text with commas, UTF-8"},
	} {
		r, faults := readString(t, c.text, nil)
		if len(r.Samples) != 2 || faults.Faults() != 0 || r.Understood.Format != c.format {
			t.Errorf("%s: %d samples, %s; %s", name, len(r.Samples), r.Understood.Format, faults)
			continue
		}
		s := r.Samples[0]
		p, _ := s.Nutrient(Phosphorus, Mehlich3)
		if s.ID != "Äcker 1" || s.PH.Or(0) != 6.4 || s.PHAssumed || p.ByMass.Value.Or(0) != 1150.5 || len(s.Lime) != 1 || s.Lime[0].Crop != "alfalfa" ||
			math.Abs(s.Lime[0].Rate.Or(0).ShortTonsPerAcre()-1.5) > 1e-12 || !strings.HasSuffix(s.Lime[0].Given, "short tons/ac") {
			t.Errorf("%s: %+v", name, s)
		}
		if z := r.Samples[1].Lime[0].Rate; !z.Has() || z.Or(1) != 0 {
			t.Errorf("%s: no lime needed is a figure of zero, got %v", name, z)
		}
	}
}

// Each unit comes to mg/kg (or mg/dm³) by the factor of its definition; sources stand in package unit.
func TestUnitsOfContent(t *testing.T) {
	for _, c := range []struct {
		header, cell string
		m            *Mapping
		want         float64
		volume       bool
	}{
		{"p_m3_ppm", "25", nil, 25, false},
		{"p_m3_lb_ac", "50", nil, 25, false},                        // ppm-01: Joines
		{"p_m3_lb_ac", "60", &Mapping{SliceLbAc: 2.4e6}, 25, false}, // 8 in slice: UC Davis method 450
		{"p_m3_kg_ha", "56.04255779", nil, 25, false},               // 50 lb/ac
		{"p2o5_m3_ppm", "57.285", nil, 25, false},                   // ox-01
		{"k2o_nh4oac_lb_ac", "240.92", nil, 100, false},             // ox-02
		{"ca_m3_meq", "2.5", nil, 500, false},                       // 200 mg/kg a meq/100 g
		{"mg_nh4oac_meq", "1", nil, 120, false},
		{"al_kcl_meq", "2", nil, 180, false},
		{"k_m3_pct", "0.01", nil, 100, false},
		{"zn_dtpa_ppb", "500", nil, 0.5, false},
		{"fe_total_g_kg", "7", nil, 7000, false},
		{"p_m3_mg_dm3", "60", nil, 60, true},
		{"ca_m3_meq_100cm3", "2.5", nil, 500, true},
	} {
		r, faults := readString(t, "sample_id,"+c.header+"\nA,"+c.cell+"\n", c.m)
		if len(r.Samples) != 1 || len(r.Samples[0].Nutrients) != 1 {
			t.Errorf("%s: %+v; %s", c.header, r, faults)
			continue
		}
		n := r.Samples[0].Nutrients[0]
		got, other := float64(n.ByMass.Value.Or(-1)), n.ByVolume.Measured()
		if c.volume {
			got, other = float64(n.ByVolume.Value.Or(-1)), n.ByMass.Measured()
		}
		if math.Abs(got-c.want) > 1e-6*c.want || other {
			t.Errorf("%s %s = %v, want %v", c.header, c.cell, got, c.want)
		}
	}
}

// Lime comes in the units that laboratories print; factors as in package unit.
func TestUnitsOfLime(t *testing.T) {
	for header, cell := range map[string]string{"lab_lime_st_ac": "1", "lab_lime_lb_ac": "2000", "lab_lime_t_ha": "2.241702312", "lab_lime_kg_ha": "2241.702312",
		"Limestone (lb/1000 sq ft)": "45.9136822773"} { // 2000 lb ÷ 43.56 thousand square feet
		r, _ := readString(t, "sample_id,"+header+"\nA,"+cell+"\n", nil)
		if got := r.Samples[0].Lime[0].Rate.Or(0).ShortTonsPerAcre(); math.Abs(got-1) > 1e-9 {
			t.Errorf("%s %s = %v short tons/ac, want 1", header, cell, got)
		}
	}
	r, faults := readString(t, "sample_id,Lime Rec,ph_water\nA,3,5.1\n", nil)
	if l := r.Samples[0].Lime; len(l) != 1 || l[0].Rate.Has() || l[0].Given != "3" || faults.Faults() != 0 || faults.Notices() != 1 {
		t.Errorf("lime without a unit: %+v; %s", l, faults)
	}
}

// Several crops each have their lime, told apart by the order of columns.
func TestLimeOfSeveralCrops(t *testing.T) {
	r, _ := readString(t, "Sample ID,pH,Crop 1,Lime Rec tons/ac,Crop 2,Lime Rec tons/ac,Lime comments\nA,5.4,alfalfa,2.5,corn,1,to pH 6.8\nB,5.4,,,corn,1,\n", nil)
	if got := r.Samples[0].Lime; len(got) != 2 || got[0].Crop != "alfalfa" || got[0].Text != "to pH 6.8" || got[1].Crop != "corn" || got[1].Rate.Or(0) != unit.ShortTonsPerAcre(1) {
		t.Errorf("A: %+v", got)
	}
	if got := r.Samples[1].Lime; len(got) != 1 || got[0].Crop != "corn" {
		t.Errorf("B: %+v", got)
	}
}

// Laboratories export every column they have. Of two that give the same the one with a figure counts; of two with figures
// the one that takes nothing for granted.
func TestTwoColumnsForOneThing(t *testing.T) {
	r, faults := readString(t, "Sample ID,Bag,pH 1:2 water,1:1 Soil pH,M3-P ppm,Mehlich P-III ppm P,%K Sat,K_PCT\nA,x,6.0,5.8,,31,4,4\nB,y,6.1,,30,30,,5\n", nil)
	a, b := r.Samples[0], r.Samples[1]
	pa, _ := a.Nutrient(Phosphorus, Mehlich3)
	pb, _ := b.Nutrient(Phosphorus, Mehlich3)
	if a.ID != "A" || a.PH.Or(0) != 5.8 || b.PH.Or(0) != 6.1 || pa.ByMass.Value.Or(0) != 31 || pb.ByMass.Value.Or(0) != 30 || len(a.Saturation) != 1 || saturationBy(&b, Potassium) != "5" {
		t.Errorf("%+v %+v", a, b)
	}
	if faults.Faults() != 0 || faults.Notices() != 1 || !strings.Contains(faults.String(), `pH 1:2 water: "6.0" is not used: "1:1 Soil pH" gives "5.8"`) {
		t.Errorf("%s", faults)
	}
	if n := r.Understood.Columns[5]; n.Values != 1 || n.Unused != 1 || !n.Used() {
		t.Errorf("%+v", n)
	}
}

// Potassium and its oxide are one figure in two forms and no contradiction; phosphorus and acidity differ.
func TestGivenTwiceInOtherWords(t *testing.T) {
	r, faults := readString(t, "sample_id,extractant,p_ppm,p_m3_ppm,k_m3_ppm,k2o_m3_ppm,exch_acidity_meq,H meq/100g\nA,M3,5,6,100,120.46,1.5,1.4\n", nil)
	p, _ := r.Samples[0].Nutrient(Phosphorus, Mehlich3)
	if p.ByMass.Value.Or(0) != 5 || len(r.Samples[0].Nutrients) != 2 || len(r.Samples[0].Acidity) != 1 || r.Samples[0].Acidity[0].ByMass.Value.Or(0) != 1.5 {
		t.Errorf("%+v", r.Samples[0])
	}
	if faults.Faults() != 0 || faults.Notices() != 2 {
		t.Errorf("phosphorus and acidity differ, potassium does not: %s", faults)
	}
}

// A charge is one figure for potassium and its oxide: 0.5 meq/100 g are 195 mg/kg of potassium, by the 39 mg/meq that laboratories compute
// with (see unit.PotassiumEquivalent). By mass the oxide weighs 1.2046 times as much (definition; computed).
func TestOxideByCharge(t *testing.T) {
	for header, want := range map[string]float64{"K2O Mehlich-3 meq/100 g": 195, "K2O Mehlich-3 cmolc/kg": 195, "K2O Mehlich-3 meq/100 cm3": 195,
		"K Mehlich-3 meq/100 g": 195, "K2O Mehlich-3 ppm": 0.5 / 1.2046} {
		r, faults := readString(t, "sample_id,"+header+"\nA,0.5\n", nil)
		k, ok := r.Samples[0].Nutrient(Potassium, Mehlich3)
		got := k.ByMass.Value.Or(0) + unit.Content(k.ByVolume.Value.Or(0))
		if !ok || math.Abs(float64(got)-want) > 1e-9 || faults.Faults() != 0 {
			t.Errorf("%s: %g, want %g; %s", header, float64(got), want, faults)
		}
	}
}

// A column "Lab" of numbers is the laboratory's number for the sample, unless the mapping says that it is the laboratory: one may be known
// by a number.
func TestTheMappingStandsAgainstTheCells(t *testing.T) {
	const text = "Bag,Lab,pH\nA,12,6.1\nB,12,6.2\n"
	for called, want := range map[string]Sample{"": {LabNumber: "12"}, "lab": {Lab: "12"}, "lab_number": {LabNumber: "12"}, "ignore": {}} {
		var m *Mapping
		if called != "" {
			m = &Mapping{Columns: map[string]string{"LAB": called}}
		}
		r, _ := readString(t, text, m)
		if s := r.Samples[1]; s.Lab != want.Lab || s.LabNumber != want.LabNumber {
			t.Errorf("called %q: laboratory %q, number %q", called, s.Lab, s.LabNumber)
		}
	}
}

// Pounds an acre are of a slice that somebody chose; when the mapping says it, nothing is taken for granted.
func TestSlicesAreSaid(t *testing.T) {
	r, _ := readString(t, "sample_id,cores,p_m1_lb_ac,clay_g_kg\nA,12,50,240\n", nil)
	if c := r.Understood.Columns[2]; !strings.Contains(c.Assumed, "2,000,000 lb") || !r.Samples[0].Composite() || r.Samples[0].Clay.Or(0) != 24 {
		t.Errorf("%+v %+v", c, r.Samples[0])
	}
	r, _ = readString(t, "sample_id,p_m1_lb_ac\nA,60\n", &Mapping{SliceLbAc: 2.4e6})
	if c := r.Understood.Columns[1]; c.Assumed != "" {
		t.Errorf("%+v", c)
	}
}

// A row may name its own buffer and extractant.
func TestMethodsOfTheRow(t *testing.T) {
	r, faults := readString(t, "sample_id,buffer type,Buffer pH,Extractant,P ppm,K ppm\nA,SMP,6.5,Mehlich 3,20,100\nB,Adams-Evans buffer,7.6,Mehlich-1,8,90\nC,,6.6,,5,80\n", nil)
	a, b, c := r.Samples[0], r.Samples[1], r.Samples[2]
	if a.Buffer.SMP.Or(0) != 6.5 || b.Buffer.AdamsEvans.Or(0) != 7.6 || c.Buffer != (Buffers{}) {
		t.Errorf("buffers: %+v %+v %+v", a.Buffer, b.Buffer, c.Buffer)
	}
	_, okA := a.Nutrient(Phosphorus, Mehlich3)
	_, okB := b.Nutrient(Potassium, Mehlich1)
	_, okC := c.Nutrient(Phosphorus, ExtractantUnknown)
	if !okA || !okB || !okC {
		t.Errorf("extractants: %+v", r.Samples)
	}
	if faults.Faults() != 1 || !strings.Contains(faults.String(), "1 value is not used") {
		t.Errorf("the buffer pH of C must be asked for: %s", faults)
	}
}

// One file leaves every question open, one mapping answers them all.
func TestTheMappingAnswers(t *testing.T) {
	text := "Bag,pH,BpH,P,Depth,When,Ca\n1,5.4,6.2,31,0-6,7/8/2022,\"1,150\"\n"
	m := &Mapping{PH: "cacl2", Buffer: "mehlich", Unit: "lb_ac", Extractant: "m1", DepthUnit: "in", DateOrder: "mdy", Decimal: ".", Lab: "State laboratory",
		Columns: map[string]string{"When": "date", "bag": "sample_id"}}
	r, faults := readString(t, text, m)
	if faults.Faults()+faults.Notices() != 0 {
		t.Fatal(faults)
	}
	s := r.Samples[0]
	p, _ := s.Nutrient(Phosphorus, Mehlich1)
	ca, _ := s.Nutrient(Calcium, Mehlich1)
	if s.ID != "1" || s.Lab != "State laboratory" || s.PH.Has() || s.PHCaCl2.Or(0) != 5.4 || s.Buffer.Mehlich.Or(0) != 6.2 || p.ByMass.Value.Or(0) != 15.5 || p.Given != "31 lb/ac" ||
		ca.ByMass.Value.Or(0) != 575 || s.Bottom.Or(0) != 15.24 || s.Top.Or(9) != 0 || s.Taken.Or(time.Time{}).Month() != time.July {
		t.Errorf("%+v", s)
	}
	// What was understood, kept as a mapping, reads the same without the answers for the whole file but those on writing.
	var b bytes.Buffer
	u := r.Understood.Mapping()
	u.DateOrder, u.Decimal, u.Lab = m.DateOrder, m.Decimal, m.Lab
	if err := u.Write(&b); err != nil {
		t.Fatal(err)
	}
	var mf diag.List
	back, err := ReadMapping("m.toml", &b, &mf)
	if err != nil || mf.Faults() != 0 {
		t.Fatal(err, mf.String())
	}
	again, faults := readString(t, text, back)
	if faults.Faults()+faults.Notices() != 0 || asPlain(t, again.Samples[0]) != asPlain(t, s) {
		t.Errorf("read by its own mapping:\n%s\n%s\n%s", asPlain(t, again.Samples[0]), asPlain(t, s), faults)
	}
}

// The account is what a user checks before trusting the figures, so its words are tested as they stand.
func TestUnderstoodExplains(t *testing.T) {
	r, _ := readString(t, "Sample,pH,BpH,P ppm,Texture\nA,5.4,6.2,<5,loam\nB,x,,9,clay\n", nil)
	var all []string
	for _, c := range r.Understood.Columns {
		all = append(all, c.String())
	}
	want := []string{
		`column 1 "Sample": sample id (sample_id): 2 values`,
		`column 2 "pH": pH in water (ph): 1 value, 1 unreadable; taken for granted: ` + phUnsaid,
		`column 3 "BpH": buffer pH, buffer not stated (buffer_ph): 0 values, 1 missing, 1 not usable yet; ask the laboratory: ` + askBuffer,
		`column 4 "P ppm": phosphorus, extractant not stated, mg/kg (ppm) (p_ppm): 2 values, 1 beyond detection`,
		`column 5 "Texture": 2 values not used: its name is not known`,
	}
	if strings.Join(all, "\n") != strings.Join(want, "\n") {
		t.Errorf("got\n%s\nwant\n%s", strings.Join(all, "\n"), strings.Join(want, "\n"))
	}
}

// No table of any size makes the reader use more than its bounds, and what was not read is told.
func TestHugeTablesAreBounded(t *testing.T) {
	for name, text := range map[string]string{
		"wide": "sample_id,ph_water" + strings.Repeat(",x", 3*widest) + "\nA,6" + strings.Repeat(",1", 3*widest) + "\n",
		"long": "sample_id,ph_water\n" + strings.Repeat("A,6\n", mostSamples+10),
	} {
		r, faults := readString(t, text, nil)
		if faults.Faults() == 0 || !strings.Contains(faults.String(), "not read") || len(r.Samples) == 0 || len(r.Samples) > mostSamples {
			t.Errorf("%s: %d samples; %s", name, len(r.Samples), faults)
		}
	}
	for _, hostile := range []string{strings.Repeat(`"`, 1<<20), strings.Repeat("\"\n", 1<<19), strings.Repeat("a\"b,", 1<<18), strings.Repeat(",", 1<<20), strings.Repeat("ph_water\n", 1<<16),
		"\"" + strings.Repeat("ppm ", 1<<14) + "\"", strings.Repeat("ppm p m3,", 1<<16)} {
		var faults diag.List
		text := "sample_id,ph_water\nA,6\n" + hostile
		if _, err := Read("f", strings.NewReader(text), int64(len(text)), nil, &faults); err != nil {
			t.Errorf("%.20q…: %v", hostile, err)
		}
	}
}

// Acidity without its method is kept and asked about; with it there is nothing to ask.
func TestAcidityAsksForItsMethod(t *testing.T) {
	for header, want := range map[string]bool{"exch_acidity_meq": true, "Exchangeable acidity (meq/100 g)": true, "exch_acidity_mehlich_meq": false} {
		text := strings.NewReader("sample_id,ph_water," + header + "\n1,5.2,2.1\n")
		r, err := Read("a.csv", text, text.Size(), nil, &diag.List{})
		if err != nil {
			t.Fatal(err)
		}
		c := r.Understood.Columns[2]
		if asked := c.Ask == askAcidity; asked != want || len(r.Samples) != 1 || len(r.Samples[0].Acidity) != 1 {
			t.Errorf("%s: asks %q, %+v", header, c.Ask, r.Samples)
		}
	}
}

// What is asked fits what is missing: acidity without a unit has no element, and lime with its unit but without one figure has
// no question for the laboratory.
func TestQuestionsFitTheColumn(t *testing.T) {
	text := strings.NewReader("sample_id,ph_water,Exch. Acidity,Lime T/A\n1,5.2,2.1,1.5\n2,5.3,2.0,2-3\n")
	var faults diag.List
	r, err := Read("a.csv", text, text.Size(), nil, &faults)
	if err != nil {
		t.Fatal(err)
	}
	said := faults.String()
	for _, want := range []string{`= "exch_acidity_mehlich_meq"`, "is not one figure there; its words are kept; where it gives a range"} {
		if !strings.Contains(said, want) {
			t.Errorf("%q is not said:\n%s", want, said)
		}
	}
	if strings.Contains(said, `unit = "ppm"`) || faults.Faults() > 0 {
		t.Errorf("said:\n%s", said)
	}
	if l := r.Samples[1].Lime; len(l) != 1 || l[0].Rate.Has() || l[0].Given != "2-3 short tons/ac" {
		t.Errorf("the words are lost: %+v", l)
	}
}
