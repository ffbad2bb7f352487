package lime

import "rootworthy/soils/unit"

// What practice asks of lime on sod. Each figure stands with its source; where sources disagree both stand, and the
// profile of the crop says which is used.
const (
	// MostNoTill is the most product on no-till ground at once, and RetestYears when to test again.
	// Source: University of Tennessee, alfalfa soil-test comments.
	MostNoTill          = 4 * unit.ShortTonPerAcre
	RetestYears         = 2
	NoTillFrom  unit.PH = 5.8 // below it no-till seeding may not be desirable; same source

	// MostSurface is the most product on the surface in a year, MostIncorporated where it is worked in.
	// Source: Ball, Samuel Roberts Noble Foundation, Top 10 liming questions (2002; read in a copy).
	MostSurface      = 2.5 * unit.ShortTonPerAcre
	MostIncorporated = 4 * unit.ShortTonPerAcre

	// SodSample is how deep no-till ground and established forage are sampled, and SodShare the part of the rate for 8 in
	// that goes on them: the same as scaling by depth.
	// Source: Ohio State University tables (2002; read in a copy).
	SodSample unit.Depth    = 4 * 2.54
	SodShare  unit.Fraction = 0.5
)

// Wait is how long lime is said to need before the crop.
type Wait struct {
	Months float64
	When   string
	Source string
}

// Waits lists what states say, the shortest first. They do not agree; lime on the surface needs the longest.
func Waits() []Wait {
	return []Wait{
		{3, "worked in before seeding", "Clemson University Agricultural Service Laboratory, crop code 050, alfalfa"},
		{6, "at least", "Oklahoma State University Extension, agronomic calendar for alfalfa"},
		{9, "or longer to reach the target", "Ohio State University tables"},
	}
}

// SurfaceRise returns how much pH rises at 10 to 20 cm when 6 to 8.5 t/ha lie on the surface: what lime on sod does not do
// for the subsoil.
//
//	0.049 × years
//
// Source: Azam and Gazey 2021, Slow movement of alkali from surface-applied lime (abstract): Western Australia, 10 to 24
// years; worked in to 25 cm the rise was 0.63 within a year.
// Range: up to 24 years.
func SurfaceRise(years float64) unit.PH { return unit.PH(0.049 * min(max(0, years), 24)) }

// NitrogenLime returns the agricultural lime that neutralises what nitrification of nitrogen makes.
//
//	from 3 × to 5 × nitrogen
//
// Source: 3 lb a lb of ammonium nitrogen, a Georgia extension column; 500 lb for 100 lb, Kansas State University,
// Considerations for liming no-till fields. Range: nitrogen from 0, as ammonium or urea.
func NitrogenLime(nitrogen unit.AreaRate) (least, most unit.AreaRate) {
	return 3 * nitrogen, 5 * nitrogen
}

// SubsoilNeed is what a source asks of the subsoil for alfalfa.
type SubsoilNeed struct {
	PH     unit.PH
	To     unit.Opt[unit.Depth] // missing where the source says only subsoil
	Source string
}

// SubsoilNeeds lists them, the mildest first; the strictest has no depth.
func SubsoilNeeds() []SubsoilNeed {
	return []SubsoilNeed{
		{5.5, unit.Some(unit.InchesDeep(12)), "University of Georgia Extension, Colquitt County (2014): over 5.5 at one foot"},
		{5.5, unit.Some(unit.InchesDeep(48)), "Redmon, SARE project OS02-006 (2006): 5.5 at least through the upper four feet"},
		{6.0, unit.None[unit.Depth](), "Southeast Cattle Advisor (UGA, Auburn) 2020: subsoil over 6"},
	}
}
