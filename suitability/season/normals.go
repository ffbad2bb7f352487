package season

import (
	"math"
	"time"

	"rootworthy/soils/unit"
	"rootworthy/suitability"
)

// Normals are what a place's weather usually does, as the user's file has it; [ReadNormals] reads one.
type Normals struct {
	Name    string // of the file
	Freezes []Freeze
	Soil    []SoilNormal // by day of the year
}

// Freeze is the day by which the first freeze of autumn has come with some chance.
type Freeze struct {
	Day       suitability.MonthDay
	Threshold unit.Celsius // as cold as that or colder
	Chance    unit.Percent
	Source    string // as the file says; "" where it does not
}

// SoilNormal is the usual soil temperature on a day.
type SoilNormal struct {
	Day         suitability.MonthDay
	Temperature unit.Celsius
	Source      string
}

// hardFreeze is the threshold that counts as a killing one. Source: common practice, no source.
var hardFreeze = unit.Fahrenheit(28)

// FirstFreeze returns the usual first killing freeze: of the threshold nearest to 28 °F the day whose chance is nearest to one in two. ok
// is false without one; nil has none.
func (n *Normals) FirstFreeze() (best Freeze, ok bool) {
	if n == nil {
		return best, false
	}
	for _, f := range n.Freezes {
		if !ok || nearer(f, best) {
			best, ok = f, true
		}
	}
	return best, ok
}

// nearer says whether a speaks better for the usual killing freeze than b: by threshold, then by chance.
func nearer(a, b Freeze) bool {
	ta, tb := math.Abs(float64(a.Threshold-hardFreeze)), math.Abs(float64(b.Threshold-hardFreeze))
	// 28 °F is kept in °C, so thresholds that are equal in the file may differ by a rounding error
	if math.Abs(ta-tb) > 1e-9 {
		return ta < tb
	}
	return math.Abs(float64(a.Chance-50)) < math.Abs(float64(b.Chance-50))
}

// rule names the source of a freeze. The file was read, so its status is that of a source; what it says of itself is not checked.
func (f Freeze) rule() Rule {
	s := f.Source
	if s == "" {
		s = "your normals file, which names no source"
	}
	return Rule{Name: UsersNormals, Source: s, Status: suitability.Published}
}

// widestGap is how many days apart two soil normals may be for the days between them to be reckoned: monthly ones are.
const widestGap = 62

// SoilOn returns the usual soil temperature on a day, on the straight line between the normals before and after it. ok is false where
// there is none on one side within two months; nil has none.
func (n *Normals) SoilOn(day time.Time) (t unit.Celsius, ok bool) {
	if n == nil {
		return 0, false
	}
	before, after := -math.MaxFloat64, math.MaxFloat64
	var cold, warm unit.Celsius
	// normals hold in every year, so the neighbours of a day in January may lie in December before it
	for year := day.Year() - 1; year <= day.Year()+1; year++ {
		for _, s := range n.Soil {
			at := time.Date(year, s.Day.Month, s.Day.Day, 0, 0, 0, 0, time.UTC).Sub(midnight(day)).Hours() / 24
			if at <= 0 && at > before {
				before, cold = at, s.Temperature
			}
			if at >= 0 && at < after {
				after, warm = at, s.Temperature
			}
		}
	}
	switch {
	case after-before > widestGap:
		return 0, false
	// both 0: a normal of that very day
	case after == before:
		return cold, true
	}
	return cold + (warm-cold)*unit.Celsius(-before/(after-before)), true
}
