package lab

import "strings"

// holds is what kind of thing a column gives.
type holds uint8

const (
	// The order matters in two places: figures and heading compare with waterPH, limeRate, longitude and coreCount.
	nothing holds = iota // not understood, or left out on purpose
	sampleID
	labNumber
	labName
	fieldID
	zoneID
	mapUnitKey
	longitude
	latitude
	topDepth
	bottomDepth
	depthRange
	coreCount
	takenDate
	reportedDate
	extractantName
	bufferName
	waterPH
	chloridePH
	bufferPH
	acidity
	limeBuffering
	limeBufferingEq
	exchangeCapacity
	organicMatter
	sandShare
	siltShare
	clayShare
	scoopDensity
	bulkDensity
	conductivity
	saturation
	nutrient
	limeRate
	limeText
	limeCrop
)

// kinds gives each kind its plain name and its words.
var kinds = [...]struct{ code, words string }{
	nothing:          {"ignore", "left out"},
	sampleID:         {"sample_id", "sample id"},
	labNumber:        {"lab_number", "laboratory's number"},
	labName:          {"lab", "laboratory"},
	fieldID:          {"field_id", "field id"},
	zoneID:           {"zone_id", "zone id"},
	mapUnitKey:       {"map_unit", "map unit key"},
	longitude:        {"lon", "longitude"},
	latitude:         {"lat", "latitude"},
	topDepth:         {"top", "top of the layer"},
	bottomDepth:      {"bottom", "bottom of the layer"},
	depthRange:       {"depth", "layer"},
	coreCount:        {"cores", "cores in the bag"},
	takenDate:        {"date", "day sampled"},
	reportedDate:     {"reported", "day received or reported"},
	extractantName:   {"extractant", "extractant of the row"},
	bufferName:       {"buffer", "lime buffer of the row"},
	waterPH:          {"ph_water", "pH in water"},
	chloridePH:       {"ph_cacl2", "pH in calcium chloride"},
	bufferPH:         {"buffer_ph", "buffer pH"},
	acidity:          {"exch_acidity", "acidity"},
	limeBuffering:    {"lbc", "lime buffer capacity, 30 minutes"},
	limeBufferingEq:  {"lbceq", "lime buffer capacity at equilibrium"},
	exchangeCapacity: {"cec", "cation exchange capacity"},
	organicMatter:    {"om", "organic matter"},
	sandShare:        {"sand", "sand"},
	siltShare:        {"silt", "silt"},
	clayShare:        {"clay", "clay"},
	scoopDensity:     {"density", "density as scooped"},
	bulkDensity:      {"bulk_density", "bulk density of the soil as it lies"},
	conductivity:     {"ec", "soluble salts"},
	saturation:       {"sat", "share of the exchange capacity"},
	nutrient:         {"nutrient", "nutrient"},
	limeRate:         {"lab_lime", "lime as the laboratory advises"},
	limeText:         {"lab_lime_text", "words on the laboratory's lime"},
	limeCrop:         {"lab_lime_crop", "crop of the laboratory's lime"},
}

// column is what one column, or one kind of result of a Modus file, was taken for.
type column struct {
	holds      holds
	element    Element
	extractant Extractant
	buffer     Buffer
	acidity    AcidityMethod
	oxide      bool // printed as P2O5 or K2O
	slot       int  // which of the columns of its kind; lime, its crop and its words belong together by it
	unit       measure
	assumed    string // what was taken for granted, in words; empty when the file says it all
	why        string // why it is not used; empty when it is
	ask        string // what to ask the laboratory; empty when nothing
}

// figures says whether the column holds figures.
func (c column) figures() bool {
	// the two runs of the list that hold numbers; names, dates and methods lie around them
	return c.holds >= waterPH && c.holds <= limeRate || c.holds >= longitude && c.holds <= coreCount
}

// leftOut is a column that is not used, and why.
func leftOut(why string) column { return column{why: why} }

// code returns the column as a plain header, e.g. "p_m3_ppm". It is empty for a column that is not used.
func (c column) code() string {
	if c.holds == nothing {
		return ""
	}
	name := kinds[c.holds].code
	switch c.holds {
	case waterPH:
		// a plain name of its own, so that a file written again still says that nobody said it
		if c.assumed == phUnsaid {
			name = "ph"
		}
	case bufferPH:
		name = joined(name, c.buffer.Code())
	case acidity:
		name = joined(name, c.acidity.Code())
	case saturation:
		name = c.element.Code() + "_sat"
	case nutrient:
		name = c.element.Code()
		if c.oxide {
			// the only two that the trade prints as oxides
			name = map[Element]string{Phosphorus: "p2o5", Potassium: "k2o"}[c.element]
		}
		name = joined(name, c.extractant.Code())
	}
	// the unit is part of the name: a plain header has to say all by itself
	return joined(name, c.unit.code())
}

// joined makes a plain name of its parts, those that are empty left out: "p" and "ppm" of an unknown extractant are
// "p_ppm".
func joined(parts ...string) string {
	kept := parts[:0:0]
	for _, p := range parts {
		if p != "" {
			kept = append(kept, p)
		}
	}
	return strings.Join(kept, "_")
}

// quantity says in words what the column gives.
func (c column) quantity() string {
	switch c.holds {
	case nutrient:
		if c.oxide {
			return c.element.String() + " printed as oxide"
		}
		return c.element.String()
	case saturation:
		return c.element.String() + ", share of the exchange capacity"
	}
	return kinds[c.holds].words
}

// method says in words how it was measured; empty when that is no question.
func (c column) method() string {
	switch c.holds {
	case nutrient:
		return c.extractant.String()
	case bufferPH:
		return c.buffer.String()
	case acidity:
		return c.acidity.String()
	}
	return ""
}
