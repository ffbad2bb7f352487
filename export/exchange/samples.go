package exchange

import (
	"fmt"
	"math"

	"github.com/paulmach/orb"

	"rootworthy/internal/geo/feature"
	"rootworthy/internal/geo/geopackage"
	"rootworthy/soils/unit"
	"rootworthy/suitability"
)

// sampleLayer lists what was made of each laboratory sample. A run keeps no places of samples; they come from the
// laboratory's file again.
type sampleLayer struct {
	rows           []sampleRow
	placed, absent int // samples with and without a place
	asked          bool
}

// sampleRow is one sample with its values, in the order of [sampleColumns].
type sampleRow struct {
	at     orb.Point
	placed bool
	values []any
}

// sampleColumns are named apart from those of the zones, so that no program joins a sample to the table of zones by
// mistake.
func sampleColumns() []feature.Column {
	return []feature.Column{
		{Name: "sample_id", Title: "as written on the bag, or the laboratory's number, or its line in the file"},
		{Name: "of_zone", Title: "zone_id of the zone that the sample speaks for"},
		{Name: "sample_ph", Type: feature.Real, Title: "pH in water of the sample"},
		{Name: "sample_lime_st_ac", Type: feature.Real, Title: "what the lime method asks for at this sample; empty where it has no answer (short ton per acre)"},
		{Name: "sample_why", Title: "why there is none, or zero"},
		{Name: "lime_method", Title: "the lime method"},
	}
}

// samplesOf lists the samples of every zone in the order of the zones.
func samplesOf(r *suitability.Result, places map[string]orb.Point) sampleLayer {
	l := sampleLayer{asked: places != nil}
	for i := range r.Fields {
		for _, k := range r.Fields[i].Zones {
			if k < 0 || k >= len(r.Zones) || r.Zones[k].Lime.Test == nil {
				continue
			}
			for _, s := range r.Zones[k].Lime.Test.Samples {
				row := sampleRow{values: []any{orNone(s.ID), r.Zones[k].ID, number(s.PH), nil, orNone(s.What), orNone(r.Zones[k].Lime.Test.Method)}}
				// A refusal is told in its own sentence; only without one does the code of a zero stand there.
				if s.What == "" {
					row.values[4] = orNone(s.Why)
				}
				if x, ok := s.Figure.Get(); ok {
					row.values[3] = math.Round(1e4*x.ShortTonsPerAcre()) / 1e4 // as finely as every table
				}
				// Asking a nil map is no fault: without the laboratory's files no sample has a place.
				if row.at, row.placed = places[s.ID]; row.placed {
					l.placed++
				} else {
					l.absent++
				}
				l.rows = append(l.rows, row)
			}
		}
	}
	return l
}

// orNone makes an empty text a missing one.
func orNone(s string) any {
	if s == "" {
		return nil
	}
	return s
}

// number makes a missing figure a missing value.
func number[T ~float64](o unit.Opt[T]) any {
	if x, ok := o.Get(); ok {
		return float64(x)
	}
	return nil
}

// note says what could not be put on a map.
// It is empty where nobody asked for places or all samples have one.
func (l sampleLayer) note() string {
	switch {
	case l.asked && l.placed == 0:
		return "none of the samples has a place, so they stand in their layer without points"
	case l.placed > 0 && l.absent > 0:
		return fmt.Sprintf("%d of %d samples have no place and stand in their layer without a point", l.absent, l.absent+l.placed)
	}
	return ""
}

// content returns the samples as points. Those without a place are rows too, for their figures count as much.
func (l sampleLayer) content(about string) geopackage.Content {
	c := geopackage.Content{Name: "samples", Title: "Soil samples", About: about, Columns: sampleColumns()}
	c.Points = func(yield func(orb.Point, []any) bool) {
		for _, r := range l.rows {
			at := geopackage.NoPlace()
			if r.placed {
				at = r.at
			}
			if !yield(at, r.values) {
				return
			}
		}
	}
	return c
}
