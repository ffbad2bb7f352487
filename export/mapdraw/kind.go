package mapdraw

import (
	"math"

	"rootworthy/export/words"
	"rootworthy/soils/unit"
	"rootworthy/suitability"
)

// Kind is what a map shows.
type Kind uint8

// The kinds.
const (
	Class     Kind = iota // what the ground can carry once what can be corrected is corrected
	Today                 // the same with the ground as it is
	Lime                  // lime requirement, likely figure
	SurfacePH             // pH in water of the top
	SubsoilPH             // pH in water of the subsoil
)

// Kinds lists all kinds.
func Kinds() []Kind { return []Kind{Class, Today, Lime, SurfacePH, SubsoilPH} }

// String names a kind as files do.
func (k Kind) String() string {
	return [...]string{"class", "class-today", "lime", "ph-surface", "ph-subsoil"}[min(int(k), 4)]
}

// Title says what a map of the kind shows.
func (k Kind) Title() string {
	switch k {
	case Today:
		return "What the ground can carry as it is today"
	case Lime:
		return "Lime, short tons of pure lime an acre"
	case SurfacePH:
		return "pH of the topsoil, 0 to 8 in (0 to 20 cm)"
	case SubsoilPH:
		return "pH of the subsoil, 12 to 40 in (30 to 100 cm)"
	}
	return "What the ground can carry once limed"
}

// Look is how one kind of ground is drawn, on the map and in the legend alike.
type Look struct {
	Fill    Color
	Pattern Pattern
	Letter  string // "S"; "" where the value itself is printed
	Word    string // "Suited"
}

// ClassLook returns the look of a class.
//
// Source: fills chosen to stay apart in grey print (60, 121, 230, 234 of 255) and for readers who do not tell red from
// green or blue from yellow; patterns part marginal from not rated, whose greys are alike. A test computes both.
func ClassLook(c suitability.Class) Look {
	switch c {
	case suitability.Suited:
		return Look{hex("2c7fb8"), Plain, "S", "Suited"}
	case suitability.Marginal:
		return Look{hex("ffe9a3"), Dotted, "M", "Marginal"}
	case suitability.Unsuited:
		return Look{hex("7a0f1e"), Lined, "U", "Unsuited"}
	}
	return Look{hex("e6e6e6"), Dashed, "–", "Not rated"}
}

// OutsideLook is ground that the survey does not cover.
func OutsideLook() Look { return Look{white(), Dashed, "?", "Outside the survey"} }

// noValue is ground without a figure.
func noValue(word string) Look { return Look{hex("e6e6e6"), Dashed, "–", word} }

// scheme is how the zones of one map are told apart: rows of the legend and, for each zone, its row and its value.
type scheme struct {
	rows []Look
	of   func(*suitability.Zone) (row int, value string)
}

// schemeFor chooses the scheme of a kind; steps of lime depend on the most that any zone of the map needs.
func schemeFor(k Kind, zones []*suitability.Zone) scheme {
	switch k {
	case Lime:
		return limeScheme(zones)
	case SurfacePH:
		return phScheme(func(v *suitability.Values) unit.Opt[unit.PH] { return v.PHSurface })
	case SubsoilPH:
		return phScheme(func(v *suitability.Values) unit.Opt[unit.PH] { return v.PHSubsoil })
	}
	var rows []Look
	for _, c := range suitability.Classes() {
		rows = append(rows, ClassLook(c))
	}
	return scheme{rows, func(z *suitability.Zone) (int, string) {
		class := z.Rating.Class
		if k == Today {
			class = z.Rating.ClassToday
		}
		for i, c := range suitability.Classes() {
			if c == class {
				return i, rows[i].Letter
			}
		}
		return len(rows) - 1, "–"
	}}
}

// Shades of the two maps of values, light to dark: one hue each, in steps that a grey print keeps apart.
func limeShades() []Color {
	return []Color{hex("fde3c8"), hex("f6b77a"), hex("dd8433"), hex("a9540f"), hex("6b2f05")}
}

func phShades() []Color {
	return []Color{hex("f0e8f6"), hex("d3bfe3"), hex("ab8cc8"), hex("7c56a4"), hex("4b2379")}
}

// limeScheme divides what is needed into at most five even steps of a round size.
func limeScheme(zones []*suitability.Zone) scheme {
	most := 0.0
	for _, z := range zones {
		most = max(most, z.Lime.Likely.Or(0).ShortTonsPerAcre())
	}
	shades := limeShades()
	step := 0.25
	// The smallest step that five shades reach to the top with: steps of another size for every farm, but always ones that can be said.
	for _, s := range []float64{0.5, 1, 2, 4, 8} {
		if most > step*float64(len(shades)) {
			step = s
		}
	}
	rows := []Look{noValue("No figure"), {white(), Plain, "", "None needed"}}
	for i, c := range shades {
		low, high := float64(i)*step, float64(i+1)*step
		word := words.Decimal(low, 2) + " to " + words.Decimal(high, 2)
		if i == 0 {
			word = "Up to " + words.Decimal(high, 2)
		}
		// Beyond the largest step the last shade is open; there are no more shades that a grey print keeps apart.
		if i == len(shades)-1 && most > high {
			word = "Over " + words.Decimal(low, 2)
		}
		rows = append(rows, Look{c, Plain, "", word})
	}
	return scheme{rows, func(z *suitability.Zone) (int, string) {
		x, ok := z.Lime.Likely.Get()
		rate := x.ShortTonsPerAcre()
		switch {
		case !ok:
			return 0, "–"
		// None needed is white and no shade of its own: there is nothing to see there.
		case rate <= 0:
			return 1, "none"
		}
		i := 0
		for i < len(shades)-1 && rate > float64(i+1)*step {
			i++
		}
		return 2 + i, words.Tons(rate)
	}}
}

// phLabel prints a pH to a tenth, or to hundredths where the tenth would read as the better side of a mark: 5.45 is under 5.5, and "5.5" on
// its colour would belie the legend.
func phLabel(x float64, marks []float64) string {
	tenth := math.Round(x*10) / 10
	for _, m := range marks {
		if x < m && tenth >= m {
			return words.Fixed(min(x, m-0.01), 2)
		}
	}
	return words.Fixed(x, 1)
}

// phScheme divides pH by half units: darker is more acid.
func phScheme(of func(*suitability.Values) unit.Opt[unit.PH]) scheme {
	shades := phShades()
	marks := []float64{6.5, 6, 5.5, 5}
	rows := []Look{noValue("No value in the survey")}
	for i, c := range shades {
		word := ""
		switch i {
		case 0:
			word = "6.5 and more"
		case len(marks):
			word = "Under 5"
		default:
			word = words.Decimal(marks[i], 1) + " to under " + words.Decimal(marks[i-1], 1)
		}
		rows = append(rows, Look{c, Plain, "", word})
	}
	return scheme{rows, func(z *suitability.Zone) (int, string) {
		x, ok := of(&z.Rating.Values).Get()
		if !ok {
			return 0, "–"
		}
		i := 0
		// The value on a mark belongs to the better side, as limits of pH are told: "6.5 and more".
		for i < len(marks) && float64(x) < marks[i] {
			i++
		}
		return 1 + i, phLabel(float64(x), marks)
	}}
}
