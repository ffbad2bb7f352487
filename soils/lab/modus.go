package lab

import (
	_ "embed"
	"strings"
	"sync"
)

// modusCodesCSV gives the numbered test codes of Modus version 2 ("L_MODV2_SOIL_P_026") the plain name they stand for;
// only those of results that are read. Version 1 spells its methods out.
// Source: AgGateway, Modus Soil Methods 2 and Modus2 Soil Code Supersession.
//
//go:embed moduscodes.csv
var modusCodesCSV string

// modusCodes maps the version 2 codes, without their common beginning, to plain names without unit.
var modusCodes = sync.OnceValue(func() map[string]string {
	out := map[string]string{}
	for _, line := range strings.Split(strings.TrimSpace(modusCodesCSV), "\n")[1:] {
		code, plain, _ := strings.Cut(line, ",")
		out[code] = plain
	}
	return out
})

// modusBuffers, modusExtractants are the method parts of version 1 codes. The recipes of one buffer share its type: the modified ones (MAEB, MWB), and both of Sikora's.
var modusBuffers = map[string]Buffer{"MEB": MehlichBuffer, "AEB": AdamsEvansBuffer, "MAEB": AdamsEvansBuffer,
	"SIK1": SikoraBuffer, "SIK2": SikoraBuffer, "SMPB": SMPBuffer, "WB": WoodruffBuffer, "MWB": WoodruffBuffer}

// modusExtractants does not tell strengths (1KCL, 2KCL) and ratios (B1-1:7, B1-1:10) of one extractant apart, as the type does not.
var modusExtractants = map[string]Extractant{"M1": Mehlich1, "M2": Mehlich2, "M3": Mehlich3, "B1-1:10": Bray1, "B1-1:7": Bray1, "B2-1:10": Bray2,
	"B2-1:7": Bray2, "BIC": Olsen, "NH4AC": AmmoniumAcetate, "AA": AmmoniumAcetate, "AA-NH4AC": AmmoniumAcetate, "DTPA": DTPA, "DTPA-SORB": DTPASorbitol, "HW": HotWater,
	"HCL": HCl, "KCL": KCl, "1KCL": KCl, "2KCL": KCl, "KCL-01": KCl, "CACL2": CaCl2, "CACL": CaCl2, "EDTA": EDTA, "MOR": Morgan, "MMOR": ModifiedMorgan,
	"LANC": Lancaster, "H3A": H3A, "H3A1": H3A, "SP": SaturatedPaste, "EPA3050": TotalDigestion, "AR": TotalDigestion, "HOTH2O": HotWater}

// modusElements are the elements of version 1 codes where they differ from the plain ones.
var modusElements = map[string]Element{"SO4": Sulfur, "NO3": NitrateN, "NO3N": NitrateN, "NH4": AmmoniumN, "NH4N": AmmoniumN, "EAL": Aluminum}

// modusColumn says what a Modus result is: its test id where there is one, else the words of its element.
func modusColumn(element, unitText, testID string) column {
	if c, ok := modusTest(testID); ok {
		means, _ := words().takeAll("measure", plainWords(unitText[:min(len(unitText), longestHeader)]))
		if len(means) == 1 {
			c.unit = measureByCode(means[0])
		}
		return settle(c)
	}
	// a name is not as sure as a test id, and when an id is there and not known the account says so
	c := understand(element, unitText)
	if testID != "" && c.holds != nothing {
		c.assumed = joinNotes(c.assumed, "test id "+quoted(testID)+" is not known; the name was followed")
	}
	return c
}

// joinNotes joins two remarks, either of which may be empty.
func joinNotes(a, b string) string {
	if a == "" || b == "" {
		return a + b
	}
	return a + "; " + b
}

// modusTest reads a test id such as "S-P-B1-1:10.01.03": S for soil, the element, the method, then how it was measured.
func modusTest(id string) (column, bool) {
	id = strings.ToUpper(strings.TrimSpace(id))
	if code, ok := strings.CutPrefix(id, "L_MODV2_SOIL_"); ok {
		plain, known := modusCodes()[code]
		// percent is allowed for, so that shares of the exchange capacity are taken as such
		return name(plainWords(plain), []string{"pct"}), known
	}
	rest, ok := strings.CutPrefix(id, "S-")
	if !ok {
		return column{}, false
	}
	// the method may hold hyphens of its own (AA-NH4AC), the element does not
	el, method, _ := strings.Cut(rest, "-")
	// some ids have no method, and go on with how it was measured
	el, _, _ = strings.Cut(el, ".")
	if el == "PH" {
		return modusPH(method)
	}
	method, _, _ = strings.Cut(method, ".")
	switch el {
	case "BPH":
		b, ok := modusBuffers[method]
		return column{holds: bufferPH, buffer: b}, ok
	case "SOM", "OM":
		return column{holds: organicMatter}, true
	case "CEC":
		return column{holds: exchangeCapacity}, true
	case "BS":
		e := memberByCode(Elements(), strings.ToLower(method))
		return column{holds: saturation, element: e}, e != ElementUnknown
	case "AC":
		// other acidities are left to the words of their element
		return column{holds: acidity, acidity: AcidityKCl}, method == "KCL"
	case "SAND", "SILT", "CLAY":
		return named(strings.ToLower(el)), true
	}
	e, x := modusElements[el], modusExtractants[method]
	if e == ElementUnknown {
		e = memberByCode(Elements(), strings.ToLower(el))
	}
	return column{holds: nutrient, element: e, extractant: x}, e != ElementUnknown && x != ExtractantUnknown
}

// modusPH reads the method of a pH, such as "1:1.02.07": the ratio, then the electrode (02), then water (07) or 0.01 M
// calcium chloride (08).
// Source: AgGateway, Modus2 Soil Code Supersession with Modus Soil Methods 2, PH_002 to PH_013.
func modusPH(method string) (column, bool) {
	switch method {
	case "1:1.02.07":
		return column{holds: waterPH}, true
	case "1:2.02.07", "1:2.5.02.07":
		return column{holds: waterPH, assumed: "measured at " + strings.TrimSuffix(method, ".02.07") + " in water; taken as 1:1"}, true
	case "1:1.02.08", "1:2.02.08":
		return column{holds: chloridePH}, true
	case "SP.02":
		return leftOut("pH of the saturated paste: limits are set in 1:1 water"), true
	case "1:1KCL.02", "1:5KCL.02":
		return leftOut("pH in potassium chloride: limits are set in water or calcium chloride"), true
	case "1:5.02.08", "1:5H2O.02":
		return leftOut("pH in five parts of water or salt: limits are set in 1:1 water"), true
	}
	return column{}, false
}
