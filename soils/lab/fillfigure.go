package lab

import (
	"math"
	"slices"
	"strings"

	"rootworthy/soils/unit"
)

// deepest is the deepest layer that is taken for one, in cm.
const deepest = 1000

// plausible is what a figure of each kind may be, in the unit it is printed in. Wide enough for any soil; what is
// outside is a slip of the pen. Common practice, no source.
var plausible = map[holds]struct {
	what   string
	lo, hi float64
}{
	waterPH:          {"a pH", 2, 12},
	chloridePH:       {"a pH", 2, 12},
	bufferPH:         {"a buffer pH", 3, 9},
	acidity:          {"an acidity", 0, 300},
	limeBuffering:    {"a lime buffer capacity", 1, 50000},
	limeBufferingEq:  {"a lime buffer capacity", 1, 50000},
	exchangeCapacity: {"an exchange capacity", 0, 500},
	organicMatter:    {"a share of organic matter", 0, 1000},
	sandShare:        {"a share", 0, 1000},
	siltShare:        {"a share", 0, 1000},
	clayShare:        {"a share", 0, 1000},
	scoopDensity:     {"a density", 0.05, 3},
	bulkDensity:      {"a bulk density", 0.05, 3},
	conductivity:     {"a conductivity", 0, 1e6},
	saturation:       {"a percentage", 0, 300}, // laboratories do print sums over 100
	nutrient:         {"a content", 0, 1e7},
	topDepth:         {"a depth", 0, deepest},
	bottomDepth:      {"a depth", 0, deepest},
	coreCount:        {"a number of cores", 1, 10000},
	longitude:        {"a longitude", -1e9, 1e9}, // putDegrees says it better
	latitude:         {"a latitude", -1e9, 1e9},
}

// mayBeLimit are the kinds that keep "<25" as a limit.
var mayBeLimit = []holds{nutrient, acidity, organicMatter}

// putFigure reads a cell as a figure and puts it where its column says, once it is plausible.
func (x cell) putFigure(s *Sample, row *rowNotes) outcome {
	text := x.text
	if x.c.unit == percent { // "2.5%"
		text = strings.TrimSuffix(strings.TrimSpace(text), "%")
	}
	f := readFigure(text, x.mark)
	// a pH or a density beyond a limit is a slip of the pen; a content or an acidity may well be too small to tell
	limit := f.bound != Exactly
	switch {
	case f.state == cellEmpty:
		return left
	case f.state == cellUnclear:
		return x.unclear()
	case f.state == cellBad:
		return x.fault("not a figure", quoted(x.text)+" is not a figure", "correct the cell, or leave it empty if it was not measured")
	case limit && !slices.Contains(mayBeLimit, x.c.holds):
		return x.fault("limit", quoted(x.text)+" is a limit, and "+kinds[x.c.holds].words+" needs a figure", "give the figure, or leave the cell empty")
	}
	p := plausible[x.c.holds]
	// Before conversion, in the unit as printed: that is what the user sees and can correct.
	if f.state == cellFigure && !(f.value >= p.lo && f.value <= p.hi) {
		return x.outOfRange(between(p.what, p.lo, p.hi))
	}
	// "ND" has no value and is not held against the range
	done := x.putValue(s, row, f)
	if done == taken && limit {
		return beyond
	}
	return done
}

// putValue puts a figure that was read. Each case brings it to SI, or to the type that its method makes it.
func (x cell) putValue(s *Sample, row *rowNotes, f figure) outcome {
	v := f.value
	switch x.c.holds {
	case waterPH:
		if unsaid := x.c.assumed == phUnsaid; !s.PH.Has() || !unsaid { // what is said wins
			s.PH, s.PHAssumed = unit.Some(unit.PH(v)), unsaid
		}
	case chloridePH:
		s.PHCaCl2 = unit.Some(unit.PHCaCl2(v))
	case bufferPH:
		return s.Buffer.put(v, firstStated(x.c.buffer, row.buffer))
	case acidity:
		return x.putAcidity(s, f)
	case limeBuffering:
		s.LBC = unit.Some(unit.LimeBuffering(v))
	case limeBufferingEq:
		s.LBCeq = unit.Some(unit.LimeBufferingEq(v))
	case exchangeCapacity:
		if x.c.unit == meqPer100cm3 {
			s.CECByVolume = unit.Some(unit.VolumeCharge(v))
		} else {
			s.CEC = unit.Some(unit.Charge(v))
		}
	case organicMatter, sandShare, siltShare, clayShare:
		return x.putShare(s, f)
	case scoopDensity:
		s.Density = unit.Some(unit.BulkDensity(v))
	case bulkDensity:
		s.BulkDensity = unit.Some(unit.BulkDensity(v))
	case conductivity:
		if x.c.unit == microSiemens {
			v /= 1000
		}
		s.EC = unit.Some(unit.Conductivity(v))
	case saturation:
		return x.putSaturation(s, unit.Percent(v))
	case nutrient:
		return x.putNutrient(s, row, f)
	case topDepth, bottomDepth:
		return x.putDepth(s, v)
	case coreCount:
		if v != math.Trunc(v) {
			return x.outOfRange("a whole number of cores")
		}
		s.Cores = unit.Some(int(v))
	case longitude, latitude:
		return x.putDegrees(row, v)
	}
	return taken
}

// put sets the buffer pH in the type of its buffer; refused when nobody named it.
func (b *Buffers) put(v float64, which Buffer) outcome {
	switch which {
	case MehlichBuffer:
		b.Mehlich = unit.Some(unit.PHMehlich(v))
	case AdamsEvansBuffer:
		b.AdamsEvans = unit.Some(unit.PHAdamsEvans(v))
	case MooreSikoraBuffer:
		b.MooreSikora = unit.Some(unit.PHMooreSikora(v))
	case SMPBuffer:
		b.SMP = unit.Some(unit.PHSMP(v))
	case SikoraBuffer:
		b.Sikora = unit.Some(unit.PHSikora(v))
	case WoodruffBuffer:
		b.Woodruff = unit.Some(unit.PHWoodruff(v))
	default:
		return refused
	}
	return taken
}

// putAcidity puts acidity under its method, of which a sample has one figure each.
func (x cell) putAcidity(s *Sample, f figure) outcome {
	// by mass and by volume are kept apart: without a density neither becomes the other
	a := Acidity{Method: x.c.acidity}
	if x.c.unit == meqPer100cm3 {
		a.ByVolume = reading[unit.VolumeCharge](f, f.value)
	} else {
		a.ByMass = reading[unit.Charge](f, f.value)
	}
	if slices.ContainsFunc(s.Acidity, func(b Acidity) bool { return b.Method == a.Method }) {
		return x.twice("acidity " + a.Method.String())
	}
	s.Acidity = append(s.Acidity, a)
	return taken
}

// putSaturation puts the share of an element, of which a sample has one. A second column in a table never comes here, see again; a second
// result in a Modus file does.
func (x cell) putSaturation(s *Sample, share unit.Percent) outcome {
	for _, old := range s.Saturation {
		switch {
		case old.Element != x.c.element:
		// the same share once more says nothing new
		case old.Percent == share:
			return unused
		default:
			return x.twice(x.c.element.String() + " saturation")
		}
	}
	s.Saturation = append(s.Saturation, Saturation{x.c.element, share})
	return taken
}

// putShare puts a share of the soil, percent; the laboratory may print g/kg.
func (x cell) putShare(s *Sample, f figure) outcome {
	v := f.value
	if x.c.unit == gramsPerKilogram {
		v /= 10
	}
	// only now: the range above is in the unit as printed, and 300 g/kg are 30 %
	if v > 100 {
		return x.outOfRange("a share of 100 %")
	}
	switch x.c.holds {
	case sandShare:
		s.Sand = unit.Some(unit.Percent(v))
	case siltShare:
		s.Silt = unit.Some(unit.Percent(v))
	case clayShare:
		s.Clay = unit.Some(unit.Percent(v))
	default:
		s.OrganicMatter = reading[unit.Percent](f, v)
	}
	return taken
}

// putDepth puts one end of the layer, cm. Without a unit it is refused: 6 is six inches or six centimetres.
func (x cell) putDepth(s *Sample, v float64) outcome {
	d, ok := depthOf(v, firstStated(x.c.unit, x.depth))
	if !ok {
		return refused
	}
	if d > deepest {
		return x.outOfRange(between("a depth", 0, deepest))
	}
	if x.c.holds == topDepth {
		s.Top = unit.Some(d)
	} else {
		s.Bottom = unit.Some(d)
	}
	return taken
}

// putNutrient puts the content of an element, mg/kg, or mg/dm³ where the laboratory measures by volume; an oxide as its
// element.
func (x cell) putNutrient(s *Sample, row *rowNotes, f figure) outcome {
	n := Nutrient{Element: x.c.element, Extractant: firstStated(x.c.extractant, row.extractant)}
	n.Given = strings.TrimSpace(squeeze(x.text) + " " + x.c.unit.String())
	if x.c.oxide {
		n.Given += " as oxide"
	}
	v := f.value
	switch charge := x.c.unit == meqPer100g || x.c.unit == meqPer100cm3; {
	// a charge is that of the ion, whatever mass it is printed beside: 1 meq of K2O is 1 meq of K
	case !x.c.oxide || charge:
	case x.c.element == Phosphorus:
		v /= unit.PhosphateOfPhosphorus
	default:
		// potassium: headers.csv has no third oxide
		v /= unit.PotashOfPotassium
	}
	if x.c.unit == milligramsPerDM3 || x.c.unit == meqPer100cm3 {
		// kept by volume: it becomes a content by mass only with the density of the scooped soil
		vc := unit.VolumeContent(v)
		if e, ok := n.Element.Equivalent(); ok && x.c.unit == meqPer100cm3 {
			vc = unit.VolumeCharge(v).Content(e)
		}
		n.ByVolume = reading[unit.VolumeContent](f, float64(vc))
	} else {
		n.ByMass = reading[unit.Content](f, float64(x.content(v)))
	}
	// a million mg in a kg; by volume up to the density of rock, 3 kg/dm³
	if n.ByMass.Value.Or(0) > 1e6 || n.ByVolume.Value.Or(0) > 3e6 {
		return x.outOfRange("a content: it is more than the soil weighs")
	}
	if old, twice := s.Nutrient(n.Element, n.Extractant); twice {
		// laboratories print one figure in two units; alike after conversion it is the same figure
		if old.ByMass == n.ByMass && old.ByVolume == n.ByVolume {
			return unused
		}
		return x.twice(n.Element.String() + ", " + n.Extractant.String() + ",")
	}
	s.Nutrients = append(s.Nutrients, n)
	return taken
}

// content brings a figure by mass of soil to mg/kg.
func (x cell) content(v float64) unit.Content {
	switch x.c.unit {
	case partsPerBillion:
		return unit.Content(v / 1000)
	case gramsPerKilogram:
		return unit.ContentFromGramsPerKilogram(v)
	case percent:
		return unit.ContentFromPercent(v)
	case poundsPerAcre:
		return unit.ContentFromPoundsPerAcre(v, x.slice)
	case kilogramsPerHectare:
		// the slice is in lb/ac, as American laboratories name it; a hectare holds the same soil by area
		return unit.ContentFromKilogramsPerHectare(v, x.slice*float64(unit.PoundPerAcre)/float64(unit.TonnePerHectare)*float64(unit.Tonne))
	case meqPer100g:
		if e, ok := x.c.element.Equivalent(); ok {
			return unit.Charge(v).Content(e)
		}
	}
	return unit.Content(v)
}

// reading makes the reading of a figure whose value was brought to SI.
func reading[T ~float64](f figure, si float64) Reading[T] {
	if f.state == cellNotDetected {
		return Reading[T]{Bound: Below}
	}
	return Reading[T]{Value: unit.Some(T(si)), Bound: f.bound}
}

// firstStated returns a unless it is its "not stated".
func firstStated[T ~uint8](a, b T) T {
	if a != 0 {
		return a
	}
	return b
}
