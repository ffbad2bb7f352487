package nutrient

import (
	"strings"

	"rootworthy/soils/unit"
)

// rates checks the matrix: every pair of classes once, and no more fertilizer where the soil holds more.
func (b *builder) rates(t *Table, raw []rateText) {
	if len(raw) == 0 {
		return
	}
	p, k := t.rating(Phosphorus), t.rating(Potassium)
	if p == nil || k == nil {
		b.fault(b.line("rate", 0), "rate", "no classes", "add a [[rating]] of p and one of k", "there are rates, but no classes of phosphorus and potassium")
		return
	}
	// whether anything was wrong before the matrix: only what goes wrong within it makes the count below idle
	sound := !b.bad
	cell := map[[2]int]Pair{}
	for i, r := range raw {
		at := [2]int{p.index(r.P), k.index(r.K)}
		_, twice := cell[at]
		switch {
		case at[0] < 0 || at[1] < 0:
			b.fault(b.line("rate", i), "rate", "unknown class", "write the classes as the ratings have them", "p %q, k %q is no pair of classes", r.P, r.K)
			continue
		// told, and the later one taken, so that the rest can be checked
		case twice:
			b.fault(b.line("rate", i), "rate", "pair twice", "leave one of them", "p %q, k %q stands twice", r.P, r.K)
		}
		cell[at] = Pair{r.P, r.K, b.pounds("rate", i, "p2o5", r.P2O5), b.pounds("rate", i, "k2o", r.K2O), r.Flag}
		t.Rates = append(t.Rates, cell[at])
	}
	if b.bad && sound {
		return // what follows would only tell the same fault twice
	}
	if len(cell) != len(p.Classes)*len(k.Classes) {
		b.fault(b.line("rate", 0), "rate", "pair missing", "give every pair of classes a rate", "%d of %d pairs have rates", len(cell), len(p.Classes)*len(k.Classes))
		return
	}
	b.neverMore(cell, p, k)
}

// neverMore checks that a richer soil asks for no more of anything.
func (b *builder) neverMore(cell map[[2]int]Pair, p, k *Rating) {
	for i := range p.Classes {
		for j := range k.Classes {
			here := cell[[2]int{i, j}]
			// each cell against its two poorer neighbours is enough: what holds from step to step holds over all of them
			for _, poorer := range [][2]int{{i - 1, j}, {i, j - 1}} {
				if was, ok := cell[poorer]; ok && (here.P2O5 > was.P2O5 || here.K2O > was.K2O) {
					b.fault(b.line("rate", 0), "rate", "rises", "compare the row with the printed table",
						"p %q, k %q asks for more than the poorer p %q, k %q", here.Phosphorus, here.Potassium, was.Phosphorus, was.Potassium)
				}
			}
		}
	}
}

// fixed checks a rate outside the matrix.
func (b *builder) fixed(t *Table, i int, raw fixedText) {
	f := Fixed{Nutrient: b.nutrient("fixed", i, raw.Nutrient), Stage: b.stage("fixed", i, raw.Stage), Class: raw.Class, WithoutLime: raw.WithoutLime,
		Amount: b.pounds("fixed", i, "lb_ac", raw.Amount), EveryYears: raw.EveryYears}
	// a pointer, since a limit of 0 is not the same as none
	if raw.Below != nil {
		f.Below = unit.Some(b.pounds("fixed", i, "below_lb_ac", *raw.Below))
	}
	if r := t.rating(f.Nutrient); f.Class != "" && (r == nil || r.index(f.Class) < 0) {
		b.fault(b.line("fixed", i), "fixed.class", "unknown class", "write a class of the nutrient's [[rating]]", "%q is no class of %s", f.Class, f.Nutrient)
	}
	if f.Nutrient == Boron && f.Amount > MostBoron {
		b.fault(b.line("fixed", i), "fixed.lb_ac", "too much boron", "write pounds of boron, not of the product", "%g lb/ac of boron harms the crop", raw.Amount)
	}
	t.Fixed = append(t.Fixed, f)
}

// MostBoron is the most boron that labels and the sources here give alfalfa in a year.
// Source: 2 to 3 lb/ac, University of Tennessee and University of Georgia; that more injures is from memory, not checked.
const MostBoron = 3 * unit.PoundPerAcre * (1 + 1e-9)

// parts checks how a rate is parted and brings the shares to 1.
func (b *builder) parts(section string, i int, raw splitText) []Part {
	sum := 0.0
	for _, x := range raw.Parts {
		if !(x > 0 && x <= 1e6) {
			b.fault(b.line(section, i), section+".parts", "out of range", "write shares such as [1, 1]", "%g is no share", x)
			return nil
		}
		sum += x
	}
	if len(raw.Parts) == 0 || len(raw.Parts) != len(raw.When) {
		b.fault(b.line(section, i), section+".when", "row length", "say when for every part", "%d parts have %d dates", len(raw.Parts), len(raw.When))
		return nil
	}
	var out []Part
	for j, x := range raw.Parts {
		out = append(out, Part{unit.Fraction(x / sum), strings.TrimSpace(raw.When[j])})
	}
	return out
}

// molybdenum checks both ways of giving it. The dose on seed may not be higher than the one that was read: cattle die of it.
func (b *builder) molybdenum(t *Table, raw *tableText) {
	if s := raw.Seed; s != nil {
		if !(s.Mo > 0 && s.Molybdate > 0 && s.Seed > 0) || s.Mo/s.Seed > 0.25/60*(1+1e-9) || s.Molybdate/s.Seed > 2.0/3/60*(1+1e-9) {
			b.fault(b.line("seed_molybdenum", 0), "seed_molybdenum", "dose", "give at most 1/4 oz molybdenum (2/3 oz sodium molybdate) for 60 lb of seed",
				"%g oz of molybdenum on %g lb of seed is not possible or too much", s.Mo, s.Seed)
		} else {
			t.Seed = unit.Some(SeedMolybdenum{unit.Mass(s.Mo) * unit.Ounce, unit.Mass(s.Molybdate) * unit.Ounce, unit.Mass(s.Seed) * unit.Pound})
		}
	}
	s := raw.Spray
	if s == nil {
		return
	}
	if !(s.Mo > 0 && s.Mo <= 3 && s.Molybdate > 0 && s.Molybdate <= 8 && s.Water > 0 && s.EveryYears > 0) {
		b.fault(b.line("spray_molybdenum", 0), "spray_molybdenum", "dose", "give at most 3 oz molybdenum (8 oz sodium molybdate) an acre, its water and years",
			"%g oz of molybdenum an acre is not possible or too much", s.Mo)
		return
	}
	ounces := func(oz float64) unit.AreaRate { return unit.PoundsPerAcre(oz / 16) }
	t.Spray = unit.Some(SprayMolybdenum{ounces(s.Mo), ounces(s.Molybdate), unit.Water(s.Water) * unit.GallonPerAcre, s.EveryYears, s.When})
}
