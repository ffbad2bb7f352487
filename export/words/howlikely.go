package words

import (
	"fmt"

	"rootworthy/suitability"
	"rootworthy/suitability/sampling"
)

// ClassChance says how likely it is that a zone has its class: "7 chances in 10 that it is suited (0.70)", with the
// class that it may be instead where that is worth a thought. Off is what the chance may be off by.
func ClassChance(class suitability.Class, of func(suitability.Class) float64, off float64, r Reader) string {
	return howLikely(class, of, off, r, "it is "+class.String(), "it cannot be rated")
}

// FieldChance says the same of a field: "7 chances in 10 that most of the field is suited (0.70)".
func FieldChance(class suitability.Class, of func(suitability.Class) float64, off float64, r Reader) string {
	if r == Landowner && of(class) >= 1 {
		if class == suitability.NotRated {
			return "Most of the field cannot be rated, and nothing in the survey changes that (1.00)."
		}
		return "Most of the field is " + class.String() + ", and nothing in the survey speaks against that (1.00)."
	}
	return howLikely(class, of, off, r, "most of the field is "+class.String(), "most of the field cannot be rated")
}

// ChanceOf says the chance of one class in a cell of a table: "7 chances in 10 (0.70)".
func ChanceOf(p float64) string {
	if p >= 1 {
		return "as far as the survey goes (1.00)"
	}
	return Chance(p) + " (" + chanceNumber(p) + ")"
}

// chanceNumber prints a chance with two decimals; what is not sure never reads as 1, and what may be never as 0.
func chanceNumber(p float64) string {
	n := hundredths(p)
	switch {
	case n == 100 && p < 1:
		return ">0.99"
	case n == 0 && p > 0:
		return "<0.01"
	}
	return fixed(float64(n)/100, 2)
}

// worthSaying is the chance from which another class is named beside the one that is shown.
const worthSaying = 0.2

// howLikely says how likely the class that is shown is. Rated and unrated are what the chance is of, for ground with a class and without.
// For consultant and technician it is a list with the figure and what the draws may be off by; for the landowner a sentence.
func howLikely(class suitability.Class, of func(suitability.Class) float64, off float64, r Reader, rated, unrated string) string {
	p := of(class)
	if r != Landowner {
		return ChanceOfClasses(of) + " (" + class.String() + " " + ChanceFigure(p, off) + ")"
	}
	what := rated
	if class == suitability.NotRated {
		what = unrated
	}
	if p >= 1 {
		return "Nothing in the survey speaks for another class (1.00)."
	}
	s := fmt.Sprintf("%s that %s (%s).", Chance(p), what, chanceNumber(p))
	// other is the likeliest of the remaining classes, and q its chance.
	other, q := suitability.NotRated, 0.0
	for _, c := range suitability.Classes() {
		if x := of(c); c != class && x > q {
			other, q = c, x
		}
	}
	switch {
	// The class shown follows from likely values alone; drawn from the whole range of the survey, every draw may come out as another.
	case q >= 1:
		return "By the ranges of the survey it comes out as " + other.String() + " instead (" + fixed(p, 2) + ")."
	case q > p && p <= 0:
		return fmt.Sprintf("%s But %s that it is %s.", title(s), Chance(q), other)
	case q > p:
		return fmt.Sprintf("Only %s But %s that it is %s.", s, Chance(q), other)
	case q >= worthSaying:
		return title(s) + " It may be " + other.String() + ": " + Chance(q) + "."
	}
	return title(s)
}

// NineInTen says within what a quantity lies: "9 chances in 10 that 34 to 109 acres are suited". Ends that read alike are
// one.
func NineInTen(low, high float64, what string) string {
	return "9 chances in 10 that " + Between(low, high) + " " + what
}

// Between prints "34 to 109", as exactly as a wide range deserves.
func Between(low, high float64) string {
	a, b := rough(low), rough(high)
	switch {
	case a == b && high <= 0:
		return a
	// A sliver that rounds to nothing is there all the same.
	case a == b && b == "0":
		return "under 0.1"
	case a == b:
		return "about " + b
	}
	return a + " to " + b
}

// rough prints a number with about two digits that count.
// 9.95 is where a tenth rounds up to 10.
func rough(x float64) string {
	if x < 9.95 {
		return plain(x, 1)
	}
	return fixed(x, 0)
}

// Bags says what is taken in a zone: "1 topsoil bag and 1 subsoil bag".
func Bags(z *sampling.Zone) string {
	var parts []string
	if z.Top > 0 {
		parts = append(parts, Count(z.Top, "topsoil bag", "topsoil bags"))
	}
	if z.Deep > 0 {
		parts = append(parts, Count(z.Deep, "subsoil bag", "subsoil bags"))
	}
	return Listed(parts)
}

// NoBag says why no soil sample is worth taking in a zone, by the code of the sampling plan.
func NoBag(code string, r Reader) string { return found(noBags(), code, r) }

// noBags: why a zone gets no bag.
func noBags() []phrase {
	return []phrase{
		{sampling.NoWorth, "a soil test would change little here", "a test of pH would hardly change class or lime", "no bag: little to learn"},
		{sampling.Tested, "it was tested not long ago", "tested lately, and nothing deeper is asked for", "no bag: tested lately"},
		{sampling.NoBudget, "the bags do more good in other parts", "the bags put more right in other zones", "no bag: budget spent"},
		{sampling.NoRoom, "no place in it is clear of the edge", "no place in it is clear of the edge", "no bag: no room inside the set-back"},
		{sampling.NoAnswer, "a soil test alone cannot rate it; dig and look", "not rated, and no test of pH can rate it", "no bag: look with an auger"},
		{sampling.NotAsked, "nobody asked for this field", "not among the fields asked for", "no bag: not asked for"},
	}
}
