package main

import (
	"strings"

	"rootworthy/export/report"
	"rootworthy/internal/diag"
	"rootworthy/soils/lab"
	"rootworthy/soils/lime"
	"rootworthy/soils/unit"
	"rootworthy/suitability"
	"rootworthy/suitability/soiltest"
)

// magnesium reads what the laboratory's files say of magnesium; nil without files.
// The advice is by zone id; a zone without a usable sample is not in it.
func (f *reportFlags) magnesium(r *suitability.Result, faults *diag.List) (*report.Magnesium, error) {
	if len(f.tests.tests) == 0 {
		return nil, nil
	}
	region, err := f.magnesiumRegion(r)
	if err != nil {
		return nil, err
	}
	samples, _, err := (&planFlags{tests: f.tests}).openSamples(faults)
	if err != nil {
		return nil, err
	}
	// Samples are laid on the run anew: it keeps what they said of pH and lime, and nothing of magnesium.
	voices := soiltest.Sort(samples, lab.Locate(samples, groundOf(r), faults))
	surface, _ := soiltest.Windows(r.Profile)
	out := &report.Magnesium{Region: region, Advice: map[string]lime.MagnesiumAdvice{}}
	for i := range r.Zones {
		z := &r.Zones[i]
		if mg, ok := meanMagnesium(voices.For(z.ID, z.FieldID, surface), region).Get(); ok {
			out.Advice[z.ID] = region.Advise(mg, z.Lime.Likely.Or(0) > 0)
		}
	}
	return out, nil
}

// meanMagnesium is the mean of the samples that say how much magnesium there is by the extractant of the ratings.
func meanMagnesium(voices []soiltest.Voice, region lime.MagnesiumRegion) unit.Opt[unit.Content] {
	sum, n := unit.Content(0), 0
	for _, v := range voices {
		// The ratings are of Mehlich-1 extracts, and figures of other extractants are not on their scale.
		m, ok := v.Sample.Nutrient(lab.Magnesium, lab.Mehlich1)
		mg, has := m.ByMass.Value.Get()
		// A figure "above" a bound has no size for a mean. One "below" counts only while the bound itself is low by the ratings: then its place
		// within does not matter.
		if !ok || !has || m.ByMass.Bound == lab.Above || m.ByMass.Bound == lab.Below && mg > region.LowMost {
			continue
		}
		sum, n = sum+mg, n+1
	}
	if n == 0 {
		return unit.None[unit.Content]()
	}
	return unit.Some(sum / unit.Content(n))
}

// magnesiumRegion is where the ratings hold: as typed, or that of the run.
func (f *reportFlags) magnesiumRegion(r *suitability.Result) (lime.MagnesiumRegion, error) {
	name := f.region
	if name == "" {
		name = r.Provenance.Option("region")
	}
	for _, m := range lime.MagnesiumRegions() {
		// Regions of sowing windows are typed with hyphens, those of the ratings with blanks; they are the same places.
		if strings.EqualFold(strings.ReplaceAll(m.Name, " ", "-"), strings.ReplaceAll(name, " ", "-")) {
			return m, nil
		}
	}
	return lime.MagnesiumRegion{}, usagef("--tests: what low magnesium is depends on the region; add --magnesium-region Piedmont or \"Coastal Plain\"")
}
