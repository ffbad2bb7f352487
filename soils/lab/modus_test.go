package lab

import (
	"strings"
	"testing"
	"time"

	"rootworthy/internal/diag"
	"rootworthy/soils/unit"
)

// Codes and what they mean. Source: AgGateway, Modus2 Soil Code Supersession with Modus Soil Methods 2 (read); the codes
// of the real file are checked in real_test.go.
func TestModusTestCodes(t *testing.T) {
	for id, want := range map[string]string{
		"S-PH-1:1.02.07": "ph_water", "S-PH-1:1.02.08": "ph_cacl2", "S-PH-1:2.02.08": "ph_cacl2", "S-PH-1:2.5.02.07": "ph_water",
		"S-PH-SP.02": "", "S-PH-1:1KCL.02": "", "S-PH-1:5.02.08": "",
		"S-BPH-AEB.02": "buffer_ph_adams_evans", "S-BPH-MAEB.02": "buffer_ph_adams_evans", "S-BPH-MEB.02": "buffer_ph_mehlich", "S-BPH-SIK1.02": "buffer_ph_sikora",
		"S-BPH-SIK2.02": "buffer_ph_sikora", "S-BPH-SMPB.02": "buffer_ph_smp", "S-BPH-WB.02": "buffer_ph_woodruff", "S-BPH-MWB.02": "buffer_ph_woodruff",
		"S-P-M1.04": "p_m1_ppm", "S-P-M3.01.03": "p_m3_ppm", "S-P-B1-1:10.01.03": "p_bray1_ppm", "S-P-B2-1:7.01.03": "p_bray2_ppm", "S-P-BIC.01.03": "p_olsen_ppm",
		"S-K-NH4AC.05": "k_nh4oac_ppm", "S-K-MMOR.05": "k_modmorgan_ppm", "S-B-HW.05": "b_hotwater_ppm", "S-B-DTPA-SORB.05": "b_dtpasorbitol_ppm", "S-ZN-DTPA.05": "zn_dtpa_ppm",
		"S-MN-HCL.05": "mn_hcl_ppm", "S-AL-1KCL.23": "al_kcl_ppm", "S-S-NH4AC.05": "s_nh4oac_ppm", "S-NO3-KCL.01.01": "no3n_kcl_ppm", "S-NA-KCL-01.05": "na_kcl_ppm",
		"s-mo-m3.05": "mo_m3_ppm", "S-CA-EPA3050.04": "ca_total_ppm",
		"L_MODV2_SOIL_BPH_001": "buffer_ph_adams_evans", "L_MODV2_SOIL_BPH_005": "buffer_ph_mehlich", "L_MODV2_SOIL_BPH_006": "buffer_ph_moore_sikora",
		"L_MODV2_SOIL_BPH_010": "buffer_ph_woodruff", "L_MODV2_SOIL_PH_002": "ph_cacl2", "L_MODV2_SOIL_PH_005": "ph_water",
		"L_MODV2_SOIL_P_026": "p_m1_ppm", "L_MODV2_SOIL_P_073": "p_m1_ppm", "L_MODV2_SOIL_P_045": "p_olsen_ppm", "L_MODV2_SOIL_K_031": "k_m3_ppm",
		"L_MODV2_SOIL_CABS_001": "ca_sat_pct", "L_MODV2_SOIL_OM_004": "om_pct", "L_MODV2_SOIL_XACIDT_001": "exch_acidity_kcl_meq",
	} {
		u := "ppm"
		switch {
		case strings.Contains(want, "ph_") || want == "":
			u = "none"
		case strings.HasSuffix(want, "pct"):
			u = "%"
		case strings.HasSuffix(want, "meq"):
			u = "meq/100g"
		}
		c, ok := modusTest(id)
		if got := modusColumn("x", u, id); !ok || got.code() != want {
			t.Errorf("%s = %q (%s, known %v %+v), want %q", id, got.code(), got.why, ok, c, want)
		}
	}
	// A buffer pH without a known code is refused as in a table; an unknown code falls back on the name, and says so.
	if c := modusColumn("BpH", "none", ""); c.holds != bufferPH || c.buffer != BufferUnknown {
		t.Errorf("a bare BpH is %+v", c)
	}
	if c := modusColumn("P", "ppm", "S-P-NEW.99"); c.code() != "p_ppm" || !strings.Contains(c.assumed, "S-P-NEW.99") {
		t.Errorf("an unknown code is %+v", c)
	}
}

const modusXMLExample = `<?xml version="1.0" encoding="ISO-8859-1"?>
<ModusResult Version="1.0"><Event>
<EventMetaData><EventDate>2026-03-14</EventDate></EventMetaData>
<FMISMetaData><FMISProfile><Field ID="home">Home</Field></FMISProfile></FMISMetaData>
<LabMetaData><LabName>B` + "\xf6" + `den</LabName><ReceivedDate>2026-03-17T12:00:00</ReceivedDate></LabMetaData>
<EventSamples><Plant><PlantSample><NutrientResults><NutrientResult><Element>P</Element><Value>0.3</Value><ValueUnit>%</ValueUnit></NutrientResult></NutrientResults></PlantSample></Plant>
<Soil><DepthRefs><DepthRef DepthID="1"><StartingDepth>0</StartingDepth><EndingDepth>15</EndingDepth><DepthUnit>cm</DepthUnit></DepthRef>
<DepthRef DepthID="2"><StartingDepth>15</StartingDepth><EndingDepth>30</EndingDepth><DepthUnit>cm</DepthUnit></DepthRef></DepthRefs>
<RecommendationRefs><Recommendation RecID="1"><Name>Alfalfa</Name></Recommendation></RecommendationRefs>
<SoilSample><SampleMetaData><SampleNumber>1</SampleNumber><FMISSampleID>7</FMISSampleID><ReportID>55</ReportID><Geometry><wkt>POINT (-83.5 32.25)</wkt></Geometry></SampleMetaData>
<Depths><Depth DepthID="1"><NutrientResults>
<NutrientResult><Element>pH</Element><Value>5.4</Value><ValueUnit>none</ValueUnit><ModusTestID>S-PH-1:1.02.08</ModusTestID></NutrientResult>
<NutrientResult><Element>BpH</Element><Value>7.6</Value><ValueUnit>none</ValueUnit><ModusTestID>S-BPH-AEB.02</ModusTestID></NutrientResult>
<NutrientResult><Element>P</Element><Value>&lt;5</Value><ValueUnit>ppm</ValueUnit><ModusTestID>S-P-M1.04</ModusTestID></NutrientResult>
<NutrientResult><Element>K</Element><Value>oops</Value><ValueUnit>ppm</ValueUnit><ModusTestID>S-K-M1.05</ModusTestID></NutrientResult>
</NutrientResults></Depth><Depth DepthID="2"><NutrientResults>
<NutrientResult><Element>pH</Element><Value>4.9</Value><ValueUnit>none</ValueUnit><ModusTestID>S-PH-1:1.02.07</ModusTestID></NutrientResult>
</NutrientResults></Depth></Depths>
<NutrientRecommendations><NutrientRecommendation RecID="1"><Recommendation><Element>CCE</Element><Value>1.5</Value><ValueUnit>tons/ac</ValueUnit></Recommendation></NutrientRecommendation>
<NutrientRecommendation RecID="1"><Recommendation><Element>N</Element><Value>20</Value><ValueUnit>lb/ac</ValueUnit></Recommendation></NutrientRecommendation></NutrientRecommendations>
</SoilSample></Soil></EventSamples></Event></ModusResult>`

// The one figure that cannot be read is told with its line, its bag and its test.
func TestModusXML(t *testing.T) {
	r, faults := readString(t, modusXMLExample, nil)
	checkModusExample(t, r)
	if k := faults.Kept(); len(k) != 1 || k[0].Line != 15 || k[0].Field != "K S-K-M1.05" || k[0].Kind != "not a figure" || k[0].Feature != "7" {
		t.Errorf("faults: %v", k)
	}
}

// Elements of a bag may stand in any order: advice before the layers is kept with the first of them, and so is that of a bag that
// breaks off behind it.
func TestModusXMLOrder(t *testing.T) {
	from, to := strings.Index(modusXMLExample, "<NutrientRecommendations>"), strings.Index(modusXMLExample, "\n</SoilSample>")
	advice := modusXMLExample[from:to]
	text := strings.Replace(modusXMLExample[:from]+modusXMLExample[to:], "<Depths>", advice+"<Depths>", 1)
	r, _ := readString(t, text, nil)
	checkModusExample(t, r)
	r, faults := readString(t, text[:strings.LastIndex(text, "</SoilSample>")], nil)
	checkModusExample(t, r)
	if !strings.Contains(faults.String(), "breaks off") {
		t.Errorf("half a file: %s", faults)
	}
}

// The id of who sent the bag goes before the laboratory's count, in both notations and in any order; the count stands in for it.
func TestModusSampleID(t *testing.T) {
	count, id := "<SampleNumber>1</SampleNumber>", "<FMISSampleID>7</FMISSampleID>"
	const bag = `{"Events":[{"EventSamples":{"Soil":{"SoilSamples":[{"SampleMetaData":{META},"Depths":[{"NutrientResults":[{"Element":"pH","Value":5,"ValueUnit":"none"}]}]}]}}}]}`
	for meta, want := range map[string]string{count + id: "7", id + count: "7", count: "1", count + "<FMISSampleID/>": "1", "": ""} {
		inJSON := strings.NewReplacer("<SampleNumber>1</SampleNumber>", `,"SampleNumber":1`, id, `,"FMISSampleID":7`, "<FMISSampleID/>", `,"FMISSampleID":""`).Replace(meta)
		for _, text := range []string{strings.Replace(modusXMLExample, count+id, meta, 1), strings.Replace(bag, "META", strings.TrimPrefix(inJSON, ","), 1)} {
			if r, _ := readString(t, text, nil); r.Samples[0].ID != want {
				t.Errorf("%s: %q, want %q", text[:min(len(text), 60)]+meta, r.Samples[0].ID, want)
			}
		}
	}
}

// Two shares of one element are told, and the first is taken; the same share once more is no contradiction.
func TestModusSaturationTwice(t *testing.T) {
	result := func(share string) string {
		return "<NutrientResult><Element>Ca</Element><Value>" + share + "</Value><ValueUnit>%</ValueUnit><ModusTestID>L_MODV2_SOIL_CABS_001</ModusTestID></NutrientResult>"
	}
	for second, notices := range map[string]int{"61": 1, "60": 0} {
		text := strings.Replace(modusXMLExample, "<NutrientResults>\n", "<NutrientResults>"+result("60")+result(second)+"\n", 1)
		r, faults := readString(t, strings.Replace(text, "oops", "44", 1), nil)
		if s := r.Samples[0].Saturation; len(s) != 1 || s[0] != (Saturation{Calcium, 60}) || faults.Faults() != 0 || faults.Notices() != notices {
			t.Errorf("60 and %s: %+v; %s", second, s, faults)
		}
	}
}

// checkModusExample checks the one bag with two layers that both notations give.
func checkModusExample(t *testing.T, r Results) {
	t.Helper()
	if len(r.Samples) != 2 {
		t.Fatalf("%d samples, want the two layers of one bag", len(r.Samples))
	}
	a, b := r.Samples[0], r.Samples[1]
	p, _ := a.Nutrient(Phosphorus, Mehlich1)
	if a.ID != "7" || a.LabNumber != "55" || a.Lab != "Böden" || a.PHCaCl2.Or(0) != 5.4 || a.PH.Has() || a.Buffer.AdamsEvans.Or(0) != 7.6 ||
		p.ByMass.Bound != Below || p.ByMass.Value.Or(0) != 5 || a.Top.Or(9) != 0 || a.Bottom.Or(0) != 15 {
		t.Errorf("first layer: %+v", a)
	}
	if d := a.Taken.Or(time.Time{}).Format(time.DateOnly) + a.Reported.Or(time.Time{}).Format(time.DateOnly); d != "2026-03-142026-03-17" {
		t.Errorf("days: %s", d)
	}
	if pt, ok := a.Place.Point.Get(); !ok || pt[0] != -83.5 || pt[1] != 32.25 {
		t.Errorf("point: %v", pt)
	}
	if len(a.Lime) != 1 || a.Lime[0].Rate.Or(0) != unit.ShortTonsPerAcre(1.5) || a.Lime[0].Crop != "Alfalfa" {
		t.Errorf("lime: %+v", a.Lime)
	}
	if b.ID != "7" || b.PH.Or(0) != 4.9 || b.Top.Or(0) != 15 || b.Bottom.Or(0) != 30 || b.Lime != nil {
		t.Errorf("second layer: %+v", b)
	}
}

// The shapes follow the public JSON schemas of the standard: lists or objects keyed by id, figures as numbers or text.
func TestModusJSON(t *testing.T) {
	for name, text := range map[string]string{
		"lists": `{"ModusResult":{"Events":[{"EventMetaData":{"EventDate":"2026-03-14"},"LabMetaData":{"LabName":"Böden","ReceivedDate":"2026-03-17T00:00:00.000"},
"EventSamples":{"Soil":{"DepthRefs":[{"DepthID":1,"StartingDepth":0,"EndingDepth":15,"DepthUnit":"cm"},{"DepthID":2,"StartingDepth":15,"EndingDepth":30,"DepthUnit":"cm"}],
"RecommendationRefs":[{"RecID":"1","Name":"Alfalfa"}],
"SoilSamples":[{"SampleMetaData":{"SampleNumber":"1","FMISSampleID":7,"ReportID":55,"Geometry":{"wkt":"POINT(-83.5 32.25)"}},
"Depths":[{"DepthID":"1","NutrientResults":[{"Element":"pH","Value":5.4,"ValueUnit":"none","ModusTestID":"S-PH-1:1.02.08"},
{"Element":"BpH","Value":7.6,"ValueUnit":"none","ModusTestID":"S-BPH-AEB.02"},{"Element":"P","Value":"<5","ValueUnit":"Mehlich 1 mg/kg (ppm)"},{"ValueUnit":"mmho/cm","Value":0.1}]},
{"DepthID":"2","NutrientResults":[{"Element":"pH","Value":4.9,"ValueUnit":"none","ModusTestID":"S-PH-1:1.02.07"}]}],
"NutrientRecommendations":[{"RecID":"1","Recommendation":{"Element":"CCE","Value":1.5,"ValueUnit":"tons/ac"}}]}]}}}]}}`,
		"objects": `{"Events":[{"EventMetaData":{"EventDate":"20260314"},"LabMetaData":{"LabName":"Böden","ReceivedDate":"46098"},
"EventSamples":{"Soil":{"DepthRefs":{"2":{"StartingDepth":15,"EndingDepth":30,"DepthUnit":"cm"},"1":{"StartingDepth":0,"EndingDepth":15,"DepthUnit":"cm"}},
"RecommendationRefs":{"1":{"Name":"Alfalfa"}},
"SoilSamples":[{"SampleMetaData":{"SampleNumber":7,"ReportID":"55","Geometry":{"wkt":"POINT(-83.5 32.25)"}},
"Depths":[{"DepthID":"1","NutrientResults":{"pH (CaCl2)":{"Value":5.4,"ValueUnit":"none"},"Adams-Evans buffer pH":{"Value":7.6,"ValueUnit":"none"},"P":{"Value":"<5","ValueUnit":"ppm","ModusTestID":"S-P-M1.04"}}},
{"DepthID":"2","NutrientResults":{"pH":{"Value":4.9,"ValueUnit":"none"}}}],
"NutrientRecommendations":[{"RecID":"1","Recommendation":{"Element":"CCE","Value":"1.5","ValueUnit":"tons/ac"}}]}]}}}]}`,
		"flat": `[{"type":"soil","dateCollected":"2026-03-14","lab":{"name":"Böden","dateReceived":"2026-03-17"},
"samples":[{"id":"7","labid":55,"depth":{"top":0,"bottom":15,"units":"cm"},"geolocation":{"lat":32.25,"lon":-83.5},
"results":[{"analyte":"PH","value":5.4,"units":"none","modusTestID":"L_MODV2_SOIL_PH_002"},{"analyte":"BPH","value":7.6,"units":"none","modusTestID":"L_MODV2_SOIL_BPH_001"},
{"analyte":"P","value":"<5","units":"ppm","modusTestID":"L_MODV2_SOIL_P_026"}]},
{"id":"7","labid":55,"depth":{"top":15,"bottom":30,"units":"cm"},"geolocation":{"lat":32.25,"lon":-83.5},"results":{"a":{"analyte":"PH","value":4.9,"units":"none"}}}]}]`,
	} {
		r, faults := readString(t, text, nil)
		if name == "flat" { // the flat form has no place for lime
			r.Samples[0].Lime = []Recommendation{{Crop: "Alfalfa", Rate: unit.Some(unit.ShortTonsPerAcre(1.5))}}
		}
		checkModusExample(t, r)
		if faults.Faults() != 0 || r.Understood.Format != "Modus results, JSON" {
			t.Errorf("%s: %s %s", name, r.Understood.Format, faults)
		}
	}
}

// Each case breaks one thing of an example that reads well otherwise.
func TestModusFaults(t *testing.T) {
	for name, c := range map[string]struct{ old, new, kind string }{
		"depth unit":     {"<DepthUnit>cm</DepthUnit></DepthRef>\n", "<DepthUnit/></DepthRef>\n", "depth without a unit"},
		"depth words":    {"<EndingDepth>15<", "<EndingDepth>deep<", "bad layer"},
		"no buffer code": {"<ModusTestID>S-BPH-AEB.02</ModusTestID>", "", "buffer not stated"},
		"date":           {"2026-03-14", "3/4/2026", "day or month"},
		"breaks off":     {"</NutrientRecommendations>\n</SoilSample></Soil>", "</NutrientRecommendations>\n</SoilSample></Soyl>", "broken file"},
	} {
		text := strings.Replace(modusXMLExample, c.old, c.new, 1)
		_, faults := readString(t, strings.Replace(text, "oops", "44", 1), nil)
		found := false
		for _, f := range faults.Kept() {
			found = found || f.Kind == c.kind
		}
		if !found || text == modusXMLExample {
			t.Errorf("%s: want a fault %q, got %s", name, c.kind, faults)
		}
	}
}

// Small files that would take memory or stack without end.
func TestModusBombs(t *testing.T) {
	for name, text := range map[string]string{
		"nesting":   "<ModusResult>" + strings.Repeat("<a>", 1<<20),
		"entities":  `<!DOCTYPE a [<!ENTITY b "c">]><ModusResult>&b;</ModusResult>`,
		"members":   `{"Events":[` + strings.Repeat("{},", mostMembers+1) + `{}]}`,
		"nest JSON": strings.Repeat("[", 1<<20),
	} {
		var faults diag.List
		if _, err := Read("f", strings.NewReader(text), int64(len(text)), nil, &faults); err == nil || strings.Contains(err.Error(), "\n") {
			t.Errorf("%s: %v", name, err)
		}
	}
}
