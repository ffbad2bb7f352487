package lab

import (
	"slices"
	"strings"
)

// askUnit is the question where a header gives no unit.
const askUnit = "in which unit is it: ppm (mg/kg), lb/ac, meq/100 g?"

// askBuffer is the question where a buffer pH comes without its buffer.
const askBuffer = "which lime buffer was it read in: Mehlich, Adams-Evans, Moore-Sikora, SMP, Sikora or Woodruff?"

// askAcidityUnit is the question where acidity has no unit: by mass and by volume differ by the density of the soil.
const askAcidityUnit = "in which unit is it, meq/100 g or meq/100 cm³, and " + askAcidity

// askAcidity is the question where acidity comes without its method.
const askAcidity = "how was the acidity found: from the Mehlich buffer, the Adams-Evans buffer, displaced by 1 M KCl, or by barium chloride?"

// phUnsaid is what is taken for granted of a column called just "pH".
const phUnsaid = "the header does not say in what; water is the usual, and calcium chloride reads about half a unit lower"

// longestHeader is how many bytes a name may have; looking for phrases in a book would take for ever.
const longestHeader = 200

// understand says what a column is, from its header and, where the file has one, the cell of the units row.
func understand(header, unitCell string) column {
	if len(header) > longestHeader || len(unitCell) > longestHeader {
		return leftOut("its header is a text, not a name")
	}
	s := plainWords(header)
	if s == "" {
		return leftOut("it has no header")
	}
	if why, ok := words().is("refuse", s); ok {
		return leftOut(why)
	}
	units, rest := words().takeAll("measure", s)
	fromCell, method := words().takeAll("measure", plainWords(unitCell))
	// the units row is about this column alone, a header may quote a unit in passing
	if len(fromCell) > 0 {
		units = fromCell
	}
	// "pH" in a units row is no unit
	units = slices.DeleteFunc(units, func(u string) bool { return u == "ph" })
	// once more without the units, which stood in the way before
	if why, ok := words().is("refuse", rest); ok {
		return leftOut(why)
	}
	// a units cell may name the extractant too; its other words are remarks
	c := name(squeeze(rest+" "+extractantOnly(method)), units)
	if len(units) > 1 {
		return leftOut("its header names several units (" + strings.Join(units, ", ") + "), and which one holds is not clear")
	}
	switch length, isLength := words().is("length", plainWords(unitCell)); {
	case len(units) == 1:
		c.unit = measureByCode(units[0])
	case isLength && c.unit == unitless && (c.holds == topDepth || c.holds == bottomDepth || c.holds == depthRange):
		c.unit = measureByCode(length)
	}
	return settle(c)
}

// extractantOnly keeps of the rest of a units cell ("Mehlich 1 mg/kg") the words that name an extractant.
func extractantOnly(s string) string {
	var kept []string
	for {
		_, rest, ok := words().take("extractant", s)
		if !ok {
			return strings.Join(kept, " ")
		}
		kept = append(kept, removed(s, rest))
		s = rest
	}
}

// removed returns the words that s has and rest has not; rest is s without one phrase.
func removed(s, rest string) string {
	left := strings.Fields(rest)
	var out []string
	for _, w := range strings.Fields(s) {
		if len(left) > 0 && left[0] == w {
			left = left[1:]
			continue
		}
		out = append(out, w)
	}
	return strings.Join(out, " ")
}

// name says what the words of a header without its unit stand for.
func name(s string, units []string) column {
	if means, ok := words().is("name", s); ok {
		return named(means)
	}
	switch {
	// the order matters, since a header may hold several of these words
	case has(s, "depth", "top", "bottom", "upper", "lower", "layer"):
		return depthName(s)
	// before pH: "buffer pH" has both words
	case has(s, "buffer", "bph", "buff", "phb", "bpf", "buf"):
		return bufferColumn(s)
	case has(s, "ph", "phw", "phca"):
		return phColumn(s)
	case has(s, "acidity"):
		return acidityColumn(s)
	case has(s, "rec", "recs", "recommendation", "recommended", "recommend", "requirement", "needed", "apply"):
		return adviceColumn(s)
	case has(s, "sat", "saturation", "bs"):
		return saturationColumn(s, slices.Contains(units, "pct") || has(s, "bs", "base"))
	}
	return nutrientColumn(s, units)
}

// named makes the column of a name in headers.csv.
func named(means string) column {
	f := strings.Fields(means)
	switch f[0] {
	case "nutrient":
		return column{holds: nutrient, element: memberByCode(Elements(), f[1]), extractant: memberByCode(Extractants(), f[2])}
	case "saturation":
		return column{holds: saturation, element: memberByCode(Elements(), f[1])}
	case "buffer_ph":
		return column{holds: bufferPH, buffer: memberByCode(LimeBuffers(), strings.Join(f[1:], ""))}
	}
	for h := range kinds {
		if kinds[h].code == means {
			return column{holds: holds(h)}
		}
	}
	return leftOut("its name is not known")
}

// depthName reads "Top depth in" and the like: a word for the end, and perhaps the unit.
func depthName(s string) column {
	lengths, rest := words().takeAll("length", s)
	means, ok := words().is("name", rest)
	if !ok || len(lengths) > 1 {
		return leftOut("its name is not known")
	}
	c := named(means)
	if len(lengths) == 1 {
		c.unit = measureByCode(lengths[0])
	}
	return c
}

// bufferColumn reads "Sikora buffer pH" and the like.
func bufferColumn(s string) column {
	c := column{holds: bufferPH}
	means, rest, ok := words().take("buffer", s)
	if ok {
		c.buffer = memberByCode(LimeBuffers(), means)
	}
	if left := without(rest, "buffer", "bph", "buff", "buf", "phb", "ph", "soil", "value", "modified", "mod", "b", "lime"); left != "" {
		return leftOut(`it is about a buffer, but "` + left + `" in its header is not known`)
	}
	return c
}

// phColumn reads "1:1 soil pH", "pH in CaCl2" and the like.
func phColumn(s string) column {
	// words that say nothing of the liquid
	rest := without(s, "ph", "soil", "sample", "value", "in", "of", "1 1", "0.01", "m")
	switch {
	case rest == "":
		return column{holds: waterPH, assumed: phUnsaid}
	case slices.Contains([]string{"water", "h2o", "1:1", "1:1 water", "1:1 h2o", "w", "phw", "water 1:1", "h2o 1:1"}, rest):
		return column{holds: waterPH}
	case slices.Contains([]string{"1:2", "2:1", "1:2.5", "1:2 water", "1:2.5 water", "1:2 h2o", "1:2.5 h2o"}, rest):
		return column{holds: waterPH, assumed: "measured at " + rest + " in water; taken as 1:1"}
	case slices.Contains([]string{"cacl2", "calcium chloride", "salt", "ca", "0.01m cacl2", "phca", "1:1 cacl2", "1:2 cacl2", "cacl2 1:2", "cacl2 1:1"}, rest):
		return column{holds: chloridePH}
	}
	return leftOut(`it is a pH, but "` + rest + `" in its header is not known`)
}

// acidityColumn reads "Exchangeable acidity" with its method, if it names one.
func acidityColumn(s string) column {
	means, rest, _ := words().take("acidity", s)
	if what, ok := words().is("name", rest); !ok || what != "exch_acidity" {
		return leftOut("its name is not known")
	}
	return column{holds: acidity, acidity: memberByCode(AcidityMethods(), means)}
}

// adviceColumn keeps the laboratory's lime and leaves its other advice.
func adviceColumn(s string) column {
	// a column of lime or gypsum is no rate of lime
	if has(s, "lime", "limestone", "aglime") && !has(s, "gypsum") {
		return column{holds: limeRate}
	}
	return leftOut("it is the laboratory's advice on fertilizer, not a result")
}

// saturationColumn reads "Ca sat" and the like; share says that the header leaves no doubt that a percentage of the
// exchange capacity is meant.
func saturationColumn(s string, share bool) column {
	means, ok := words().is("element", without(s, "sat", "saturation", "bs", "base", "of", "cation"))
	switch {
	case !ok:
		return leftOut("its name is not known")
	case !share:
		return leftOut("it may be a saturation percentage or an extract of the saturated paste")
	}
	return column{holds: saturation, element: memberByCode(Elements(), means)}
}

// nutrientColumn reads an element with its extractant, such as "Phosphorus M3 ICAP ppm P".
func nutrientColumn(s string, units []string) column {
	c := column{holds: nutrient}
	found, rest := words().takeAll("extractant", s)
	if len(found) > 1 {
		return leftOut("its header names several extractants")
	}
	if len(found) == 1 {
		c.extractant = memberByCode(Extractants(), found[0])
	}
	_, rest = words().takeAll("noise", rest)
	if means, ok := words().is("name", rest); ok && len(found) == 0 {
		return named(means)
	}
	if len(strings.Fields(rest)) > 1 {
		rest = without(rest, "as") // "K as K2O" is not arsenic
	}
	oxides, rest := words().takeAll("oxide", rest)
	els, rest := words().takeAll("element", rest)
	// "P2O5" and "phosphorus" in one header are one element
	all := slices.Compact(append(oxides, els...))
	switch {
	// One word that is not known makes the whole column unknown: it may be the word that matters.
	case rest != "" && !restOf(rest, all) || len(all) == 0:
		return leftOut("its name is not known")
	case len(all) > 1:
		return leftOut("its header names several elements")
	}
	c.element, c.oxide = memberByCode(Elements(), all[0]), len(oxides) > 0
	if _, cation := c.element.Equivalent(); cation && slices.Contains(units, "pct") && c.extractant == ExtractantUnknown {
		return column{holds: saturation, element: c.element, assumed: "percent of a cation is taken as its share of the exchange capacity"}
	}
	return c
}

// restOf allows the "n" left over of "nitrate-N ppm N".
func restOf(rest string, all []string) bool {
	return rest == "n" && (slices.Contains(all, "no3n") || slices.Contains(all, "nh4n"))
}

// without removes the words from s, wherever they stand.
func without(s string, drop ...string) string {
	return strings.Join(slices.DeleteFunc(strings.Fields(s), func(w string) bool { return slices.Contains(drop, w) }), " ")
}
