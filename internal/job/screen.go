package job

import (
	"context"
	"slices"
	"sync"

	"github.com/paulmach/orb"

	"rootworthy/internal/diag"
	"rootworthy/internal/field"
	"rootworthy/internal/geo/overlay"
	"rootworthy/internal/geo/proj"
	"rootworthy/soils"
	"rootworthy/suitability"
	"rootworthy/suitability/limeplan"
)

// Survey is what the job needs of an opened soil survey.
type Survey interface {
	// Survey returns the attribute side.
	Survey() *soils.Survey
	// Polygons calls emit for every map unit polygon (longitude, latitude) in any order.
	Polygons(ctx context.Context, emit func(area, key string, shape orb.MultiPolygon) error) error
}

// Options tunes Screen; the zero value of a field means what its comment says.
type Options struct {
	Profile  *suitability.Profile // nil means the default crop profile
	Target   suitability.Target   // surface pH to lime to; the zero value means the profile's default
	Lime     limeplan.Options     // see there
	Tests    *Tests               // laboratory samples; nil means the survey alone
	Heights  *Heights             // elevation raster; nil means the survey's slopes
	Workers  int                  // goroutines; 0 means one per CPU
	Progress Progress             // nil means silent
}

// Progress is told how far a stage has come; total is 0 when it is not known. It is never called concurrently.
type Progress func(stage string, done, total int)

// Screen cuts the fields into zones by the survey, rates each zone and plans its lime. Faults and notices about fields
// go to faults. The error is that of the context or of a survey that cannot be read.
func Screen(ctx context.Context, fields []field.Field, survey Survey, opt Options, faults *diag.List) (*suitability.Result, error) {
	s := begin(fields, survey.Survey(), opt, faults)
	// By the fields and not by the survey, so that a farm has the same areas whichever surveys it is cut with.
	s.plane = proj.PlaneFor(boundOf(fields))
	if err := s.lay(ctx, survey); err != nil {
		return nil, err
	}
	return s.run(ctx)
}

// begin fills in what the options left out.
func begin(fields []field.Field, survey *soils.Survey, opt Options, faults *diag.List) *screening {
	if opt.Profile == nil {
		opt.Profile = suitability.DefaultProfile()
	}
	if opt.Progress == nil {
		opt.Progress = func(string, int, int) {}
	}
	// a list of its own, so that shapes can be let go one by one as their fields are done, whoever else holds the fields
	return &screening{opt: opt, fields: slices.Clone(fields), faults: faults, survey: survey, units: newUnits(survey, opt.Profile, opt.Target)}
}

// run does all that comes after the survey's map is laid.
func (s *screening) run(ctx context.Context) (*suitability.Result, error) {
	var err error
	s.tellSouthern()
	if err := s.prepareSplit(); err != nil {
		return nil, err
	}
	if s.relief, err = newRelief(s.opt.Heights, s.faults); err != nil {
		return nil, err
	}
	if err := s.cut(ctx); err != nil {
		return nil, err
	}
	// After the cut, when it is known of how many zones the slope was measured.
	s.relief.tell()
	s.tellUndescribed()
	// Zones are rated by the survey first and by the tests again, so that zones without samples cannot differ from a run
	// without tests.
	if err := s.applyTests(ctx); err != nil {
		return nil, err
	}
	// Ratings look units up where no error can be returned; the first is kept and ends the job here.
	if err := s.units.failing.Load(); err != nil {
		return nil, *err
	}
	return s.result(), nil
}

// screening is one run of Screen.
type screening struct {
	opt    Options
	fields []field.Field
	faults *diag.List
	survey *soils.Survey
	units  *units
	plane  proj.Plane
	ground *overlay.Coverage
	relief *relief    // nil without heights
	keys   []uint32   // unit number of each polygon of ground
	done   []finished // one a field, in order

	topsoil   []spot                // where topsoil was dug, of the plane; filled only for a split
	surfaces  []suitability.Surface // through sampled points, by field
	displaced sync.Map              // field number → error: fields that have no place in the plane
}

// boundOf returns the box around all usable fields.
func boundOf(fields []field.Field) orb.Bound {
	var b orb.Bound
	first := true
	for _, f := range fields {
		switch {
		// A box of nothing is a box around 0, 0 and would reach from there to the farm.
		case len(f.Shape) == 0:
		case first:
			b, first = f.Shape.Bound(), false
		default:
			b = b.Union(f.Shape.Bound())
		}
	}
	return b
}

// result puts the finished fields together; zone indexes are by field.
func (s *screening) result() *suitability.Result {
	r := &suitability.Result{Profile: s.opt.Profile}
	zones := 0
	for _, d := range s.done {
		zones += len(d.zones)
	}
	r.Fields, r.Zones = make([]suitability.Field, 0, len(s.done)), make([]suitability.Zone, 0, zones) // grown, they would be there twice
	for n := range s.done {
		d := &s.done[n]
		if len(d.zones) > 0 {
			d.field.Zones = make([]int, len(d.zones))
		}
		for i := range d.zones {
			d.field.Zones[i] = len(r.Zones) + i
		}
		r.Fields = append(r.Fields, d.field)
		r.Zones = append(r.Zones, d.zones...)
		*d = finished{} // may be let go while the rest is put together
	}
	// All that was opened, met or not: who repeats the run needs the same.
	for _, a := range s.survey.Areas {
		r.Provenance.Surveys = append(r.Provenance.Surveys, suitability.SurveyArea(a))
	}
	r.Provenance.Surfaces = s.surfaces
	r.Provenance.Plane = s.plane.String()
	return r
}
