package lime

import (
	"slices"

	"rootworthy/soils/unit"
)

// MagnesiumRegion is where a laboratory's magnesium ratings hold.
type MagnesiumRegion struct {
	Name      string
	LowMost   unit.Content // up to here magnesium is low
	MediumEnd unit.Content // up to here medium
	Source    string
}

// MagnesiumRegions lists the regions with ratings. The figures were printed as lb/ac of 2,000,000 lb of soil (60 and 120, 120 and
// 240). That the extractant is Mehlich-1 is from memory, not checked.
func MagnesiumRegions() []MagnesiumRegion {
	const uga = "University of Georgia Agricultural and Environmental Services Laboratories, crop code 025, alfalfa establishment"
	lb := func(v float64) unit.Content { return unit.ContentFromPoundsPerAcre(v, 2e6) }
	return []MagnesiumRegion{
		{"Coastal Plain", lb(60), lb(120), uga},
		{"Piedmont", lb(120), lb(240), uga},
	}
}

// MagnesiumRegionByName returns a region of [MagnesiumRegions].
func MagnesiumRegionByName(name string) (MagnesiumRegion, bool) {
	all := MagnesiumRegions()
	if i := slices.IndexFunc(all, func(r MagnesiumRegion) bool { return r.Name == name }); i >= 0 {
		return all[i], true
	}
	return MagnesiumRegion{}, false
}

// MagnesiumAdvice says what low or sufficient magnesium means for the choice of lime.
type MagnesiumAdvice string

// The advice, stable codes.
const (
	Dolomitic     MagnesiumAdvice = "dolomitic"      // magnesium is low and lime is needed: dolomitic lime carries both
	ByPrice       MagnesiumAdvice = "by price"       // magnesium is not low: the cheapest effective ton
	MagnesiumOnly MagnesiumAdvice = "magnesium only" // low, but no lime is needed: [MagnesiumWithoutLime]
	NoLime        MagnesiumAdvice = "no lime"        // neither is needed
)

// MagnesiumWithoutLime is what low ground gets that needs no lime.
// Source: University of Georgia Agricultural and Environmental Services Laboratories, crop code 025.
const MagnesiumWithoutLime = 25 * unit.PoundPerAcre

// Advise returns which lime a soil test calls for.
func (r MagnesiumRegion) Advise(magnesium unit.Content, limeNeeded bool) MagnesiumAdvice {
	// as the ratings are printed: up to and with the figure
	low := magnesium <= r.LowMost
	switch {
	case low && limeNeeded:
		return Dolomitic
	case low:
		return MagnesiumOnly
	case limeNeeded:
		return ByPrice
	}
	return NoLime
}
