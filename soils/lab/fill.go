package lab

import (
	"fmt"
	"strconv"
	"strings"
	"time"

	"rootworthy/internal/diag"
	"rootworthy/soils/unit"
)

// outcome is what became of a cell.
type outcome uint8

const (
	left    outcome = iota // empty: not measured
	taken                  // in the sample
	beyond                 // in the sample as a limit
	refused                // cannot be used until a question is answered
	faulty                 // told as a fault
	unused                 // something, of a column that is not used
)

// filler puts cells into samples and tells what is wrong with them. mark and order are of the whole file, or of one column where only its
// own cells tell.
type filler struct {
	file   string
	mark   decimalMark
	order  dayOrder
	slice  float64 // pounds of soil on the laboratory's acre
	depth  measure // of depths without a unit; unitless when nobody said
	faults *diag.List
}

// cell is one figure of a file, on its way into a sample.
type cell struct {
	*filler
	c    column
	text string
	line int
	name string // header, for faults
	id   string // sample, for faults of formats without lines
}

// put puts a cell into the sample.
func (x cell) put(s *Sample, row *rowNotes) outcome {
	switch x.c.holds {
	case nothing:
		if oneOf(strings.ToLower(squeeze(x.text)), notMeasured) {
			return left
		}
		return unused
	case sampleID, labNumber, labName, fieldID, zoneID, mapUnitKey, limeText, limeCrop:
		return x.putText(s)
	// read before the figures of the row, see turns
	case extractantName, bufferName:
		return x.putMethod(row)
	case takenDate, reportedDate:
		return x.putDay(s)
	case depthRange:
		return x.putLayer(s)
	case limeRate:
		return x.putLime(s)
	}
	return x.putFigure(s, row)
}

// rowNotes is what a row says about its other columns, and what needs two columns.
type rowNotes struct {
	extractant Extractant
	buffer     Buffer
	lon, lat   unit.Opt[float64]
	badDegrees bool // a fault of lon or lat was told
}

// putText puts a name or words, blanks squeezed: ids are compared letter by letter later.
func (x cell) putText(s *Sample) outcome {
	text := squeeze(x.text)
	if text == "" {
		return left
	}
	switch x.c.holds {
	case sampleID:
		s.ID = text
	case labNumber:
		s.LabNumber = text
	case labName:
		s.Lab = text
	case fieldID:
		s.Place.Field = text
	case zoneID:
		s.Place.Zone = text
	case mapUnitKey:
		s.Place.MapUnit = text
	case limeCrop:
		x.lime(s).Crop = text
	case limeText:
		x.lime(s).Text = text
	}
	return taken
}

// lime returns the recommendation that the column belongs to, made when it is the first of its columns.
func (x cell) lime(s *Sample) *Recommendation {
	// The columns of one recommendation may come in any order, and any of them may be empty.
	for len(s.Lime) <= x.c.slot {
		s.Lime = append(s.Lime, Recommendation{})
	}
	return &s.Lime[x.c.slot]
}

// putMethod takes the extractant or lime buffer that a row names for its other columns.
func (x cell) putMethod(row *rowNotes) outcome {
	s := plainWords(x.text[:min(len(x.text), longestHeader)])
	if s == "" {
		return left
	}
	part := "extractant"
	if x.c.holds == bufferName {
		part = "buffer"
		// "SMP buffer pH" in a cell is the buffer SMP
		s = without(s, "buffer", "ph")
	}
	means, rest, ok := words().take(part, s)
	// A fault and not "not stated": somebody stated something, and to go on without it would hide that.
	if !ok || without(rest, "method", "extraction", "extractant", "modified") != "" {
		return x.fault("unknown method", quoted(x.text)+" is not a known "+part, "write one of "+strings.Join(knownOf(part), ", "))
	}
	if part == "buffer" {
		row.buffer = memberByCode(LimeBuffers(), means)
	} else {
		row.extractant = memberByCode(Extractants(), means)
	}
	return taken
}

// knownOf lists what may be written in a column of methods.
func knownOf(part string) []string {
	if part == "buffer" {
		return codes(LimeBuffers())
	}
	return codes(Extractants())
}

// putDay puts a date. A date that may be two days is refused: three years of age hang on it.
func (x cell) putDay(s *Sample) outcome {
	t, state := readDay(x.text, x.order)
	switch state {
	case dayEmpty:
		return left
	case dayUnclear:
		return x.fault("day or month", quoted(x.text)+" may have the month or the day first", `write it as 2026-03-14, or set date_order = "mdy" or "dmy" in the mapping`)
	case dayBad:
		return x.fault("bad date", quoted(x.text)+" is not a date", "write it as 2026-03-14, or leave it empty")
	}
	switch to := dateOf(s, x.c.holds); {
	case !to.Has():
		*to = unit.Some(t)
	case to.Or(time.Time{}).After(t): // of several, the day nearest to the sampling
		*to = unit.Some(t)
	}
	return taken
}

// dateOf is the date of the sample that a column is about.
func dateOf(s *Sample, h holds) *unit.Opt[time.Time] {
	if h == takenDate {
		return &s.Taken
	}
	return &s.Reported
}

// putLayer puts both depths out of one cell.
func (x cell) putLayer(s *Sample) outcome {
	if oneOf(strings.ToLower(squeeze(x.text)), notMeasured) {
		return left
	}
	l, ok := readLayer(x.text, x.mark)
	if !ok {
		return x.fault("bad layer", quoted(x.text)+" is not a layer", `write it as "0-15 cm" or "0-6 in"`)
	}
	// Neither unit is believed where the two differ: 20 in for 20 cm would make a subsoil of a topsoil, and the lime with it.
	if x.c.unit != unitless && l.unit != unitless && l.unit != x.c.unit {
		return x.fault("two units of depth", quoted(x.text)+" is in "+l.unit.String()+", and its column in "+x.c.unit.String(), "correct the cell, or the unit of the column")
	}
	l.unit = firstStated(x.c.unit, l.unit)
	return x.putDepths(s, l)
}

// putDepths sets both ends of the layer.
func (x cell) putDepths(s *Sample, l layerText) outcome {
	m := l.unit
	if m == unitless {
		m = x.depth
	}
	top, ok := depthOf(l.top, m)
	if !ok {
		return refused
	}
	// of the same unit, so as sure as the top
	bottom, _ := depthOf(l.bottom, m)
	if top > deepest || bottom > deepest {
		return x.outOfRange(between("a layer", 0, deepest))
	}
	s.Top, s.Bottom = unit.Some(top), unit.Some(bottom)
	return taken
}

// putLime keeps the laboratory's lime; without a unit only its words.
func (x cell) putLime(s *Sample) outcome {
	if oneOf(strings.ToLower(squeeze(x.text)), notMeasured) {
		return left
	}
	given := strings.TrimSpace(squeeze(x.text) + " " + x.c.unit.String())
	f := readFigure(x.text, x.mark)
	if f.state == cellUnclear {
		return x.unclear()
	}
	r := x.lime(s)
	// as printed, whatever becomes of the figure: the words are shown beside our own
	r.Given = given
	// "1 to 2 tons" and a figure without a unit are words: shown, but no rate is made of them
	if f.state != cellFigure || f.bound != Exactly || x.c.unit == unitless {
		return refused
	}
	// kg/m², in the quality that the laboratory means
	rate := limeRateOf(f.value, x.c.unit)
	if !(rate >= 0 && rate <= mostLime) {
		r.Given = ""
		return x.outOfRange("a lime rate")
	}
	r.Rate = unit.Some(rate)
	return taken
}

// mostLime is above any rate that is advised: 100 short tons an acre.
var mostLime = unit.ShortTonsPerAcre(100)

// limeRateOf brings a printed rate of lime to kg/m². It stays lime of the quality that the laboratory means.
func limeRateOf(v float64, m measure) unit.AreaRate {
	switch m {
	case poundsPerAcre:
		return unit.AreaRate(v) * unit.PoundPerAcre
	case tonnesPerHectare:
		return unit.AreaRate(v) * unit.TonnePerHectare
	case kilogramsPerHectare:
		return unit.AreaRate(v) * unit.TonnePerHectare / unit.AreaRate(unit.Tonne)
	case poundsPer1000SqFt:
		return unit.AreaRate(v * float64(unit.Pound) / (1000 * float64(unit.SquareFoot)))
	}
	return unit.ShortTonsPerAcre(v)
}

// putDegrees keeps one half of a point until the row is complete, see pointOf.
func (x cell) putDegrees(row *rowNotes, v float64) outcome {
	limit, to := 180.0, &row.lon
	if x.c.holds == latitude {
		limit, to = 90, &row.lat
	}
	if !(v >= -limit && v <= limit) {
		// so that the other half is not called half a point as well
		row.badDegrees = true
		return x.fault("not degrees", quoted(x.text)+" is no "+kinds[x.c.holds].words+" in degrees",
			"give WGS 84 degrees; projected coordinates must be converted, and longitude and latitude must not be swapped")
	}
	*to = unit.Some(v)
	return taken
}

// fault tells of the cell by its place and returns what became of it.
func (x cell) fault(kind, what, fix string) outcome {
	x.faults.Add(diag.Fault{File: x.file, Line: x.line, Feature: x.id, Field: x.name, Kind: kind, What: what, Fix: fix})
	return faulty
}

// twice tells that a sample has the figure already; the first was taken.
func (x cell) twice(what string) outcome {
	x.faults.Notice(diag.Fault{File: x.file, Line: x.line, Feature: x.id, Field: x.name, Kind: "given twice",
		What: quoted(x.text) + " is not used: " + what + " is given twice for one sample, and the first was taken", Fix: "keep one of the two"})
	return unused
}

// unclear tells of a comma that may part thousands or decimals: 1,150 or 1.150.
func (x cell) unclear() outcome {
	return x.fault("comma", quoted(x.text)+" may mean thousands or decimals", `set decimal = "," or "." in the mapping`)
}

// outOfRange tells of a figure that no soil has. It is not cut to the range: what was meant, nobody knows.
func (x cell) outOfRange(what string) outcome {
	return x.fault("out of range", quoted(x.text)+" is not "+what, "correct the cell, or leave it empty if it was not measured")
}

// quoted shows a cell in a message, cut when it is long.
func quoted(s string) string {
	const most = 60
	if r := []rune(s); len(r) > most {
		s = string(r[:most]) + "…"
	}
	return strconv.Quote(s)
}

// between words a range.
func between(what string, lo, hi float64) string {
	return fmt.Sprintf("%s between %g and %g", what, lo, hi)
}
