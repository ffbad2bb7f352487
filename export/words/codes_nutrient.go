package words

import (
	"rootworthy/soils/nutrient"
	"rootworthy/suitability/nutrientplan"
)

// NutrientRefusal returns the words for why a soil test gives no rate.
func NutrientRefusal(code string, r Reader) string { return found(nutrientRefusals(), code, r) }

// nutrientRefusals: the question to ask stands in the refusal itself.
func nutrientRefusals() []phrase {
	return []phrase{
		{nutrient.NotMeasured, "it was not tested", "not measured", "have it tested"},
		{nutrient.NotStated, "the report does not say how it was tested; ask the laboratory", "extractant not stated", "ask the laboratory: which extractant?"},
		{nutrient.WrongExtractant, "it was tested another way than the state's table needs; ask the laboratory for its own rate", "extractant is not the table's; figures are not converted", "other extractant: ask the laboratory for class and rate"},
		{nutrient.SeveralFigures, "the report has several figures and the table does not say which it means", "several extractants, and the table names none", "several figures: leave the laboratory's own"},
		{nutrient.NoDensity, "the figure is by the scoop and the scoop's weight is missing", "by volume, without the density of the scooped soil", "ask for the scoop weight"},
		{nutrient.BeyondDetection, "the figure is beyond what the test can tell", "beyond detection, and several classes are possible", "ask the laboratory for the class"},
		{nutrient.BadValue, "the figure cannot be right", "value not possible", "correct the figure"},
		{nutrient.ClassNeeded, "the table needs the class that the laboratory printed: low, medium or high", "class ends are not printed by the source; the laboratory's class is needed", "give the class from the report"},
		{nutrient.ClassUnknown, "the class on the report is none of the table's", "class not in the table", "ask the laboratory which class"},
		{nutrient.NotRated, "the state's table says nothing of it", "not rated by the table", "not in the table: take the laboratory's rate"},
		{nutrient.RateNotPrinted, "the class is known, but the state's rates could not be read; take the rate on the laboratory's report", "class known, rate not readable in the source", "take the rate from the report"},
		{nutrient.OtherClassNeeded, "the rate hangs on another test that is missing", "rate depends on the other class of the matrix", "test phosphorus and potassium together"},
	}
}

// NutrientWhy returns the words for why a nutrient has nothing to spread.
func NutrientWhy(code string, r Reader) string { return found(nutrientWhys(), code, r) }

// nutrientWhys: why a nutrient that was rated gets no rate of its own.
func nutrientWhys() []phrase {
	return []phrase{
		{nutrient.Enough, "the soil holds enough", "none called for in this class", "none"},
		{nutrient.LimeBears, "dolomitic lime will bring it", "low, and borne by dolomitic lime", "order dolomitic lime"},
		{nutrient.OnSeed, "it goes on the seed", "as a seed treatment", "on the seed"},
		{nutrient.NotAsked, "the state asks for none", "no such rate in the source", "none"},
	}
}

// NutrientNote returns the words for a note on a class or a rate.
func NutrientNote(code string, r Reader) string { return found(nutrientNotes(), code, r) }

// nutrientNotes: what a class or rate is worth, as far as its source says.
func nutrientNotes() []phrase {
	return []phrase{
		{nutrient.ExtractantFromMemory, "that the table is for this kind of test is from memory; ask the laboratory", "extractant of the table from memory, not checked", "confirm the extractant with the laboratory"},
		{nutrient.TableExtractantUnsaid, "the table does not say which kind of test it means, so this is rough", "source names no extractant", "rough: the table names no extractant"},
		{nutrient.OddCell, "the printed table looks odd here; the figure is as printed", "cell breaks the pattern of its matrix; kept as printed", "odd figure in the table: ask the laboratory"},
		{nutrient.OnlyFor, "the table is not for every soil; see its source", "source restricts the table", "check that the table is for this soil"},
		{nutrient.NotInSeedRow, "spread it over the ground, never next to the seed", "broadcast, never in the seed row", "broadcast only"},
		{nutrient.SecondHalfCounts, "potash is added so that the stand lives longer", "potash for the life of the stand on top of the matrix", "holds the extra potash"},
	}
}

// PlanWhy returns the words for why a zone has no rates.
func PlanWhy(code string, r Reader) string { return found(planWhys(), code, r) }

// planWhys: why a zone as a whole has no rates.
func planWhys() []phrase {
	return []phrase{
		{nutrientplan.WhyNoTest, "nobody tested the soil here: no rate, but see what to test and what to expect", "no test: no rate", "sample first"},
		{nutrientplan.WhyNotRated, "the ground is not rated", "zone not rated", "left out"},
		{nutrientplan.WhyUnsuited, "the ground is not fit for alfalfa", "zone unsuited", "left out"},
		{nutrientplan.WhyNoTable, "no state's table was chosen", "no table chosen", "choose a table"},
	}
}

// PlanNote returns the words for a note on the fertilizer of a zone.
func PlanNote(code string, r Reader) string { return found(planNotes(), code, r) }

// planNotes: what to watch with fertilizer, and what the figures leave out.
func planNotes() []phrase {
	return []phrase{
		{nutrientplan.PotashFirst, "too little potash is the first thing that kills a stand (common practice, no source)", "want of potash is the first cause of stand loss (common practice, no source)", "potash first"},
		{nutrientplan.PotashAsGrass, "alfalfa needs as much potash as the grass does; feed both (common practice, no source)", "potash need equals the grass's own (common practice, no source)", "do not cut the potash"},
		{nutrientplan.BoronBroadcast, "spread boron over the ground, never next to the seed", "boron broadcast, never in the seed row", "boron broadcast only"},
		{nutrientplan.TestFirst, "test the soil before you spread anything", "no rate without a test", "no spreading before the test"},
		{nutrientplan.OldTest, "the test is over three years old; test again", "a test is over three years old", "old test: sample again"},
		{nutrientplan.WideTest, "the sample was mixed over more than this zone", "composite of more than the zone", "sample the zone by itself"},
		{nutrientplan.PartRefused, "some tests could not be used; the rate is the mean of the others", "part of the tests refused; mean of the rest", "some tests left out"},
		{nutrientplan.LaboratoryFirst, "this is the laboratory's own rate", "the laboratory's advice before the table's", "laboratory's rate"},
		{nutrientplan.NoProduct, "no product was named for some of it; the order counts the nutrient itself", "no product for a nutrient; counted as such", "choose a product"},
		{nutrientplan.Harmful, "a product was left out: it would bring more boron than alfalfa bears, or more molybdenum than cattle do", "a product left out: more boron or molybdenum than sources allow", "product left out: too much boron or molybdenum"},
		{nutrientplan.MoreThanAsked, "a product brings more of something than is needed", "a product carries more of another nutrient than asked for", "another product would waste less"},
		{nutrientplan.BringsNitrogen, "a product holds nitrogen, which feeds the grass and weeds against the alfalfa", "product carries nitrogen, which favors the grass", "holds nitrogen"},
	}
}

// TissueAdvice returns the words for what low tissue calls for.
func TissueAdvice(code string, r Reader) string { return found(tissueAdvices(), code, r) }

// tissueAdvices: what to look to when a figure of the plant is low.
func tissueAdvices() []phrase {
	return []phrase{
		{"molybdenum on leaves", "the plants lack nitrogen: look at nodules, pH and molybdenum", "low N: nodulation, pH, P; foliar molybdenum", "dig plants and look for pink nodules"},
		{"phosphate", "phosphate is short", "low P: soil test and phosphate", "phosphate after the soil test"},
		{"potash", "potash is short", "low K: soil test and potash", "potash after the next cutting"},
		{"lime", "lime may be short", "low Ca: soil pH", "test soil pH"},
		{"magnesium", "magnesium is short", "low Mg: soil magnesium, dolomitic lime", "test magnesium before liming"},
		{"sulfur", "sulfur is short", "low S", "sulfur after the soil test"},
	}
}
