package ssurgo

import (
	"fmt"

	"rootworthy/internal/diag"
	"rootworthy/soils"
)

// reckonTextures gives horizons whose texture the survey does not name the class of their sand, silt and clay, and marks
// them: the general soil map, and old exports, come without tables of texture.
func (j *joiner) reckonTextures() {
	n := 0
	for i := range j.horizons {
		h := &j.horizons[i]
		sand, okSand := h.Sand.Get()
		silt, okSilt := h.Silt.Get()
		clay, okClay := h.Clay.Get()
		// The surveyors' own code wins, even one that names no class (muck, bedrock, gravel).
		if h.TextureGroup != "" || h.Rock() || !okSand || !okSilt || !okClay {
			continue
		}
		if class, ok := soils.TextureOf(sand, silt, clay); ok {
			h.Texture, h.TextureReckoned = class, true
			n++
		}
	}
	if n > 0 {
		j.area.faults.Notice(diag.Fault{File: j.area.path(j.schema["chorizon"].file), Kind: "textures reckoned",
			What: fmt.Sprintf("the survey does not name the texture of %d of %d horizons; it is taken from sand, silt and clay", n, len(j.horizons))})
	}
}

// namePans makes restrictions of pans that only the names of horizons tell of, where the export has no table of
// restrictions. With the table the surveyors' own word stands.
func (j *joiner) namePans() {
	// an empty table says that there is none
	if !j.absent["corestrictions"] {
		return
	}
	n := 0
	for i, at := range j.soilOf {
		h := &j.horizons[i]
		if !h.Fragipan() {
			continue
		}
		c := &j.components[at]
		c.Restrictions = append(c.Restrictions, soils.Restriction{Kind: "Fragipan", Top: h.Top, Bottom: h.Bottom, ByName: true})
		n++
	}
	if n > 0 {
		j.area.faults.Notice(diag.Fault{File: j.area.path(j.schema["chorizon"].file), Kind: "pans by name",
			What: fmt.Sprintf("there is no table of restrictions; horizons that are fragipans by name count as such (%d of %d)", n, len(j.horizons))})
	}
}
