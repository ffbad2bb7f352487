package money

import "rootworthy/suitability/economics"

// ItemName names an item in plain words.
func ItemName(i economics.Item) string {
	names := map[economics.Item]string{
		economics.Lime:              "Lime as delivered",
		economics.LimeSpreading:     "Hauling and spreading lime by the ton",
		economics.LimePass:          "Spreading lime by the acre and pass",
		economics.SoilSampling:      "Soil samples",
		economics.Fertilizer:        "Fertilizer at sowing",
		economics.Seed:              "Seed (pure live seed)",
		economics.Inoculant:         "Inoculant",
		economics.SodSuppression:    "Spraying to hold back the sod",
		economics.Drilling:          "Drilling",
		economics.OtherOnce:         "Other costs once",
		economics.PerField:          "Cost of each field as a whole",
		economics.Hay:               "Hay sold or fed",
		economics.Quality:           "Better hay by the ton",
		economics.RFQPoint:          "Better hay by the point of forage quality (RFQ)",
		economics.Nitrogen:          "Price of the nitrogen saved",
		economics.Harvest:           "Harvest",
		economics.Potash:            "Potash that the hay takes off",
		economics.Upkeep:            "Potash and boron each year",
		economics.Insects:           "Spraying insects",
		economics.OtherYearly:       "Other costs each year",
		economics.SodBeforeNitrogen: "What the sod alone earns before paying its nitrogen",
		economics.SodAfterNitrogen:  "What the sod alone earns after paying its nitrogen",
		economics.Yield:             "Hay from suited ground",
		economics.YieldMarginal:     "Hay from marginal ground",
		economics.YieldUnsuited:     "Hay from unsuited ground",
		economics.SeedRate:          "How much seed is sown",
		economics.PotashTaken:       "Potash (K2O) in a ton of hay",
		economics.RFQGain:           "Gain in forage quality (RFQ) over the sod",
		economics.NitrogenSaved:     "Nitrogen the sod no longer needs",
		economics.LifeSuited:        "Life of the stand on suited ground",
		economics.LifeMarginal:      "Life of the stand on marginal ground",
		economics.LifeUnsuited:      "Life of the stand on unsuited ground",
		economics.DiscountRate:      "Interest (discount rate)",
		economics.LimeNeed:          "How much lime the ground takes",
	}
	return names[i]
}

// itemHint says in a few words what belongs into an item; "" where its name says all.
func itemHint(i economics.Item) string {
	hints := map[economics.Item]string{
		economics.Lime:              "price of the product that the run plans, as delivered to the field",
		economics.LimeSpreading:     "by the ton of product, unless the price of lime holds it",
		economics.LimePass:          "instead of lime_spreading, or beside it",
		economics.SoilSampling:      "taking and analysis, by the acre",
		economics.Fertilizer:        "for all ground without a nutrient plan of its own (--tests)",
		economics.Seed:              "price of pure live seed: that of the bag divided by its share of pure live seed",
		economics.PerField:          "what comes once whatever the size: moving the drill, a visit",
		economics.Hay:               "what a ton sells for, or saves in feed",
		economics.Quality:           "more than sod hay brings, by the ton; either this or rfq_point",
		economics.RFQPoint:          "what a point of relative forage quality adds to a ton; either this or quality",
		economics.Nitrogen:          "counts only with sod_before_nitrogen",
		economics.Harvest:           "cutting, raking, baling, hauling",
		economics.Potash:            "price of K2O, for what the hay takes off each year; either this (boron then goes to other_yearly) or upkeep",
		economics.Upkeep:            "for all of it, by the acre",
		economics.Insects:           "weevil and the like",
		economics.SodBeforeNitrogen: "hay or grazing less all costs but nitrogen; either this or the next",
		economics.SodAfterNitrogen:  "hay or grazing less all costs",
		economics.Yield:             "of a year, dry hay as weighed; SARE LS99-100 (Haby, 2004) read 3.8 to 5.2 short tons on East Texas farms",
		economics.YieldMarginal:     "without it marginal ground has no value",
		economics.YieldUnsuited:     "only shows what unsuited ground would lose; it is never recommended",
		economics.SeedRate:          "the program's own: 22 to 25 lb (University of Georgia)",
		economics.PotashTaken:       "the program's own: 50 to 60 lb (Ohio, Purdue, Penn State)",
		economics.RFQGain:           "the program's own: 25 to 40 points (Tucker and Mullenix)",
		economics.NitrogenSaved:     "the program's own: 200 lb (Bouton)",
		economics.LifeSuited:        "the program's own: 5 to 7 years (common practice, no source)",
		economics.LifeMarginal:      "the program's own: 3 to 5 years (our proposal)",
		economics.LifeUnsuited:      "the program's own: 2 to 3 years (common practice, no source)",
		economics.DiscountRate:      "without inflation, because prices stay as they are",
	}
	return hints[i]
}

// why says why ground is not worth sowing.
func why(code string) string {
	switch code {
	case economics.WhyNotRated:
		return "not rated: nobody knows what it can carry. Dig and test it first"
	case economics.WhyUnsuited:
		return "unsuited: it will not hold a stand, however cheap"
	case economics.WhyNoLime:
		return "no lime figure: it may need lime, and nobody knows how much. Test the soil"
	case economics.WhyNoYield:
		return "no yield given for marginal ground, so nobody knows if it pays"
	case economics.WhyLoses:
		return "likely loses money against the sod"
	case economics.WhyWaits:
		return "would pay alone, but sown with the rest of the field it costs more than it adds, for one of them must wait"
	case economics.WhyNoGround:
		return "no ground that may be sown"
	case economics.WhyFieldCost:
		return "does not pay the cost of the field as a whole"
	}
	return code
}
