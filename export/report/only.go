package report

import (
	"slices"
	"strings"

	"rootworthy/internal/diag"
	"rootworthy/suitability"
	"rootworthy/suitability/uncertainty"
)

// Only returns the part of a run that is about some of its fields, and of what is known of how sure it is (which may be
// nil). What the run says of other fields is left out, and not counted; what it says of no field stays. Shapes are shared with the run.
func Only(r *suitability.Result, study *uncertainty.Study, keep func(*suitability.Field) bool) (*suitability.Result, *uncertainty.Study) {
	out := &suitability.Result{Profile: r.Profile, Provenance: r.Provenance}
	// The study of a part keeps chances that were drawn for the whole run: the same field has the same figures in every report.
	var sure *uncertainty.Study
	if study != nil {
		sure = &uncertainty.Study{}
	}
	// Faults are sifted by the fields that are left out, not by those that stay: a fault without a field, such as of the survey, belongs to
	// every part.
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
			// A run folder may have been edited by hand; a zone that is not there is left out rather than a panic.
			if k < 0 || k >= len(r.Zones) {
				continue
			}
			// Zones are known by their place in the run, so the part numbers them anew; their ids stay.
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
	out.Faults = diag.Only(grounded(r), func(ground string) bool { return !others[ground] })
	return out, sure
}

// grounded returns the faults of a run, each with the field that it is about. Runs of a former program did not keep that:
// of theirs the feature of a file of boundaries is the field's id, and how many more there were is known of the whole run alone.
func grounded(r *suitability.Result) []diag.Fault {
	boundaries := map[string]bool{}
	for _, in := range r.Provenance.Inputs {
		if in.Role == "fields" {
			boundaries[in.Name] = true
		}
	}
	ids := map[string]bool{}
	for i := range r.Fields {
		ids[r.Fields[i].ID] = true
	}
	out := slices.Clone(r.Faults)
	for i := range out {
		f := &out[i]
		if file, _, _ := strings.Cut(f.File, "/"); f.Ground == "" && boundaries[file] && ids[f.Feature] { // "fields.zip/a.shp" too
			f.Ground = f.Feature
		}
		if said, ok := strings.CutSuffix(f.What, " more like it)"); ok {
			f.What = said + " more like it in the whole run)"
		}
	}
	return out
}
