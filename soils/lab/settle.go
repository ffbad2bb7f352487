package lab

import "slices"

// unitsOf lists the units a kind may be printed in; the first is what the trade means when a header gives none, or
// unitless when there is no such usage and the laboratory must be asked.
var unitsOf = map[holds][]measure{
	topDepth:         {unitless, centimetres, inches},
	bottomDepth:      {unitless, centimetres, inches},
	depthRange:       {unitless, centimetres, inches},
	acidity:          {unitless, meqPer100g, meqPer100cm3},
	limeBuffering:    {ppmPerPH, partsPerMillion},
	limeBufferingEq:  {ppmPerPH, partsPerMillion},
	exchangeCapacity: {meqPer100g, meqPer100cm3},
	organicMatter:    {percent, gramsPerKilogram},
	sandShare:        {percent, gramsPerKilogram},
	siltShare:        {percent, gramsPerKilogram},
	clayShare:        {percent, gramsPerKilogram},
	scoopDensity:     {gramsPerCM3},
	bulkDensity:      {gramsPerCM3},
	conductivity:     {deciSiemens, microSiemens},
	saturation:       {percent},
	nutrient:         {unitless, partsPerMillion, partsPerBillion, milligramsPerDM3, gramsPerKilogram, percent, poundsPerAcre, kilogramsPerHectare, meqPer100g, meqPer100cm3},
	limeRate:         {unitless, shortTonsPerAcre, poundsPerAcre, tonnesPerHectare, kilogramsPerHectare, poundsPer1000SqFt},
}

// settle fits the unit to what the column holds, and refuses where what is not said would have to be guessed.
func settle(c column) column {
	if c.holds == nothing {
		return column{why: c.why, ask: c.ask}
	}
	allowed, hasUnit := unitsOf[c.holds]
	switch {
	case !hasUnit && c.unit == unitless:
		return c
	// the header and the units row are silent
	case hasUnit && c.unit == unitless:
		return usual(c, allowed[0])
	// a pH "in ppm" is a column that was misread, not a pH
	case !hasUnit:
		return leftOut(c.quantity() + " has no unit, but its header names " + c.unit.String())
	case !slices.Contains(allowed, c.unit):
		return leftOut(c.quantity() + " is not printed in " + c.unit.String())
	}
	return asked(charged(c))
}

// asked puts the question that acidity without its method leaves open. The figure is kept, but no lime method takes it: what a
// buffer reacts with is several times what potassium chloride displaces.
func asked(c column) column {
	if c.holds == acidity && c.acidity == AcidityUnknown {
		c.ask = askAcidity
	}
	return c
}

// usual gives the column the unit of the trade, and says so; or asks.
func usual(c column, m measure) column {
	if m != unitless {
		c.unit = m
		// these three are printed in no other unit, so nothing is taken for granted
		if c.assumed == "" && c.holds != limeBuffering && c.holds != limeBufferingEq && c.holds != saturation {
			c.assumed = "no unit is given; " + m.String() + " is the usual"
		}
		return c
	}
	switch c.holds {
	case limeRate: // kept as words
		c.ask = "in which unit is the lime: tons/ac, lb/ac, lb/1000 ft²?"
	case depthRange: // the cells may say it
	case topDepth, bottomDepth:
		c.ask = "is the depth in inches or centimetres?"
	case acidity:
		return column{why: "no unit is given", ask: askAcidityUnit}
	default:
		// not used, but element and method are kept, so that the mapping's unit can complete it
		return column{element: c.element, extractant: c.extractant, oxide: c.oxide, why: "no unit is given", ask: askUnit}
	}
	return c
}

// lacksUnit says whether a column is not used only because nobody said its unit.
func (c column) lacksUnit() bool { return c.ask == askUnit || c.ask == askAcidityUnit }

// charged refuses charge of what carries none.
func charged(c column) column {
	if c.holds == nutrient && (c.unit == meqPer100g || c.unit == meqPer100cm3) {
		if _, ok := c.element.Equivalent(); !ok {
			return leftOut(c.element.String() + " is not reported by charge")
		}
		// a charge of hydrogen is what other laboratories call acidity
		if c.element == Hydrogen {
			return column{holds: acidity, unit: c.unit, assumed: "exchangeable hydrogen is taken as the acidity"}
		}
	}
	if c.holds == nutrient && c.element == Hydrogen {
		return leftOut("hydrogen is read as a charge or as a share of the exchange capacity only")
	}
	if c.unit == partsPerMillion && (c.holds == limeBuffering || c.holds == limeBufferingEq) {
		c.unit = ppmPerPH
	}
	return c
}
