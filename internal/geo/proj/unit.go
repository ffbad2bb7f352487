package proj

import (
	"math"
	"strconv"
)

// linearUnit is the unit a system's coordinates are written in.
type linearUnit struct {
	name  string
	metre float64 // metres in one unit
}

// linearUnits lists the units that the State Plane system and its neighbours use.
//
// Source: exact; the metre, the US survey foot of 1893 (1200/3937 m) and the international foot of 1959 (0.3048 m);
// EPSG units 9001, 9003, 9002.
func linearUnits() []linearUnit {
	return []linearUnit{{"m", 1}, {"ftUS", 1200. / 3937}, {"ft", 0.3048}}
}

// unitNamed finds a unit by its short name.
func unitNamed(name string) (linearUnit, bool) {
	for _, u := range linearUnits() {
		if u.name == name {
			return u, true
		}
	}
	return linearUnit{}, false
}

// unitOfSize finds the unit with so many metres. Files print the survey foot with 10 to 16 digits; 1e-8 tells it from
// the international foot (2e-6 away) and still takes the short prints, and the exact size is used then. Any other size
// between a millimetre and 10 km stands as read.
func unitOfSize(metre float64) (linearUnit, bool) {
	for _, u := range linearUnits() {
		if math.Abs(metre/u.metre-1) < 1e-8 {
			return u, true
		}
	}
	if !(metre >= 1e-3 && metre <= 1e4) {
		return linearUnit{}, false
	}
	return linearUnit{strconv.FormatFloat(metre, 'g', -1, 64) + " m", metre}, true
}
