package export

import (
	"cmp"
	"slices"
	"strings"

	"rootworthy/suitability"
)

// Zones returns the zones as every file lists them: by field in the order of the result, then by number. The order
// of Result.Zones does not matter, only what the fields say of it.
func Zones(r *suitability.Result) []*suitability.Zone {
	out := make([]*suitability.Zone, 0, len(r.Zones))
	for i := range r.Fields {
		out = append(out, ZonesOf(r, &r.Fields[i])...)
	}
	return out
}

// ZonesOf returns the zones of one field by number. An index outside the result is left out.
func ZonesOf(r *suitability.Result, f *suitability.Field) []*suitability.Zone {
	var out []*suitability.Zone
	for _, i := range f.Zones {
		// Any caller may put a result together; a wrong index must not end a report.
		if i >= 0 && i < len(r.Zones) {
			out = append(out, &r.Zones[i])
		}
	}
	slices.SortStableFunc(out, func(a, b *suitability.Zone) int { return cmp.Compare(a.Number, b.Number) })
	return out
}

// joined prints criteria as one cell.
func joined(codes []suitability.Code) string {
	var b strings.Builder
	for i, c := range codes {
		if i > 0 {
			b.WriteString(", ")
		}
		b.WriteString(string(c))
	}
	return b.String()
}
