package report

import (
	"rootworthy/suitability"
	"rootworthy/suitability/uncertainty"
)

// Only returns the part of a run that is about some of its fields, and of what is known of how sure it is (which may be
// nil). What the run says of other fields is left out; what it says of no field stays. Shapes are shared with the run.
func Only(r *suitability.Result, study *uncertainty.Study, keep func(*suitability.Field) bool) (*suitability.Result, *uncertainty.Study) {
	out := &suitability.Result{Profile: r.Profile, Provenance: r.Provenance}
	var sure *uncertainty.Study
	if study != nil {
		sure = &uncertainty.Study{}
	}
	others := map[string]bool{}
	for i := range r.Fields {
		if !keep(&r.Fields[i]) {
			others[r.Fields[i].ID] = true
			continue
		}
		f := r.Fields[i]
		zones := f.Zones
		f.Zones = make([]int, 0, len(zones))
		for _, k := range zones {
			if k < 0 || k >= len(r.Zones) {
				continue
			}
			f.Zones = append(f.Zones, len(out.Zones))
			out.Zones = append(out.Zones, r.Zones[k])
			if sure != nil && k < len(study.Zones) {
				sure.Zones = append(sure.Zones, study.Zones[k])
			}
		}
		out.Fields = append(out.Fields, f)
		if sure != nil && i < len(study.Fields) {
			sure.Fields = append(sure.Fields, study.Fields[i])
		}
	}
	for _, f := range r.Faults {
		if f.Feature == "" || !others[f.Feature] {
			out.Faults = append(out.Faults, f)
		}
	}
	return out, sure
}
