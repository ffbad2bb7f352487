package words

import (
	"strings"

	"rootworthy/suitability/stand"
)

// RecordKind returns the words for what a line of the record tells.
func RecordKind(k stand.Kind) string { return found(recordKinds(), string(k), Landowner) }

// recordKinds: one wording for all readers, since the record is the user's own.
func recordKinds() []phrase {
	same := func(code, s string) phrase { return phrase{code, s, s, s} }
	return []phrase{
		same("sown", "alfalfa sown"), same("plants", "plants counted"), same("stems", "stems counted"), same("alfalfa_share", "share of alfalfa in the stand"),
		same("yield", "hay taken"), same("height", "height of the stand"), same("cut", "cut"), same("grazed", "grazed"), same("sprayed", "sprayed"),
		same("soil_ph", "soil tested (pH)"), same("lime", "lime spread"), same("k2o", "potash spread (K₂O)"), same("p2o5", "phosphate spread (P₂O₅)"),
		same("b", "boron spread"), same("s", "sulfur spread"), same("mg", "magnesium spread"), same("n", "nitrogen spread"), same("mo", "molybdenum spread"),
		same("tissue_n", "nitrogen in the plant"), same("tissue_p", "phosphorus in the plant"), same("tissue_k", "potassium in the plant"),
		same("tissue_ca", "calcium in the plant"), same("tissue_mg", "magnesium in the plant"), same("tissue_s", "sulfur in the plant"),
		same("weevil_tips", "weevil: tips fed on"), same("weevil_larvae", "weevil: grubs"), same("leafhopper", "leafhoppers"), same("armyworm", "armyworms"),
		same("aphid", "aphids"), same("grasshopper", "grasshoppers"), same("cricket", "crickets"), same("blister_beetle", "blister beetles"), same("note", "note"),
	}
}

// RecordUnit returns the words for the unit of a value of the record, to stand behind the figure.
func RecordUnit(code string) string { return found(recordUnits(), code, Landowner) }

// recordUnits: read behind a figure.
func recordUnits() []phrase {
	same := func(code, s string) phrase { return phrase{code, s, s, s} }
	return []phrase{
		same("per_ft2", "in a square foot"), same("per_m2", "in a square metre"), same("per_yd2", "in a square yard"), same("pct", "%"), same("ton_ac", "short tons an acre"),
		same("t_ha", "tonnes a hectare"), same("ton_ac_cce", "short tons an acre of pure lime (100 % CCE)"), same("t_ha_cce", "tonnes a hectare of pure lime (100 % CCE)"), same("in", "inches"), same("cm", "centimetres"), same("ph", "pH"), same("lb_ac", "pounds an acre"), same("kg_ha", "kilograms a hectare"),
		same("oz_ac", "ounces an acre"), same("g_ha", "grams a hectare"), same("per_tip", "a tip"), same("per_sweep", "a sweep of the net"), same("per_stem", "a stem"),
		same("seen", "seen"),
	}
}

// Record says in a few words what a line of the record tells: "stems counted: 48 in a square foot".
func Record(r stand.Record) string {
	s := RecordKind(r.Kind)
	v, ok := r.Value.Get()
	switch {
	case !ok:
		return s
	case r.Unit == "ph":
		return s + ": " + Decimal(v, 2)
	}
	return strings.TrimSpace(s + ": " + Decimal(v, 2) + " " + RecordUnit(r.Unit))
}
