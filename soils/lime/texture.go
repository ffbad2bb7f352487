package lime

import (
	"strings"

	"rootworthy/soils"
	"rootworthy/soils/unit"
)

// Texture is a texture class of the fine earth, coarsest first: a > b means a is finer. The zero value is not recorded.
// Source: USDA Soil Survey Manual, the twelve texture classes. Organic stands last: it belongs to no column of a table.
type Texture uint8

// The classes.
const (
	TextureUnknown Texture = iota
	Sand
	LoamySand
	SandyLoam
	Loam
	SiltLoam
	Silt
	SandyClayLoam
	ClayLoam
	SiltyClayLoam
	SandyClay
	SiltyClay
	Clay
	Organic
)

var textureNames = [...]string{"", "sand", "loamy sand", "sandy loam", "loam", "silt loam", "silt", "sandy clay loam",
	"clay loam", "silty clay loam", "sandy clay", "silty clay", "clay", "organic"}

// Textures lists every recorded class, coarsest first.
func Textures() []Texture {
	return []Texture{Sand, LoamySand, SandyLoam, Loam, SiltLoam, Silt, SandyClayLoam, ClayLoam, SiltyClayLoam,
		SandyClay, SiltyClay, Clay, Organic}
}

// String returns the words, or "" when not recorded.
func (t Texture) String() string {
	if int(t) < len(textureNames) {
		return textureNames[t]
	}
	return ""
}

// codes are the survey's texture codes with their class; the sizes of sand fall into one class.
// Source: SSURGO domain texture_class, and terms used in lieu of texture for organic material.
var codes = map[string]Texture{
	"COS": Sand, "S": Sand, "FS": Sand, "VFS": Sand,
	"LCOS": LoamySand, "LS": LoamySand, "LFS": LoamySand, "LVFS": LoamySand,
	"COSL": SandyLoam, "SL": SandyLoam, "FSL": SandyLoam, "VFSL": SandyLoam,
	"L": Loam, "SIL": SiltLoam, "SI": Silt, "SCL": SandyClayLoam, "CL": ClayLoam, "SICL": SiltyClayLoam,
	"SC": SandyClay, "SIC": SiltyClay, "C": Clay,
	"SPM": Organic, "MPM": Organic, "HPM": Organic, "MUCK": Organic, "PEAT": Organic, "MPT": Organic, "PDOM": Organic, "HPDOM": Organic,
}

// ParseTexture reads a texture as the survey writes it: a code with its modifiers ("GR-SL", "MK-L"), words ("Fine sandy
// loam"), or a stratified list ("SR- FSL SICL"), of which it is the finest, as with any tie. ok is false when the text
// names no texture: bedrock, variable, material.
func ParseTexture(s string) (t Texture, ok bool) {
	if code, one := soils.ParseTexture(s); one {
		return codes[code], true
	}
	for _, code := range strings.Fields(strings.ToUpper(s)) {
		// a word that is no code counts as zero, which is below every class
		t = max(t, codes[code[strings.LastIndexByte(code, '-')+1:]])
	}
	return t, t != TextureUnknown
}

// TextureOf returns the class of a horizon; of an organic one [Organic], whatever its code.
func TextureOf(h *soils.Horizon) Texture {
	if h.Organic() {
		return Organic
	}
	t, ok := ParseTexture(h.Texture)
	if !ok { // no one class: a list, or material in lieu of texture
		t, _ = ParseTexture(h.TextureGroup)
	}
	return t
}

// SurfaceTexture returns the class that is thickest in the window, of equals the finer, and its thickness. Without a
// horizon of known texture it is TextureUnknown.
func SurfaceTexture(horizons []soils.Horizon, w soils.Window) (t Texture, thickness unit.Depth) {
	var sum [Organic + 1]unit.Depth
	for i := range horizons {
		h := &horizons[i]
		top, okTop := h.Top.Get()
		bottom, okBottom := h.Bottom.Get()
		if okTop && okBottom {
			sum[TextureOf(h)] += max(0, min(bottom, w.To)-max(top, w.From))
		}
	}
	for _, c := range Textures() {
		// from coarse to fine with "or equal", so that of equals the finer stays
		if sum[c] > 0 && sum[c] >= thickness {
			t, thickness = c, sum[c]
		}
	}
	return t, thickness
}
