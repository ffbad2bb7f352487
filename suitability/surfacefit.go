package suitability

import "rootworthy/soils/unit"

// SurfaceFit says how a figure of a zone was read from a surface through the sampled points of its field.
type SurfaceFit struct {
	Method    string            `json:"method"`             // ordinary kriging, inverse distance, nearest point
	Points    int               `json:"points"`             // of the field
	Variogram string            `json:"variogram"`          // its model; "" where none was fitted
	Range     unit.Opt[float64] `json:"range_m"`            // distance from which points are no longer alike, metres
	Sill      unit.Opt[float64] `json:"sill"`               // semivariance from there on, the nugget included
	Nugget    unit.Opt[float64] `json:"nugget"`             // of points side by side
	Found     float64           `json:"leave_one_out"`      // root mean squared error of each point found from the others
	FoundMean float64           `json:"leave_one_out_mean"` // the same by the mean of the others alone
	Error     unit.Opt[float64] `json:"standard_error"`     // mean kriging standard error over the zone; missing with other methods
}

// Surface is a surface of one field, for the record of a run. Figures are in pH, or in kg/m² of lime.
type Surface struct {
	Field string `json:"field"`
	Of    string `json:"of"` // surface pH, subsoil pH or lime
	SurfaceFit
	Used bool   `json:"used"`
	Why  string `json:"why,omitempty"` // why it was not
}

// NoBetterThanMean is why a surface is not used that finds points no better than their mean.
const NoBetterThanMean = "no better than the mean"

// Off is how far the surface may be off: its own standard error, or else that of leaving one out.
func (f *SurfaceFit) Off() float64 { return f.Error.Or(f.Found) }

// mostSurfaceError is how far a pH read from a surface may be off, one standard deviation, to be as good as bags of the
// zone itself.
// Source: proposal.
const mostSurfaceError = 0.3

// loose says whether the pH was read from a surface that is too far off to make the class sure.
func (t *TestedPH) loose() bool { return t.Fit != nil && t.Fit.Off() > mostSurfaceError }
