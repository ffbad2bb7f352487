package economics

// Item is something that moves the money: a price, a rate, a yield, a time. The order is that of reports, and the three lives stand in
// the order of the classes: sums index by it.
type Item uint8

// The items. All but the last are figures that a file of prices may give.
const (
	Lime Item = iota
	LimeSpreading
	LimePass
	SoilSampling
	Fertilizer
	Seed
	Inoculant
	SodSuppression
	Drilling
	OtherOnce
	PerField
	Hay
	Quality
	RFQPoint
	Nitrogen
	Harvest
	Potash
	Upkeep
	Insects
	OtherYearly
	SodBeforeNitrogen
	SodAfterNitrogen
	Yield
	YieldMarginal
	YieldUnsuited
	SeedRate
	PotashTaken
	RFQGain
	NitrogenSaved
	LifeSuited
	LifeMarginal
	LifeUnsuited
	DiscountRate

	LimeNeed // how much lime the ground takes, from the plan of the run and in no file
	itemCount
)

// Part says where an item enters the sums.
type Part uint8

// The parts.
const (
	Once   Part = iota // paid once, to lime and establish
	Gain               // gained in each year of the stand
	Yearly             // paid in each year of the stand
	Sod                // what the sod alone would earn in each of these years
	Amount             // no money: a rate, a yield, a time
)

// itemRow is what is fixed of an item. Least and most are in the first unit; beyond them a figure is a slip of the pen.
type itemRow struct {
	code        string
	part        Part
	units       []Unit
	least, most float64
}

// dear is a price beyond every price.
const dear = 100000

// items is indexed by [Item].
var items = [itemCount]itemRow{
	Lime:              {"lime", Once, byShortTon, 0, dear},
	LimeSpreading:     {"lime_spreading", Once, byShortTon, 0, dear},
	LimePass:          {"lime_pass", Once, byAcre, 0, dear},
	SoilSampling:      {"soil_sampling", Once, byAcre, 0, dear},
	Fertilizer:        {"fertilizer", Once, byAcre, 0, dear},
	Seed:              {"seed", Once, byPound, 0, dear},
	Inoculant:         {"inoculant", Once, byAcre, 0, dear},
	SodSuppression:    {"sod_suppression", Once, byAcre, 0, dear},
	Drilling:          {"drilling", Once, byAcre, 0, dear},
	OtherOnce:         {"other_once", Once, byAcre, 0, dear},
	PerField:          {"per_field", Once, byField, 0, dear},
	Hay:               {"hay", Gain, byShortTon, 0, dear},
	Quality:           {"quality", Gain, byShortTon, -dear, dear},
	RFQPoint:          {"rfq_point", Gain, byPoint, 0, dear},
	Nitrogen:          {"nitrogen", Gain, byPound, 0, dear},
	Harvest:           {"harvest", Yearly, byShortTon, 0, dear},
	Potash:            {"potash", Yearly, byPound, 0, dear},
	Upkeep:            {"upkeep", Yearly, byAcreYear, 0, dear},
	Insects:           {"insects", Yearly, byAcreYear, 0, dear},
	OtherYearly:       {"other_yearly", Yearly, byAcreYear, 0, dear},
	SodBeforeNitrogen: {"sod_before_nitrogen", Sod, byAcreYear, -dear, dear},
	SodAfterNitrogen:  {"sod_after_nitrogen", Sod, byAcreYear, -dear, dear},
	Yield:             {"yield", Amount, inTonsYear, 0, 20},
	YieldMarginal:     {"yield_marginal", Amount, inTonsYear, 0, 20},
	YieldUnsuited:     {"yield_unsuited", Amount, inTonsYear, 0, 20},
	SeedRate:          {"seed_rate", Amount, inPounds, 0, 60},
	PotashTaken:       {"potash_taken", Amount, inPoundsTon, 0, 200},
	RFQGain:           {"rfq_gain", Amount, inPoints, 0, 200},
	NitrogenSaved:     {"nitrogen_saved", Amount, inPoundsYear, 0, 1000},
	LifeSuited:        {"life_suited", Amount, inYears, 0.5, 30},
	LifeMarginal:      {"life_marginal", Amount, inYears, 0.5, 30},
	LifeUnsuited:      {"life_unsuited", Amount, inYears, 0.5, 30},
	DiscountRate:      {"discount_rate", Amount, inPercent, 0, 100},
	// in no file: it has no unit that could be given
	LimeNeed: {"lime_need", Amount, nil, 0, 0},
}

// Items lists all that a file of prices may give, in the order of reports.
func Items() []Item {
	out := make([]Item, 0, itemCount)
	for i := range LimeNeed {
		out = append(out, i)
	}
	return out
}

// ItemByCode returns the item that a file gives under a name.
func ItemByCode(code string) (Item, bool) {
	for _, i := range Items() {
		if items[i].code == code {
			return i, true
		}
	}
	return 0, false
}

// String returns the code: the name of the item's table in a file of prices.
func (i Item) String() string {
	if i >= itemCount {
		return "unknown item"
	}
	return items[i].code
}

// Part returns where the item enters.
func (i Item) Part() Part { return items[i].part }

// Units lists the units in which the item may be given; the first is the one of reports.
func (i Item) Units() []Unit { return items[i].units }
