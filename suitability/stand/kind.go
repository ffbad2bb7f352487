package stand

import (
	"slices"
	"sync"
)

// Kind is what a line of the record tells. Codes are stable.
type Kind string

// kind is a line of the list: the units its value may have; none where it has no value.
type kind struct {
	code  Kind
	units []string
	most  float64 // a larger value is a slip of the pen, in any of the units
}

// The kinds that other files ask for by name.
const (
	Sown         Kind = "sown"
	Plants       Kind = "plants"
	Stems        Kind = "stems"
	AlfalfaShare Kind = "alfalfa_share"
	Yield        Kind = "yield"
	Height       Kind = "height"
	SoilPH       Kind = "soil_ph"
	Lime         Kind = "lime"
)

// tissue begins the kinds that are tissue tests; the element follows.
const tissue = "tissue_"

// kinds lists them all, in the order of pages, worked out once.
var kinds = sync.OnceValue(allKinds)

// Fertilizer is recorded as what it is sold by, and each kind in the units that people write it in.
func allKinds() []kind {
	// the bounds are wide enough for either unit: they catch a slip, no more
	perArea, rate := []string{"per_ft2", "per_m2"}, []string{"lb_ac", "kg_ha"}
	pct := []string{"pct"}
	list := []kind{
		{Sown, nil, 0}, {Plants, perArea, 5000}, {Stems, perArea, 5000}, {AlfalfaShare, pct, 100}, {Yield, []string{"ton_ac", "t_ha"}, 60},
		{Height, []string{"in", "cm"}, 300}, {"cut", nil, 0}, {"grazed", nil, 0}, {"sprayed", nil, 0}, {SoilPH, []string{"ph"}, 12},
		// of lime the product as spread, or what it is worth as pure carbonate (100 % CCE): the two are never the same figure
		{Lime, []string{"ton_ac", "t_ha", "ton_ac_cce", "t_ha_cce"}, 50}, {"k2o", rate, 2000}, {"p2o5", rate, 2000}, {"b", rate, 20}, {"s", rate, 500}, {"mg", rate, 500},
		{"n", rate, 1000}, {"mo", []string{"oz_ac", "g_ha"}, 1000},
	}
	for _, e := range []string{"n", "p", "k", "ca", "mg", "s"} {
		list = append(list, kind{Kind(tissue + e), pct, 100})
	}
	return append(list, kind{"weevil_tips", pct, 100}, kind{"weevil_larvae", []string{"per_tip"}, 1000}, kind{"leafhopper", []string{"per_sweep"}, 1000},
		kind{"armyworm", perArea, 20000}, kind{"aphid", []string{"per_stem"}, 5000}, kind{"grasshopper", []string{"per_yd2", "per_m2"}, 5000},
		kind{"cricket", perArea, 5000}, kind{"blister_beetle", []string{"seen"}, 1e6}, kind{"note", nil, 0})
}

// Kinds lists the codes, in the order of pages.
func Kinds() []Kind {
	var out []Kind
	for _, k := range kinds() {
		out = append(out, k.code)
	}
	return out
}

// Units lists the units that a kind may have; none where it has no value or is not known.
func (k Kind) Units() []string {
	if i := k.index(); i >= 0 {
		return slices.Clone(kinds()[i].units)
	}
	return nil
}

// index is the place in the list; -1 for no kind.
func (k Kind) index() int {
	return slices.IndexFunc(kinds(), func(x kind) bool { return x.code == k })
}
