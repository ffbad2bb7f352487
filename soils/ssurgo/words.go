package ssurgo

import (
	"slices"
	"strings"

	"rootworthy/soils"
)

// The words of the domains that carry meaning here. Comparing ignores case; a word that is not listed is kept as it
// stands and told. Obsolete words of older exports are listed too.
// Source: msdomdet.txt (domain choices) of a 2025 export.
var (
	componentKinds = []string{"Family", "Miscellaneous area", "Series", "Taxadjunct", "Taxon above family", "Variant"}
	hydricRatings  = []string{"Yes", "No", "Unranked"}
	hydGroups      = []string{"A", "B", "C", "D", "A/D", "B/D", "C/D"}
	taxonOrders    = []string{"Alfisols", "Andisols", "Aridisols", "Entisols", "Gelisols", "Histosols", "Inceptisols",
		"Mollisols", "Oxisols", "Spodosols", "Ultisols", "Vertisols"}
	restrictionKinds = []string{"Abrupt textural change", "Bedrock", "Cemented horizon", "Densic bedrock", "Densic material", "Duripan",
		"Fragipan", "Lithic bedrock", "Manufactured layer", "Natric", "Ortstein", "Paralithic bedrock", "Permafrost",
		"Petrocalcic", "Petroferric", "Petrogypsic", "Placic", "Plinthite", "Salic",
		"Strongly contrasting textural stratification", "Sulfuric", "Undefined"}
	moistureStates = []string{"Dry", "Moist", "Wet", "Frozen", "Saturation from capillary fringe"}
	durations      = []string{"Extremely brief", "Very brief", "Brief", "Long", "Very long"}
	months         = []string{"January", "February", "March", "April", "May", "June", "July", "August", "September", "October",
		"November", "December"}
)

// word returns a cell of a closed set of words, spelt as the set spells it. An unknown word is told and returned as it stands.
func (r *record) word(column string, known []string) string {
	s := r.text(column)
	if s == "" {
		return ""
	}
	// Copies write capitals as they like; what follows compares by the set's own spelling.
	if i := indexFold(known, s); i >= 0 {
		return known[i]
	}
	r.unknownWord(column, s)
	return r.table.area.intern(s)
}

// ranking returns Yes, No or Unranked. A database that holds nothing but the first two may have made truth values of them.
func (r *record) ranking(column string) string {
	// only of databases: a text file that has 1 there is damaged, and is told
	if r.table.area.source != nil {
		switch strings.ToLower(r.text(column)) {
		case "1", "true":
			return "Yes"
		case "0", "false":
			return "No"
		}
	}
	return r.word(column, hydricRatings)
}

// duration returns a class of flooding or ponding duration without the span of time that follows it in the files:
// "Long (7 to 30 days)" is "Long".
func (r *record) duration(column string) string {
	s := r.text(column)
	if s == "" {
		return ""
	}
	// the word is the class; the span behind it explains it
	class, _, _ := strings.Cut(s, " (")
	if i := indexFold(durations, class); i >= 0 {
		return durations[i]
	}
	r.unknownWord(column, s)
	return r.table.area.intern(s)
}

// drainage and frequency are [record.word] for the two sets that are types of their own.
func (r *record) drainage(column string) soils.DrainageClass {
	s := r.text(column)
	c, ok := soils.ParseDrainage(s)
	if !ok {
		r.unknownWord(column, s)
	}
	return c
}

// frequency is that of flooding or of ponding, which have the same classes.
func (r *record) frequency(column string) soils.Frequency {
	s := r.text(column)
	f, ok := soils.ParseFrequency(s)
	if !ok {
		r.unknownWord(column, s)
	}
	return f
}

// month returns 1…12 from the number of the month or, where that is null, its name; 0 when neither is one.
func (r *record) month() int {
	// bounds of the schema keep it within 1 to 12
	if v, ok := r.real("monthseq").Get(); ok && v == float64(int(v)) {
		return int(v)
	}
	if i := indexFold(months, r.text("month")); i >= 0 {
		return i + 1
	}
	r.fault("month", "month", "neither monthseq nor month is a month", "the record is left out")
	return 0
}

// indexFold finds a word without regard to capitals; -1 when it is none of them.
func indexFold(words []string, s string) int {
	return slices.IndexFunc(words, func(w string) bool { return strings.EqualFold(w, s) })
}
