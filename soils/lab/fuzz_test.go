package lab

import (
	"bytes"
	"os"
	"strings"
	"testing"

	"rootworthy/internal/diag"
)

// reads reads anything; whatever comes out, written plainly, must read back the same. Names are left out of that: a
// table of other rows may tell "1.0" and "Lab" otherwise.
func reads(t *testing.T, b []byte, m *Mapping) {
	var faults diag.List
	r, err := Read("fuzz", bytes.NewReader(b), int64(len(b)), m, &faults)
	if err != nil {
		if strings.Contains(err.Error(), "\n") {
			t.Fatalf("an error of several lines: %q", err)
		}
		return
	}
	for _, c := range r.Understood.Columns {
		_ = c.String()
	}
	if len(r.Samples) == 0 {
		return
	}
	for i := range r.Samples {
		s := &r.Samples[i]
		s.ID, s.Lab, s.LabNumber, s.Place.Field, s.Place.Zone, s.Place.MapUnit = "A", "", "", "", "", ""
		for j := range s.Lime { // what has no unit moves to the text
			if !s.Lime[j].Rate.Has() {
				s.Lime[j].Text, s.Lime[j].Given = squeeze(s.Lime[j].Given+" "+s.Lime[j].Text), ""
			}
		}
	}
	var out bytes.Buffer
	if err := WritePlain(&out, r.Samples); err != nil {
		t.Fatal(err)
	}
	var again diag.List
	back, err := Read("plain.csv", bytes.NewReader(out.Bytes()), int64(out.Len()), nil, &again)
	if strings.Count(out.String(), "\n") > 0 && noResult(r.Samples) {
		return
	}
	if err != nil || again.Faults() != 0 {
		t.Fatalf("%v, %s\n%s", err, again.String(), out.String())
	}
	if why := differs(r.Samples, back.Samples); why != "" {
		t.Fatalf("%s\n%s", why, out.String())
	}
}

// noResult says whether some sample holds only what was refused, so that its plain row holds nothing.
func noResult(samples []Sample) bool {
	for _, s := range samples {
		var b strings.Builder
		bareOne := Sample{PH: s.PH, PHAssumed: s.PHAssumed, PHCaCl2: s.PHCaCl2, Buffer: s.Buffer, Acidity: s.Acidity, LBC: s.LBC, LBCeq: s.LBCeq, CEC: s.CEC, CECByVolume: s.CECByVolume,
			OrganicMatter: s.OrganicMatter, Sand: s.Sand, Silt: s.Silt, Clay: s.Clay, Density: s.Density, BulkDensity: s.BulkDensity, EC: s.EC, Saturation: s.Saturation, Nutrients: s.Nutrients, Lime: s.Lime}
		if err := WritePlain(&b, []Sample{bareOne}); err != nil || !strings.Contains(b.String(), ",") {
			return true
		}
	}
	return false
}

// The mapping asks for everything at once, so that its paths are walked too.
func FuzzText(f *testing.F) {
	f.Add("sample_id,ph_water,p_m3_ppm,date,depth_in\nA,6.4,<5,2022-07-08,0-6\n", false)
	f.Add("Lab;BpH;P lb/ac;Lime Rec tons/ac\n1,0;6,9;ND;1,5\n", true)
	f.Add("UNITS\tpH\tCEC\n\t\tmeq/100 g\n\"x\"\t5\t\"1,150\"\n", false)
	f.Add("\xff\xfes\x00,\x00", true)
	f.Fuzz(func(t *testing.T, s string, mapped bool) {
		var m *Mapping
		if mapped {
			m = &Mapping{Unit: "lb_ac", Buffer: "smp", DepthUnit: "in", DepthInID: true, DateOrder: "dmy", Extractant: "m1", BottomCm: 20}
		}
		reads(t, []byte(s), m)
	})
}

// With and without the first element, so that most inputs get past the check for it.
func FuzzModusXML(f *testing.F) {
	f.Add(modusXMLExample)
	f.Fuzz(func(t *testing.T, s string) { reads(t, []byte("<ModusResult>"+s), nil); reads(t, []byte(s), nil) })
}

// One seed for each form, version 1 and flat.
func FuzzModusJSON(f *testing.F) {
	f.Add(`{"Events":[{"EventSamples":{"Soil":{"DepthRefs":{"1":{"EndingDepth":8,"StartingDepth":0,"DepthUnit":"in"}},"SoilSamples":[{"SampleMetaData":{"Geometry":{"wkt":"POINT(1 2)"}},"Depths":[{"DepthID":1,"NutrientResults":{"pH":{"Value":5,"ValueUnit":"none"}}}]}]}}}]}`)
	f.Add(`[{"samples":[{"id":1,"depth":{"top":0,"bottom":8,"units":"in"},"results":[{"analyte":"P","value":"<5","units":"ppm","modusTestID":"S-P-M3.04"}]}]}]`)
	f.Fuzz(func(t *testing.T, s string) { reads(t, []byte(s), nil) })
}

// Seeded with a whole workbook: a zip is not found by chance.
func FuzzSpreadsheet(f *testing.F) {
	b, err := os.ReadFile("testdata/results.xlsx")
	if err != nil {
		f.Fatal(err)
	}
	f.Add(b)
	f.Fuzz(func(t *testing.T, b []byte) { reads(t, b, nil) })
}

// What was read, once written, reads back as the same: the first writing settles the form.
func FuzzMapping(f *testing.F) {
	f.Add("ph = \"water\"\nslice_lb_ac = 2e6\n[columns]\n\"P\" = \"p_m3_ppm\"\n")
	f.Fuzz(func(t *testing.T, s string) {
		var faults diag.List
		m, err := ReadMapping("m.toml", strings.NewReader(s), &faults)
		if err != nil {
			return
		}
		var one, two bytes.Buffer
		if err := m.Write(&one); err != nil {
			t.Fatal(err)
		}
		back, err := ReadMapping("m.toml", bytes.NewReader(one.Bytes()), &diag.List{})
		if err != nil {
			t.Fatalf("%v\n%s", err, one.String())
		}
		if err := back.Write(&two); err != nil || two.String() != one.String() {
			t.Fatalf("%v\n%s\n%s", err, one.String(), two.String())
		}
	})
}
