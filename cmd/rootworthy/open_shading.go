package main

import (
	"context"

	"github.com/paulmach/orb"

	"rootworthy/internal/diag"
	"rootworthy/internal/job"
	"rootworthy/internal/web"
	"rootworthy/suitability"
)

// openShading works out the light on the ground of a run from an elevation raster, to be drawn under its zones:
//
//	s, err := openShading(ctx, f.elevation, f.elevationUnit, r, &faults)
//	mapdraw.Options{Shade: s.Light} // a nil s has no light, and nothing is drawn
//
// It is nil when no raster is given, and when the raster holds no ground of the run, which a notice then says.
func openShading(ctx context.Context, elevation, unit string, r *suitability.Result, faults *diag.List) (*job.Shading, error) {
	o := &opened{}
	defer o.close()
	h, err := o.openElevation(&screenFlags{elevation: elevation, elevationUnit: unit}, faults)
	if err != nil || h == nil {
		return nil, err
	}
	// Fields that were refused have no shape, and no ground to shade.
	var shapes []orb.MultiPolygon
	for i := range r.Fields {
		if len(r.Fields[i].Shape) > 0 {
			shapes = append(shapes, r.Fields[i].Shape)
		}
	}
	s, err := job.Shade(ctx, h, shapes, faults)
	if s == nil && err == nil {
		faults.Notice(diag.Fault{File: elevation, Kind: "shading", What: "it holds no heights on the ground of these fields", Fix: "the maps have no shading; give a raster of this place"})
	}
	return s, err
}

// shader returns how the page gets the relief of a run; nil without an elevation raster. What cannot be opened is told
// before anything listens.
func (f *viewFlags) shader() (web.Shader, error) {
	o := &opened{}
	defer o.close()
	// Opened once only to see that it can be: the faults of this try are dropped, since each shading opens the raster anew and tells them
	// itself.
	if h, err := o.openElevation(&f.screenFlags, &diag.List{}); err != nil || h == nil {
		return nil, err
	}
	return func(ctx context.Context, r *suitability.Result, faults *diag.List) (*job.Shading, error) {
		return openShading(ctx, f.elevation, f.elevationUnit, r, faults)
	}, nil
}
