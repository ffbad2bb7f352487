package seedplan

import (
	"fmt"

	"rootworthy/soils/unit"
)

// Tag is what the label of a seed lot says, in percent.
type Tag struct {
	Purity      unit.Percent // pure seed in the bag by mass
	Germination unit.Percent // of the pure seed, without hard seed
	HardSeed    unit.Percent // of the pure seed; alive, but slow to take up water
	Coating     unit.Percent // of the bag by mass; 0 for bare seed
	BareSeed    bool         // Purity is that of the seed before coating, not of the bag
	CountHard   bool         // count hard seed as live; labels differ, so the user says
	Seeds       unit.PerMass // bare seeds in a mass; 0 means [UsualSeeds]
	Bag         unit.Mass    // 0 means [UsualBag]
	Inoculated  bool         // the coating holds rhizobia
	Molybdenum  bool         // the coating holds molybdenum
}

// UsualSeeds is how many seeds are in a pound; lots run from [LeastSeeds] to [MostSeeds].
// Source: No-Till Farmer, Alfalfa seed size, shape affect seeder calibration: 220,000 a pound, 196,000 to 224,000.
const (
	UsualSeeds = 220000 * unit.PerPound
	LeastSeeds = 196000 * unit.PerPound
	MostSeeds  = 224000 * unit.PerPound
)

// UsualBag is what a bag of alfalfa holds. Source: common practice, no source.
const UsualBag = 50 * unit.Pound

// PurityQuestion is the error for a tag on which purity and coating cannot both be shares of the bag.
type PurityQuestion struct{ Purity, Coating unit.Percent }

// Error asks which it is.
func (q *PurityQuestion) Error() string {
	return fmt.Sprintf("purity %g %% and coating %g %% are more than a bag holds; is the purity that of the bare seed, before coating?", float64(q.Purity), float64(q.Coating))
}

// leastShare is the least purity and germination, in percent, that are taken for what a tag says. Heavily coated seed has a purity of some
// 66 %, poor seed a germination of some 50 %; below a tenth somebody wrote 0.9 for 90, and the order would come out a hundredfold.
// Source: common practice, no source.
const leastShare = 10

// Check says what is wrong with the tag. Where purity and coating add up to over 100 % it is a [*PurityQuestion].
func (t Tag) Check() error {
	for _, x := range []struct {
		name string
		v    unit.Percent
	}{{"purity", t.Purity}, {"germination", t.Germination}} {
		switch {
		// zero is what a field that nobody filled in holds; no lot that is sold has it
		case x.v == 0:
			return fmt.Errorf("the %s is missing; copy it from the tag, in percent", x.name)
		case !(x.v > 0 && x.v <= 100):
			return fmt.Errorf("a %s of %g %% is not possible; copy it from the tag", x.name, float64(x.v))
		case x.v < leastShare:
			return fmt.Errorf("a %s of %g %% is no seed that is sold; write percent, as 90 and not 0.9", x.name, float64(x.v))
		}
	}
	switch {
	// germination leaves hard seed out, so the two are parts of one whole
	case !(t.HardSeed >= 0 && t.Germination+t.HardSeed <= 100):
		return fmt.Errorf("germination %g %% and hard seed %g %% are more than all seed; copy them from the tag", float64(t.Germination), float64(t.HardSeed))
	case !(t.Coating >= 0 && t.Coating < 100):
		return fmt.Errorf("a coating of %g %% is not possible; copy it from the tag", float64(t.Coating))
	// Not refused outright but asked: the tag is right, it is only not known what its purity is of.
	case !t.BareSeed && t.Purity+t.Coating > 100:
		return &PurityQuestion{t.Purity, t.Coating}
	case !(t.Seeds == 0 || t.Seeds >= 100000*unit.PerPound && t.Seeds <= 400000*unit.PerPound):
		return fmt.Errorf("%.0f seeds in a pound is no alfalfa; give 100,000 to 400,000, or nothing", float64(t.Seeds)*float64(unit.Pound))
	case !(t.Bag >= 0):
		return fmt.Errorf("a bag of %g kg is not possible", float64(t.Bag))
	}
	return nil
}

// PLS returns the share of the bag that is pure live seed.
//
//	purity × germination
//	purity × (germination + hard seed) × (1 - coating)   with CountHard, and purity of bare seed
//
// Source: Undersander, Check alfalfa seed before buying, Hay & Forage Grower; Texas DOT, Pure live seed. Purity on a tag of coated
// seed already leaves the coating out, so it is taken off only from the purity of bare seed.
// Range: as [Tag.Check] passes it.
func (t Tag) PLS() unit.Fraction {
	live := t.Germination
	if t.CountHard {
		live += t.HardSeed
	}
	pls := unit.Fraction(t.Purity/100) * unit.Fraction(live/100)
	// purity of the bag already counts the coating as what it is, no seed
	if t.BareSeed {
		pls *= unit.Fraction(1 - t.Coating/100)
	}
	return pls
}

// Bulk returns what is sown of the bag for a rate of pure live seed. Source: as [Tag.PLS]. Range: a share over zero.
func (t Tag) Bulk(pls unit.AreaRate) unit.AreaRate {
	if share := t.PLS(); share > 0 {
		return pls / unit.AreaRate(share)
	}
	return 0
}

// Bare returns the seed without its coating in a mass of the bag: what a dose on the seed is counted for.
func (t Tag) Bare(bulk unit.Mass) unit.Mass { return bulk * unit.Mass(1-t.Coating/100) }

// PerPLS returns what a mass of pure live seed costs when the bag costs so much, in the same money.
func (t Tag) PerPLS(bag float64, m unit.Mass) float64 {
	if live := unit.Mass(t.PLS()) * t.bag(); live > 0 {
		return bag * float64(m/live)
	}
	return 0
}

// SeedsAt returns live seeds on the ground for a rate of pure live seed.
func (t Tag) SeedsAt(pls unit.AreaRate) unit.PerArea { return t.seeds().Over(pls) }

// seeds and bag put the usual in the place of zero.
func (t Tag) seeds() unit.PerMass {
	if t.Seeds == 0 {
		return UsualSeeds
	}
	return t.Seeds
}

func (t Tag) bag() unit.Mass {
	if t.Bag == 0 {
		return UsualBag
	}
	return t.Bag
}
