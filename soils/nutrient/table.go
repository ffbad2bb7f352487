package nutrient

import (
	"strings"

	"rootworthy/soils/lab"
	"rootworthy/soils/unit"
)

// Table is what one source says of alfalfa, in one edition. [Tables] lists those that come with the program, [ReadTable]
// reads a user's own. It is not changed once read.
type Table struct {
	Name, State, Region string // state as a postal code; region "" for the whole state
	Edition             string // date or number; where the source has none, when it was read
	Source              string
	Seen                Seen
	Only                string // what the source restricts it to, e.g. "soil groups 3 and 4"; "" for nothing
	Ratings             []Rating
	Rates               []Pair
	Fixed               []Fixed
	Holds               []Hold
	Splits              []Split
	Extra               []Extra
	Seed                unit.Opt[SeedMolybdenum]
	Spray               unit.Opt[SprayMolybdenum]
}

// Rating names the classes of a nutrient, the poorest first, and where they end.
type Rating struct {
	Nutrient       Nutrient
	Extractant     lab.Extractant // not stated where the source does not say
	ExtractantSeen Seen           // of the extractant alone, which is often taken for granted
	Classes        []string
	To             []float64     // upper end of every class but the last, as printed; none where the laboratory alone knows
	PerPrinted     unit.AreaRate // what one of those is over the slice
	Slice          unit.AreaRate // dry soil over the ground that printed figures stand for
	decimals       int           // that the ends are printed with
}

// Pair is one cell of a matrix of phosphorus by potassium class.
type Pair struct {
	Phosphorus, Potassium string // classes
	P2O5, K2O             unit.AreaRate
	Flag                  string // what is odd about the cell, as printed; "" for nothing
}

// Fixed is a rate that no matrix gives: for everybody, or where a test falls below a figure or into a class.
type Fixed struct {
	Nutrient    Nutrient
	Stage       Stage
	Amount      unit.AreaRate
	Below       unit.Opt[unit.AreaRate] // soil test over the plow slice; missing means for everybody
	Class       string                  // only in this class; "" for all
	WithoutLime bool                    // only where no lime is spread, which would carry it
	EveryYears  int                     // 0 means once
}

// Hold is a level of the soil test that a source says to keep; it is no rate.
type Hold struct {
	Nutrient    Nutrient
	Least, Most unit.AreaRate // over the plow slice; Most 0 where the source names no upper end
}

// Split parts a yearly rate.
type Split struct {
	Nutrient Nutrient
	Stage    Stage
	Parts    []Part
}

// Part is one application of a rate.
type Part struct {
	Share unit.Fraction
	When  string // in words: "spring", "after the third cutting"
}

// Extra comes on top of the matrix, whatever the test says.
type Extra struct {
	Nutrient Nutrient
	Stage    Stage
	Amount   unit.AreaRate
	For      string
	Parts    []Part
}

// Stage is whether fertilizer goes on before the crop is sown or on a standing crop.
type Stage string

// The stages.
const (
	Establish Stage = "establish"
	Maintain  Stage = "maintain"
)

// Stages lists both.
func Stages() []Stage { return []Stage{Establish, Maintain} }

// rating returns the rating of a nutrient, nil where the table has none. The pointer is into the table.
func (t *Table) rating(n Nutrient) *Rating {
	for i := range t.Ratings {
		if t.Ratings[i].Nutrient == n {
			return &t.Ratings[i]
		}
	}
	return nil
}

// index returns the place of a class, in any case; -1 where there is none.
func (r *Rating) index(class string) int {
	for i, c := range r.Classes {
		if strings.EqualFold(c, strings.TrimSpace(class)) {
			return i
		}
	}
	return -1
}

// parts returns how a rate of a nutrient is parted; one application where the source does not say. The default words are those of
// nobody's table.
func (t *Table) parts(n Nutrient, s Stage) []Part {
	for _, sp := range t.Splits {
		if sp.Nutrient == n && sp.Stage == s {
			return sp.Parts
		}
	}
	if s == Establish {
		return []Part{{1, "before sowing"}}
	}
	return []Part{{1, "once a year"}}
}

// inClass says whether a fixed rate is for a class.
func (f Fixed) inClass(class string) bool { return f.Class == "" || strings.EqualFold(f.Class, class) }

// some makes a constant a rate: unit.Some(0) alone would hold a whole number.
func some(r unit.AreaRate) unit.Opt[unit.AreaRate] { return unit.Some(r) }
