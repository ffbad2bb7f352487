package words

// Cautions lists what every reader must be told, whatever the result, gravest first.
func Cautions() []string {
	return []string{"Soil survey lines are drawn for whole counties."}
}
