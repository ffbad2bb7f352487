package nutrient

import (
	_ "embed"
	"encoding/csv"
	"strconv"
	"strings"
	"sync"

	"rootworthy/soils/unit"
)

//go:embed removal.csv
var removalCSV string

// Removal is what a source says a ton of hay takes off the field. Sources disagree; each stands by itself.
type Removal struct {
	Nutrient    Nutrient
	Least, Most unit.Fraction // mass of what fertilizer is sold by, in a mass of hay
	Basis       string        // what the source counts, in its words
	Source      string
	Seen        Seen
}

var removals = sync.OnceValue(func() []Removal {
	var out []Removal
	for _, r := range rows(removalCSV) {
		n, _ := ByCode(r[0])
		perTon := func(s string) unit.Fraction { return unit.Fraction(number(s) / 2000) } // pounds in a short ton
		out = append(out, Removal{n, perTon(r[1]), perTon(r[2]), r[3], r[4], Seen(r[5])})
	}
	return out
})

// Removals returns what the sources say of a nutrient, in the order of the table; none where no source was found.
func Removals(n Nutrient) []Removal {
	var out []Removal
	for _, r := range removals() {
		if r.Nutrient == n {
			out = append(out, r)
		}
	}
	return out
}

// At returns what a yield of hay takes off.
func (r Removal) At(yield unit.AreaRate) (least, most unit.AreaRate) {
	return unit.AreaRate(r.Least) * yield, unit.AreaRate(r.Most) * yield
}

// rows reads a table that comes with the program, without its heading.
func rows(text string) [][]string {
	all, err := csv.NewReader(strings.NewReader(text)).ReadAll()
	if err != nil {
		panic("a table that comes with the program does not read: " + err.Error())
	}
	return all[1:]
}

// number and rows panic on what they cannot read: the tables are part of the program, and a test reads them.
func number(s string) float64 {
	v, err := strconv.ParseFloat(s, 64)
	if err != nil {
		panic("a table that comes with the program does not read: " + err.Error())
	}
	return v
}
