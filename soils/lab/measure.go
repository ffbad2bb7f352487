package lab

// measure is the unit a column is printed in.
type measure uint8

const (
	// not said, or nothing that has a unit
	unitless measure = iota
	partsPerMillion
	partsPerBillion
	milligramsPerDM3
	gramsPerKilogram
	percent
	poundsPerAcre
	kilogramsPerHectare
	meqPer100g
	meqPer100cm3
	centimetres
	inches
	shortTonsPerAcre
	tonnesPerHectare
	poundsPer1000SqFt
	ppmPerPH
	gramsPerCM3
	deciSiemens
	microSiemens
)

// measures gives each unit its code, as in plain headers and headers.csv, and its words.
var measures = [...]struct{ code, words string }{
	unitless:            {"", ""},
	partsPerMillion:     {"ppm", "mg/kg (ppm)"},
	partsPerBillion:     {"ppb", "µg/kg (ppb)"},
	milligramsPerDM3:    {"mg_dm3", "mg/dm³"},
	gramsPerKilogram:    {"g_kg", "g/kg"},
	percent:             {"pct", "%"},
	poundsPerAcre:       {"lb_ac", "lb/ac"},
	kilogramsPerHectare: {"kg_ha", "kg/ha"},
	meqPer100g:          {"meq", "meq/100 g"},
	meqPer100cm3:        {"meq_100cm3", "meq/100 cm³"},
	centimetres:         {"cm", "cm"},
	inches:              {"in", "in"},
	shortTonsPerAcre:    {"st_ac", "short tons/ac"},
	tonnesPerHectare:    {"t_ha", "t/ha"},
	poundsPer1000SqFt:   {"lb_1000ft2", "lb/1000 ft²"},
	ppmPerPH:            {"ppm_ph", "mg CaCO3/kg per pH"},
	gramsPerCM3:         {"g_cm3", "g/cm³"},
	deciSiemens:         {"ds_m", "dS/m"},
	microSiemens:        {"us_cm", "µS/cm"},
}

// code returns the unit as the names of plain columns have it.
func (m measure) code() string { return measures[m].code }

// String returns the unit as people write it.
func (m measure) String() string { return measures[m].words }

// measureByCode finds a unit by the code of headers.csv; "ph" and "" have none.
func measureByCode(code string) measure {
	for m := range measures {
		if m > 0 && measures[m].code == code {
			return measure(m)
		}
	}
	return unitless
}
