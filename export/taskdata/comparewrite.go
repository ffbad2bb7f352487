package taskdata

import (
	"bufio"
	"fmt"
	"io"
	"strings"

	"rootworthy/export"
	"rootworthy/soils/unit"
)

// WriteCSV writes a row for each zone that has a plan or got something. Names of columns that the lime list has too
// mean the same here.
func (c *Comparison) WriteCSV(w io.Writer) error {
	t := export.NewTable(w, "zone_id", "field_id", "field_name", "area_ac", "recorded_ac", "plan_st_ac", "applied_st_ac", "plan_st", "applied_st", "over_st", "under_st", "difference_st")
	for _, z := range c.Zones {
		if !z.Concerned() {
			continue
		}
		// Nothing recorded is an empty cell, for a mean of zero would be ground that got none.
		mean := ""
		if m, ok := z.Mean(); ok {
			mean = digits(m.ShortTonsPerAcre())
		}
		st := func(m unit.Mass) string { return digits(m.ShortTons()) }
		t.Row(z.ZoneID, z.FieldID, z.FieldName, digits(z.Area.Acres()), digits(z.Recorded.Acres()), digits(z.Plan.ShortTonsPerAcre()), mean,
			st(z.Planned), st(z.Applied), st(z.Over), st(z.Under), st(z.Applied-z.Planned))
	}
	return t.Close()
}

// digits prints at most four decimals, as the other tables do.
func digits(x float64) string { return export.Digits(finite(x), 4) }

// sides of the plan, as the map shows them. As planned is within a tenth of the plan: spreaders do no better (common
// practice, no source).
const asPlanned, offBy = "as planned", 0.1

// sideOf says on which side of the plan a cell lies.
func sideOf(got, planned int32) string {
	switch off := float64(got) - float64(planned); {
	case planned == 0 && got > 0:
		return "lime where none is planned"
	case off > offBy*float64(planned):
		return "too much"
	case off < -offBy*float64(planned):
		return "too little"
	}
	return asPlanned
}

// WriteMap writes differences.geojson (RFC 7946): cells side by side in a row with the same zone, plan and rate are one
// rectangle. Cells as planned and cells without a record are left out.
func (c *Comparison) WriteMap(w io.Writer) error {
	m := &differenceMap{w: bufio.NewWriterSize(w, 1<<16)}
	m.w.WriteString("{\"type\":\"FeatureCollection\",\"title\":\"Lime against plan\",\"features\":[")
	for _, s := range c.surfaces {
		v := c.coverOf(s)
		err := s.Each(func(row int, milligrams []int32) error {
			v.scan.row(row, v.on)
			c.mapRow(m, v, row, milligrams)
			return nil
		})
		if err != nil {
			return err
		}
	}
	m.w.WriteString("\n]}\n")
	return m.w.Flush()
}

// mapRow writes the runs of a row.
func (c *Comparison) mapRow(m *differenceMap, v *cover, row int, milligrams []int32) {
	for from := 0; from < len(milligrams); {
		// A run is as long as rate and ground stay the same: fields of one rate become one rectangle a row and not thousands of cells.
		to := from + 1
		for to < len(milligrams) && milligrams[to] == milligrams[from] && v.on[to] == v.on[from] {
			to++
		}
		// Ground of no zone has a plan of nothing, so whatever goes there is lime where none is planned.
		zone, planned := "", int32(0)
		if on := v.on[from]; on >= 0 {
			zone, planned = c.Zones[v.zones[on]].ZoneID, c.planned[v.zones[on]]
		}
		if got := milligrams[from]; got != NoRecord {
			if side := sideOf(got, planned); side != asPlanned {
				m.rectangle(v.frame, row, from, to, zone, side, planned, got)
			}
		}
		from = to
	}
}

// differenceMap is the file in the making; the bufio.Writer keeps the first error.
type differenceMap struct {
	w    *bufio.Writer
	some bool
}

// rectangle writes the cells from column from up to, not including, to.
func (m *differenceMap) rectangle(f Frame, row, from, to int, zone, side string, planned, got int32) {
	if m.some {
		m.w.WriteByte(',')
	}
	m.some = true
	// Corners are worked out from whole steps, so that rectangles side by side share them to the last digit.
	at := func(column, row int) string {
		return "[" + nanoDegrees(tenNano(f.West+int64(column)*f.East)) + "," + nanoDegrees(tenNano(f.South+int64(row)*f.North)) + "]"
	}
	zoneText := "null"
	if zone != "" {
		zoneText = jsonText(zone)
	}
	fmt.Fprintf(m.w, "\n{\"type\":\"Feature\",\"geometry\":{\"type\":\"Polygon\",\"coordinates\":[[%s,%s,%s,%s,%s]]},"+
		"\"properties\":{\"zone_id\":%s,\"side\":%q,\"plan_st_ac\":%s,\"applied_st_ac\":%s,\"difference_st_ac\":%s}}",
		at(from, row), at(to, row), at(to, row+1), at(from, row+1), at(from, row), zoneText, side,
		digits(rateOf(planned).ShortTonsPerAcre()), digits(rateOf(got).ShortTonsPerAcre()), digits(rateOf(got-planned).ShortTonsPerAcre()))
}

// tenNano rounds to 1e-7 degree, the finest that a map holds.
// It rounds half away from zero on both sides, since Go's division cuts towards zero.
func tenNano(n int64) int64 {
	const step = 100
	if n < 0 {
		return -((-n + step/2) / step * step)
	}
	return (n + step/2) / step * step
}

// jsonText quotes text for JSON.
func jsonText(s string) string {
	var b strings.Builder
	b.WriteByte('"')
	for _, r := range s {
		switch {
		case r == '"' || r == '\\':
			b.WriteString("\\" + string(r))
		case r < 0x20:
			fmt.Fprintf(&b, "\\u%04x", r)
		default:
			b.WriteRune(r)
		}
	}
	b.WriteByte('"')
	return b.String()
}
