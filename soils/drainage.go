package soils

import "strings"

// DrainageClass is a natural drainage class, wettest first: a < b means a is wetter. The zero value is not recorded
// and is never treated as wet or dry. It is the natural class: drains and irrigation are not considered.
// Source: USDA Soil Survey Manual, natural soil drainage classes; domain drainage_class of SSURGO.
type DrainageClass uint8

// The classes.
const (
	DrainageUnknown DrainageClass = iota
	Subaqueous
	VeryPoorlyDrained
	PoorlyDrained
	SomewhatPoorlyDrained
	ModeratelyWellDrained
	WellDrained
	SomewhatExcessivelyDrained
	ExcessivelyDrained
)

var drainageNames = [...]string{"", "Subaqueous", "Very poorly drained", "Poorly drained", "Somewhat poorly drained",
	"Moderately well drained", "Well drained", "Somewhat excessively drained", "Excessively drained"}

// DrainageClasses lists every recorded class, wettest first.
func DrainageClasses() []DrainageClass {
	return []DrainageClass{Subaqueous, VeryPoorlyDrained, PoorlyDrained, SomewhatPoorlyDrained, ModeratelyWellDrained,
		WellDrained, SomewhatExcessivelyDrained, ExcessivelyDrained}
}

// ParseDrainage reads a class as the survey writes it, without regard to case. Whole words are compared: "well
// drained" is part of two other names. ok is false for a word it does not know; empty text is DrainageUnknown, ok.
func ParseDrainage(s string) (c DrainageClass, ok bool) {
	s = strings.TrimSpace(s)
	for i, n := range drainageNames {
		if strings.EqualFold(s, n) {
			return DrainageClass(i), true
		}
	}
	return DrainageUnknown, false
}

// String returns the survey's own words, or "" when not recorded.
func (c DrainageClass) String() string {
	if int(c) < len(drainageNames) {
		return drainageNames[c]
	}
	return ""
}
