package economics

// Judgements lists what the sums take for granted, in sentences. None of it was measured on the ground in question.
func Judgements() []string {
	return []string{
		"Prices stay as they are today, so the discount rate is to be one without inflation.",
		"Every year of the stand yields the same.",
		"A field is sown at once, as soon as its slowest zone is ready; until then the sod earns what it earns anyway.",
		"The first pass of lime goes on today, each further pass a year later; each pass more than planned is a year more to wait.",
		"Every zone is of its class: the chance that it is not is in none of these ranges.",
		"When the stand is gone the ground goes back to what it was: nothing after that counts.",
		"In a draw each input lies somewhere in a triangle over its range, most often at its likely value, by itself and the same on all ground. In truth prices of hay, nitrogen and sod move together.",
		"Stand lives are common practice, no source; that of marginal ground is our proposal.",
	}
}
