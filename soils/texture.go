package soils

import (
	"slices"
	"strings"
)

// textureClasses lists the codes and words of the texture classes of the fine earth.
// Source: USDA Soil Survey Manual, texture classes and subclasses; codes as in SSURGO chtexturegrp.
var textureClasses = [][2]string{
	{"COS", "Coarse sand"}, {"S", "Sand"}, {"FS", "Fine sand"}, {"VFS", "Very fine sand"},
	{"LCOS", "Loamy coarse sand"}, {"LS", "Loamy sand"}, {"LFS", "Loamy fine sand"}, {"LVFS", "Loamy very fine sand"},
	{"COSL", "Coarse sandy loam"}, {"SL", "Sandy loam"}, {"FSL", "Fine sandy loam"}, {"VFSL", "Very fine sandy loam"},
	{"L", "Loam"}, {"SIL", "Silt loam"}, {"SI", "Silt"}, {"SCL", "Sandy clay loam"}, {"CL", "Clay loam"},
	{"SICL", "Silty clay loam"}, {"SC", "Sandy clay"}, {"SIC", "Silty clay"}, {"C", "Clay"},
}

// TextureClasses lists the codes of the texture classes, coarsest first within the sands, the loams and the clays.
func TextureClasses() []string {
	codes := make([]string, len(textureClasses))
	for i, t := range textureClasses {
		codes[i] = t[0]
	}
	return codes
}

// ParseTexture returns the class code of a texture as the survey writes it: a class in words ("Silt loam"), a code
// ("SIL"), a code with modifiers ("GRV-SIL", "MK-SL"), or a stratified list ("SR- FSL SIL"). A list of different
// classes has no one class; neither has what is no fine earth (bedrock, plant material): then ok is false.
func ParseTexture(s string) (code string, ok bool) {
	s = strings.TrimSpace(s)
	for _, t := range textureClasses {
		if strings.EqualFold(s, t[1]) {
			return t[0], true
		}
	}
	// "SR-" stands before a list of layers; what stands before the last hyphen of a word is a modifier, such as gravelly
	for _, word := range strings.Fields(strings.TrimPrefix(strings.ToUpper(s), "SR-")) {
		class := word[strings.LastIndexByte(word, '-')+1:]
		known := slices.ContainsFunc(textureClasses, func(t [2]string) bool { return t[0] == class })
		if !known || (code != "" && code != class) {
			return "", false
		}
		code = class
	}
	return code, code != ""
}
