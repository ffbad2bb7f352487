package main

import (
	"math"
	"slices"
	"strconv"

	"github.com/paulmach/orb"
	"github.com/paulmach/orb/planar"

	"rootworthy/internal/diag"
	"rootworthy/soils"
	"rootworthy/soils/lab"
	"rootworthy/soils/unit"
	"rootworthy/suitability"
)

// study is what came of pairing.
type study struct {
	samples []lab.Sample
	read    int // with a pH in water and the depth it was taken from
	shallow int // of those: without a depth, taken as topsoil
	assumed int // of those: "pH" alone, taken as in water
	calcium int // with a pH in calcium chloride alone, which is another measure
	placed  int // of those read
	pairs   []pair
}

// pair is a test beside the survey at its place and depth.
type pair struct {
	deep            bool
	cluster         string // tests of one field and map unit are not independent of each other
	lab             float64
	survey          float64 // mean over the soils of the place, by percent
	low, high       float64 // mean of their ranges
	lowest, highest float64 // ends of the widest range among them
}

// deepFrom is the depth, cm, from which a layer counts as subsoil: the top of the window that the crop profile judges.
func deepFrom() float64 { return suitability.DefaultProfile().Rules.SubsoilFrom.Value }

// pairUp holds each sample against the survey. Without a file of fields those of r were made of the samples, by their place.
// Samples that cannot be used are passed over; those with pH in calcium chloride alone are counted apart.
func pairUp(samples []lab.Sample, r *suitability.Result, in input, faults *diag.List) *study {
	s, byPoint := &study{samples: samples}, in.fields == ""
	zones := map[string]*suitability.Zone{}
	of := map[string][]*suitability.Zone{}
	for i := range r.Zones {
		z := &r.Zones[i]
		zones[z.ID] = z
		of[z.FieldID] = append(of[z.FieldID], z)
	}
	// by sample; of samples with coordinates alone the small fields are the places
	var located []lab.Located
	if !byPoint {
		located = lab.Locate(samples, groundOf(r), faults)
	}
	for i := range samples {
		x := &samples[i]
		ph, ok := x.PH.Get()
		top, hasTop := x.Top.Get()
		bottom, hasBottom := x.Bottom.Get()
		// Only where neither end is given: half a depth is a slip that nobody should guess at.
		if ok && !hasTop && !hasBottom && in.depth > 0 {
			top, bottom, hasTop, hasBottom = 0, unit.Depth(in.depth), true, true
			s.shallow++
		}
		switch {
		case !ok && x.PHCaCl2.Has():
			s.calcium++
			continue
		case !ok || !hasTop || !hasBottom:
			continue
		}
		s.read++
		if x.PHAssumed {
			s.assumed++
		}
		var ground []*suitability.Zone
		switch {
		case byPoint:
			ground = of[strconv.Itoa(i)]
		// A sample that names a zone speaks for it, one that names a field for all of its zones.
		case len(located[i].Zones) > 0:
			for _, id := range located[i].Zones {
				ground = append(ground, zones[id])
			}
		default:
			ground = of[located[i].Field]
		}
		if len(ground) == 0 {
			continue
		}
		// Placed and yet no pair: the soils there have no pH recorded at that depth.
		s.placed++
		if p, ok := surveyAt(ground, soils.Window{From: top, To: bottom}); ok {
			// By point there are no fields, and all tests of a map unit are one cluster.
			p.lab, p.deep, p.cluster = float64(ph), float64(top) >= deepFrom(), ground[0].MapUnitKey
			if !byPoint {
				// The first zone's map unit stands for a field of several: the tests of a field on one of its soils are near enough
				// alike.
				p.cluster = ground[0].FieldID + "/" + ground[0].MapUnitKey
			}
			s.pairs = append(s.pairs, p)
		}
	}
	return s
}

// surveyAt is the survey's pH of some ground over a depth: by area, and by percent of the soils.
// Soils without a pH at that depth are left out and the others weighed up; ok is false where none has one.
func surveyAt(zones []*suitability.Zone, w soils.Window) (p pair, ok bool) {
	p.lowest, p.highest = math.Inf(1), math.Inf(-1)
	weight := 0.0
	for _, z := range zones {
		for i := range z.Rating.Components {
			c := &z.Rating.Components[i]
			// The percent of a soil is that of the map unit; nobody knows where in it the soil lies, so a test is held against all
			// of them.
			share := float64(z.Area) * float64(c.Percent.Or(0))
			v, low, high, has := componentAt(c, w)
			if !has || !(share > 0) {
				continue
			}
			weight += share
			p.survey, p.low, p.high = p.survey+share*v, p.low+share*low, p.high+share*high
			// Unweighted: a soil of two percent may be the one that was dug in.
			p.lowest, p.highest = min(p.lowest, low), max(p.highest, high)
		}
	}
	if weight == 0 {
		return p, false
	}
	p.survey, p.low, p.high = p.survey/weight, p.low/weight, p.high/weight
	return p, true
}

// componentAt is the pH of a soil over a depth with its low and high; an end that is not recorded is the value.
func componentAt(c *suitability.ComponentRating, w soils.Window) (v, low, high float64, ok bool) {
	// Back from the rating's layers to horizons, so that the means are those that the rating works with.
	horizons := make([]soils.Horizon, len(c.Horizons))
	for i, h := range c.Horizons {
		horizons[i] = soils.Horizon{Top: unit.Some(h.Top), Bottom: unit.Some(h.Bottom), PH: soils.Range[unit.PH]{Low: h.PHLow, Value: h.PH, High: h.PHHigh}}
	}
	mean := func(end func(*soils.Horizon) unit.Opt[unit.PH]) (float64, bool) {
		m, _ := soils.HalfCoveredMean(horizons, w, func(h *soils.Horizon) unit.Opt[unit.PH] {
			// An end without a value is not used: the three means would then be of different layers.
			if e := end(h); e.Has() && h.PH.Value.Has() {
				return e
			}
			return h.PH.Value
		})
		x, ok := m.Get()
		return float64(x), ok
	}
	v, ok = mean(soils.PHOf)
	low, _ = mean(func(h *soils.Horizon) unit.Opt[unit.PH] { return h.PH.Low })
	high, _ = mean(func(h *soils.Horizon) unit.Opt[unit.PH] { return h.PH.High })
	return v, low, high, ok
}

// at finds the zone of a point.
func at(r *suitability.Result, p orb.Point) (field, zone string, ok bool) {
	i := slices.IndexFunc(r.Zones, func(z suitability.Zone) bool {
		return z.Shape.Bound().Contains(p) && planar.MultiPolygonContains(z.Shape, p)
	})
	if i < 0 {
		return "", "", false
	}
	return r.Zones[i].FieldID, r.Zones[i].ID, true
}
