package words

// Cautions lists what every reader must be told, whatever the result. They are common practice, no source, and replace
// no label, no soil test and no adviser.
func Cautions() []string {
	return []string{
		"Soil survey lines are drawn for whole counties. Dig and test the soil before you spend money.",
		budgetCaution,
		"Lime dust harms eyes and lungs, and wet or burnt lime burns skin. Wear goggles, a dust mask, gloves and long sleeves.",
		"Keep people away from a running spreader. Shut it off and wait until all parts stand still before you clear it. Stay off steep or soft ground.",
		"Follow the label of every product; the label is the law. Some products and some work need a license.",
		"Fresh alfalfa can bloat cattle and sheep and kill them. Ask a veterinarian before you graze it.",
		"This screening does not replace your Extension office or a licensed adviser.",
	}
}

// budgetCaution is the one on lime.
const budgetCaution = "A lime figure from the survey is a budget, not a rate. A soil test sets the rate, and your soil laboratory's advice comes first."

// OnSite lists what no survey knows and a visit must settle before money is spent.
func OnSite() []string {
	return []string{
		"Which soil of the mix is it?",
		"Is the ground eroded, levelled, behind a levee, or tiled?",
		"Is there a traffic pan?",
		"Which sod is it, and how old?",
		"How much nitrogen and litter did it get?",
		"Nematodes, crown and root rots, deer?",
		"Which herbicides in the last three years?",
		"Is magnesium low? Then use dolomitic lime.",
	}
}
