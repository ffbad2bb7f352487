package suitability

import (
	"cmp"
	"slices"

	"rootworthy/soils/unit"
)

// values gathers what is shown for a zone: means by percent over the components that have the value, pH as it stands;
// class words by dominant condition, what is not recorded being a class of its own; of equals the worse word. Depth and
// restriction are those of the largest rated component. Miscellaneous areas are left out.
func values(rated []ComponentRating) Values {
	var v Values
	v.Drainage = dominantWord(rated, Drainage)
	v.Flooding, v.Ponding = dominantWord(rated, Flooding), dominantWord(rated, Ponding)
	v.PHSurface = meanValue[unit.PH](rated, SurfacePH)
	v.PHSubsoil = meanValue[unit.PH](rated, SubsoilPH)
	v.Slope = meanValue[float64](rated, Slope)
	v.WaterTable = meanValue[unit.Depth](rated, WaterTable)
	v.AWC = meanValue[unit.Water](rated, AvailableWater)
	v.EC = meanValue[unit.Conductivity](rated, Salinity)
	v.SAR = meanValue[float64](rated, Sodicity)
	v.PHLimitDepth = weighted(rated, func(c *ComponentRating) unit.Opt[unit.Depth] { return c.LimitDepth })
	// the first rated component alone: a mean of 40 cm over rock and 150 cm over none is the depth of nothing
	for i := range rated {
		if rated[i].Class == NotRated && rated[i].ClassToday == NotRated {
			continue
		}
		// where none was described the depth stays missing, though a lower bound is known: it would be read as a restriction
		if f := rated[i].finding(Depth); !f.AtLeast && f.Value.Has() {
			v.Depth, v.Restriction = unit.Some(unit.Depth(f.Value.Or(0))), f.Word
		}
		break // components come by falling percent
	}
	return v
}

// finding returns the finding of a criterion; for a miscellaneous area, which has none, an empty one.
func (c *ComponentRating) finding(code Code) Finding {
	if i := slices.IndexFunc(c.Findings, func(f Finding) bool { return f.Criterion == code }); i >= 0 {
		return c.Findings[i]
	}
	return Finding{}
}

// meanValue is the mean by percent of what a criterion found.
func meanValue[T ~float64](rated []ComponentRating, code Code) unit.Opt[T] {
	return weighted(rated, func(c *ComponentRating) unit.Opt[T] {
		if x, ok := c.finding(code).Value.Get(); ok {
			return unit.Some(T(x))
		}
		return unit.None[T]()
	})
}

// weighted is the mean by percent over the components that have the value, rounded like a value of the survey; missing where none has one
// or none has a percent.
func weighted[T ~float64](rated []ComponentRating, of func(*ComponentRating) unit.Opt[T]) unit.Opt[T] {
	sum, weight := 0.0, 0.0
	for i := range rated {
		if x, ok := of(&rated[i]).Get(); ok {
			// each value by the components that have it: one that lacks it is not taken for zero, nor for the mean
			w := pct(rated[i].Percent)
			sum += float64(x) * w
			weight += w
		}
	}
	if weight == 0 {
		return unit.None[T]()
	}
	return unit.Some(T(roundInput(sum / weight)))
}

// dominantWord returns the word that holds the largest percent; of equals the one with the lower score.
func dominantWord(rated []ComponentRating, code Code) string {
	type share struct {
		word       string
		pct, score float64
	}
	var shares []share
	for i := range rated {
		if rated[i].Miscellaneous {
			continue
		}
		f := rated[i].finding(code)
		at := slices.IndexFunc(shares, func(s share) bool { return s.word == f.Word })
		if at < 0 {
			at = len(shares)
			// 101 is over every score: a word without one, "" for not recorded first of all, never wins as the worse of equals
			shares = append(shares, share{word: f.Word, score: f.Score.Or(101)})
		}
		shares[at].pct += pct(rated[i].Percent)
		shares[at].score = min(shares[at].score, f.Score.Or(101))
	}
	if len(shares) == 0 {
		return ""
	}
	return slices.MaxFunc(shares, func(a, b share) int {
		// the word itself decides last, so that the answer never hangs on the order of the rows
		return cmp.Or(cmp.Compare(a.pct, b.pct), cmp.Compare(b.score, a.score), cmp.Compare(a.word, b.word))
	}).word
}
