package lab

import (
	"slices"
	"testing"
)

// Headers as laboratories export them, in many hands' spellings. Common practice, no source; those with methods spelled
// out are of public exports read while this was written.
func TestHeadersOfLaboratories(t *testing.T) {
	for header, want := range map[string]string{
		"Sample ID": "sample_id", "SAMPLEID": "sample_id", "Point ID": "sample_id", "Your Sample ID": "sample_id", "Sample #": "sample_id",
		"Lab No": "lab_number", "LABNUM": "lab_number", "Laboratory": "lab",
		"Field ID": "field_id", "field_name": "field_id", "Zone": "zone_id", "MUKEY": "map_unit", "Longitude": "lon", "lat": "lat",
		"Top (cm)": "top_cm", "Depth Top (in)": "top_in", "B Depth": "top", "E Depth": "bottom", "Sample Depth (inches)": "depth_in", "Depth": "depth",
		"Date Sampled": "date", "DATESAMPL": "date", "Date Recd": "reported", "Cores": "cores",
		"pH": "ph", "Sample pH": "ph", "Soil pH": "ph", "1:1 Soil pH": "ph_water", "Water pH": "ph_water", "pH (H2O)": "ph_water", "pH_W": "ph_water",
		"pH 1:2 water": "ph_water", "Salt pH": "ph_cacl2", "pH (CaCl₂)": "ph_cacl2", "pH 0.01 M CaCl2": "ph_cacl2",
		"Buffer pH": "buffer_ph", "BpH": "buffer_ph", "B-pH": "buffer_ph", "BUFFER_PH": "buffer_ph", "WDRF Buffer pH": "buffer_ph_woodruff",
		"Sikora Buffer": "buffer_ph_sikora", "pHB_SI": "buffer_ph_sikora", "SMP Buffer pH": "buffer_ph_smp", "Adams-Evans Buffer pH": "buffer_ph_adams_evans",
		"Modified Mehlich buffer pH": "buffer_ph_mehlich", "Moore-Sikora buffer pH": "buffer_ph_moore_sikora", "Buffer pH (A-E)": "buffer_ph_adams_evans", "SMP": "buffer_ph_smp",
		"Ac (meq/100 cm3)": "exch_acidity_meq_100cm3", "Exch. Acidity (meq/100g)": "exch_acidity_meq", "KCl acidity cmolc/kg": "exch_acidity_kcl_meq",
		"LBC (ppm CaCO3/pH)": "lbc_ppm_ph", "LBCeq": "lbceq_ppm_ph", "lbc_ppm": "lbc_ppm_ph",
		"CEC/Sum of Cations me/100g": "cec_meq", "CEC (meq/100 cm³)": "cec_meq_100cm3", "C.E.C.": "cec_meq",
		"Organic Matter LOI %": "om_pct", "OM": "om_pct", "% Sand": "sand_pct", "W/V (g/cm³)": "density_g_cm3",
		"1:1 S Salts mmho/cm": "ec_ds_m", "%K Sat": "k_sat_pct", "K_PCT": "k_sat_pct", "% Base Saturation Ca": "ca_sat_pct", "BS-Mg": "mg_sat_pct",
		"Bray P-1 ppm P": "p_bray1_ppm", "Olsen P ppm P": "p_olsen_ppm", "Phosphorus M3 ICAP ppm P": "p_m3_ppm", "Mehlich P-III ppm P": "p_m3_ppm",
		"Mehlich-3 P (mg/kg)": "p_m3_ppm", "M1-P (lb/A)": "p_m1_lb_ac", "Potassium ppm K": "k_ppm", "POTASSIUM (K) lbs/acre": "k_lb_ac", "Ca_AA_ppm": "ca_nh4oac_ppm",
		"Sulfate-S ppm S": "s_ppm", "SO4-S (ppm)": "s_ppm", "Nitrate-N ppm N": "no3n_ppm", "2N KCl NO3-N ppm N": "no3n_kcl_ppm", "Zinc DTPA (ppm)": "zn_dtpa_ppm",
		"B (hot water) ppm": "b_hotwater_ppm", "Mg meq/100g": "mg_meq", "Al (KCl) cmolc/kg": "al_kcl_meq", "Total P ppm": "p_total_ppm", "P2O5 (lb/ac)": "p2o5_lb_ac",
		"K as K2O ppm": "k2o_ppm", "M3-P mg/dm3": "p_m3_mg_dm3", "Molybdenum Hot Water ppm Mo": "mo_hotwater_ppm", "As arsenic (ppm)": "as_ppm",
		"Lime Rec (tons/ac)": "lab_lime_st_ac", "Lime Rec": "lab_lime", "Limestone lb/1000 sq ft": "lab_lime_lb_1000ft2", "Lime Comments": "lab_lime_text", "Crop 1": "lab_lime_crop",
		// not used
		"P": "", "Lime Test Index": "", "P-I": "", "Excess Lime": "", "CA_SAT": "", "Paste pH": "", "Nitrogen Rec": "", "K2O Rec": "", "Grower": "", "Target pH": "",
		"Sikora pH": "", "Salt Buffer pH": "", "Texture": "", "": "", "P ppm lb/ac": "", "pH 1:5": "", "pH in 1 M KCl": "",
	} {
		if got := understand(header, ""); got.code() != want {
			t.Errorf("understand(%q) = %q (%s), want %q", header, got.code(), got.why, want)
		}
	}
}

// The unit below a header joins it, names the extractant at times, and is refused where the header cannot have it.
func TestUnitsRowJoinsHeader(t *testing.T) {
	for _, c := range []struct{ header, cell, want string }{
		{"Ca", "Mehlich 1   mg/kg (ppm)", "ca_m1_ppm"},
		{"LBC", "ppm CaCO3/pH", "lbc_ppm_ph"},
		{"Na sodium", "ppm (parts per million)", "na_ppm"},
		{"K", "lb/ac", "k_lb_ac"},
		{"pH", "none", "ph"},
		{"P (ppm)", "mg/kg", "p_ppm"},
		{"OM", "%", "om_pct"},
		{"CEC", "%", ""},
		{"P", "meq/100g", ""},
	} {
		if got := understand(c.header, c.cell); got.code() != c.want {
			t.Errorf("understand(%q, %q) = %q (%s), want %q", c.header, c.cell, got.code(), got.why, c.want)
		}
	}
}

// Every plain name reads back as what it names, so that mappings and plain files mean what they say.
func TestPlainNamesRoundTrip(t *testing.T) {
	n := 0
	for _, c := range everyColumn() {
		n++
		c.assumed = ""
		if c = settle(c); c.code() == "" || c.holds == acidity && c.element != ElementUnknown {
			continue // a unit that the kind is not printed in
		}
		got := understand(c.code(), "")
		got.assumed, got.ask = "", ""
		want := c
		want.assumed, want.ask = "", ""
		if got != want {
			t.Errorf("understand(%q) = %+v, want %+v", c.code(), got, want)
		}
		if plainName(c.code()).code() != c.code() {
			t.Errorf("plainName(%q) is not itself", c.code())
		}
	}
	if n < 3000 {
		t.Errorf("only %d columns tried", n)
	}
}

// everyColumn lists the columns that could be, some of which are none.
func everyColumn() []column {
	var out []column
	for h := range kinds {
		c := column{holds: holds(h)}
		units := unitsOf[c.holds]
		if len(units) == 0 {
			units = []measure{unitless}
		}
		for _, u := range units {
			c.unit = u
			switch c.holds {
			case nothing:
			case bufferPH:
				for _, c.buffer = range append([]Buffer{0}, LimeBuffers()...) {
					out = append(out, c)
				}
			case acidity:
				for _, c.acidity = range append([]AcidityMethod{0}, AcidityMethods()...) {
					out = append(out, c)
				}
			case saturation, nutrient:
				for _, c.element = range Elements() {
					for _, c.extractant = range append([]Extractant{0}, Extractants()...) {
						if c.holds == saturation {
							c.extractant = 0
						}
						for _, c.oxide = range []bool{false, true} {
							if c.oxide && (c.holds == saturation || c.element > Potassium) || c.holds == nutrient && c.unit == percent && c.extractant == 0 {
								continue
							}
							out = append(out, c)
						}
					}
				}
			default:
				out = append(out, c)
			}
		}
	}
	return out
}

// The tables of closed sets name every member once.
func TestClosedSets(t *testing.T) {
	var all []string
	for _, list := range [][]string{codes(Elements()), codes(Extractants()), codes(LimeBuffers()), codes(AcidityMethods())} {
		if slices.Contains(list, "") {
			t.Errorf("a member without a code in %q", list)
		}
		all = append(all, list...)
	}
	if len(Elements()) != len(elements)-1 || ElementUnknown.Code() != "" || ExtractantUnknown.String() == "" {
		t.Errorf("members are missing in %q", all)
	}
	for _, part := range []string{"element", "extractant", "buffer", "acidity", "measure"} {
		for _, p := range words()[part] {
			known := memberByCode(Elements(), p.means) != 0 || memberByCode(Extractants(), p.means) != 0 || memberByCode(LimeBuffers(), p.means) != 0 ||
				memberByCode(AcidityMethods(), p.means) != 0 || measureByCode(p.means) != 0 || p.means == "ph"
			if !known {
				t.Errorf("headers.csv: %s %q means %q, which is nothing", part, p.words, p.means)
			}
			if plainWords(p.words) != p.words {
				t.Errorf("headers.csv: %q is not in plain words; it would never be found", p.words)
			}
		}
	}
	for _, p := range words()["name"] {
		if named(p.means).holds == nothing {
			t.Errorf("headers.csv: name %q means %q, which is nothing", p.words, p.means)
		}
	}
}
