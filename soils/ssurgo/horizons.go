package ssurgo

import (
	"strings"

	"rootworthy/soils"
	"rootworthy/soils/unit"
)

// horizon takes a row of table chorizon.
func (j *joiner) horizon(r *record) {
	parent, ok := j.componentAt[r.text("cokey")]
	if !ok {
		r.orphan("cokey", "component")
		return
	}
	// Only textures hang on it, so a horizon without a key is kept like any other.
	key := r.text("chkey")
	h := j.readHorizon(r)
	// the key "" is never kept here, so rows without one never count as repeated
	if at, old := j.horizonAt[key]; old {
		if r.repeated("chkey", j.components[j.soilOf[at]].Key+contentOf(&j.horizons[at]), j.components[parent].Key+contentOf(&h)) {
			j.horizons[at], j.soilOf[at] = h, parent
		}
		return
	}
	if key != "" {
		j.horizonAt[h.Key] = len(j.horizons)
	}
	j.horizons = append(j.horizons, h)
	j.soilOf = append(j.soilOf, parent)
}

// readHorizon takes the columns that rating and lime need. Depths are cm; what is null stays missing.
func (j *joiner) readHorizon(r *record) soils.Horizon {
	return soils.Horizon{
		Key:     strings.Clone(r.text("chkey")),
		Name:    j.area.intern(r.text("hzname")),
		Master:  j.area.intern(r.text("desgnmaster")),
		Top:     quantity[unit.Depth](r, "hzdept_r"),
		Bottom:  quantity[unit.Depth](r, "hzdepb_r"),
		PH:      spread[unit.PH](r, "ph1to1h2o"),
		PHCaCl2: spread[unit.PHCaCl2](r, "ph01mcacl2"),
		AWC:     r.real("awc_r"), AWCLow: r.real("awc_l"), AWCHigh: r.real("awc_h"),
		// of the mineral soil under 2 mm; gravel is in other tables
		Sand: quantity[unit.Percent](r, "sandtotal_r"), Silt: quantity[unit.Percent](r, "silttotal_r"),
		Clay:          quantity[unit.Percent](r, "claytotal_r"),
		OrganicMatter: quantity[unit.Percent](r, "om_r"),
		// moist, at a third of a bar, g/cm³
		BulkDensity: r.real("dbthirdbar_r"),
		Carbonate:   quantity[unit.Percent](r, "caco3_r"),
		EC:          quantity[unit.Conductivity](r, "ec_r"),
		SAR:         r.real("sar_r"),
		CEC7:        r.real("cec7_r"), ECEC: r.real("ecec_r"),
	}
}

// spread reads a property that the survey gives with a low and a high.
func spread[T ~float64](r *record, column string) soils.Range[T] {
	return soils.Range[T]{Low: quantity[T](r, column+"_l"), Value: quantity[T](r, column+"_r"), High: quantity[T](r, column+"_h")}
}

// textureGroup takes a row of table chtexturegrp: of the textures of a horizon the representative one is kept.
func (j *joiner) textureGroup(r *record) {
	at, ok := j.horizonAt[r.text("chkey")]
	if !ok {
		r.orphan("chkey", "horizon")
		return
	}
	// A horizon may list what else was found in it; means and lime stand on the representative one.
	if !r.yes("rvindicator") {
		return
	}
	h := &j.horizons[at]
	group := r.text("texture")
	// Told, and settled by the code, so that the order of records decides nothing.
	if h.TextureGroup != "" && h.TextureGroup != group {
		r.fault("rvindicator", "two textures", "the horizon has two representative textures", "the one that comes first by its code is kept")
		if group > h.TextureGroup {
			return
		}
	}
	h.TextureGroup = j.area.intern(group)
	// A code may name no one class; then the table of words is asked, but for stratified ground (SR-), which has
	// several.
	h.Texture, _ = soils.ParseTexture(group)
	if key := r.text("chtgkey"); key != "" {
		j.textured[strings.Clone(key)] = textureRef{at, h.TextureGroup}
	}
}

// texture takes a row of table chtexture, the class of a texture group in words. It settles the class where the code
// of the group does not.
func (j *joiner) texture(r *record) {
	ref, ok := j.textured[r.text("chtgkey")]
	if !ok {
		return // of a group that is not representative
	}
	words := r.text("texcl")
	h := &j.horizons[ref.horizon]
	// a later representative group took the place of the one that this row belongs to, or the code has settled it already
	if words == "" || h.Texture != "" || h.TextureGroup != ref.code || strings.HasPrefix(h.TextureGroup, "SR-") {
		return
	}
	class, ok := soils.ParseTexture(words)
	if !ok {
		r.unknownWord("texcl", words)
		return
	}
	h.Texture = class
}
