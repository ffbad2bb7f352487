package main

import (
	"fmt"
	"os"
	"slices"
	"strings"

	"github.com/paulmach/orb"
	"github.com/paulmach/orb/planar"

	"rootworthy/export/grower"
	"rootworthy/internal/diag"
	"rootworthy/soils/lab"
	"rootworthy/soils/nutrient"
	"rootworthy/soils/unit"
	"rootworthy/suitability"
	"rootworthy/suitability/nutrientplan"
	"rootworthy/suitability/season"
	"rootworthy/suitability/soiltest"
)

// nutrients makes the fertilizer plan of all ground with a calendar. Samples are placed on the whole run, of which the plan may be a part.
func (f *planFlags) nutrients(farm *grower.Farm, whole *suitability.Result, faults *diag.List) error {
	o := nutrientplan.Options{SeedTreated: farm.Tag != nil && farm.Tag.Molybdenum}
	if farm.Tag != nil {
		o.Seed = farm.Seed.Bare // without a tag nobody knows how much seed that is
	}
	if f.yield != 0 {
		o.Yield = unit.Some(unit.ShortTonsPerAcre(f.yield))
	}
	for _, product := range f.fertilizer {
		p, err := nutrientplan.ParseProduct(product)
		if err != nil {
			return usagef("--fertilizer: %v", err)
		}
		o.Products = append(o.Products, p)
	}
	if err := o.Check(); err != nil {
		return usagef("%v", err)
	}
	if farm.Table == nil { // else the calendar asked for it already
		var err error
		if farm.Table, err = f.chooseTable(farm); err != nil {
			return err
		}
	}
	o.Table = farm.Table
	for _, t := range nutrient.Tables() {
		if len(t.Holds) > 0 {
			// A level that a source says to hold is a guide and no rate, so it is told beside the rates whatever state they are of.
			o.Levels = append(o.Levels, t)
		}
	}
	zones, err := f.nutrientZones(farm, whole, faults)
	if err != nil {
		return err
	}
	farm.Yield, farm.Nutrients = o.Yield, nutrientplan.Make(zones, o)
	return nil
}

// chooseTable finds the table of rates: by name, or that of the run's state and the region when there is one alone.
// It is nil, and no error, where none or several can be meant: the plan then tells what was found without a rate.
func (f *planFlags) chooseTable(farm *grower.Farm) (*nutrient.Table, error) {
	if f.table != "" {
		t, ok := nutrient.TableByName(f.table)
		if !ok {
			var names []string
			for _, t := range nutrient.Tables() {
				names = append(names, t.Name)
			}
			return nil, usagef("--nutrient-table: there is no table %q%s", f.table, nearest(f.table, names))
		}
		return t, nil
	}
	// Rates of another region of the state would look just as sure; so one table is taken by itself only where it is the only one that can be
	// meant.
	var fit []*nutrient.Table
	for _, t := range nutrient.TablesOf(farm.Run.Provenance.Option("state")) {
		if len(t.Rates)+len(t.Ratings) > 0 && (t.Region == "" || strings.EqualFold(t.Region, farm.Region.Region) ||
			// Tables name their regions by the state's own words; the piedmont is one of several in such a name.
			farm.Region.Region == "piedmont" && strings.Contains(strings.ToLower(t.Region), "piedmont")) {
			fit = append(fit, t)
		}
	}
	if len(fit) == 1 {
		return fit[0], nil
	}
	return nil, nil
}

// potashOf is how the table parts a year's potash on a standing crop; the zero value where it does not say.
func potashOf(t *nutrient.Table) (p season.PotashPlan) {
	if t == nil {
		return p
	}
	var parts []nutrient.Part
	for _, s := range t.Splits {
		if s.Nutrient == nutrient.Potassium && s.Stage == nutrient.Maintain {
			parts = append(parts, s.Parts...)
		}
	}
	for _, x := range t.Extra {
		if x.Nutrient == nutrient.Potassium && x.Stage == nutrient.Maintain {
			parts = append(parts, x.Parts...)
		}
	}
	// When is asked for, not how much: amounts follow from the tests, zone by zone.
	for _, part := range parts {
		if !slices.Contains(p.When, part.When) {
			p.When = append(p.When, part.When)
		}
	}
	p.Source, p.Status = t.Source, suitability.Published
	// Where the table itself was not read, its source does not make the split published.
	if t.Seen != nutrient.Read {
		p.Status = suitability.Memory
	}
	return p
}

// nutrientZones are the zones with a calendar and the tests that speak for their topsoil.
func (f *planFlags) nutrientZones(farm *grower.Farm, whole *suitability.Result, faults *diag.List) ([]nutrientplan.Zone, error) {
	samples, printed, err := f.openSamples(faults)
	if err != nil {
		return nil, err
	}
	farm.Tested = len(samples) > 0
	if farm.Tested && !slices.ContainsFunc(whole.Zones, func(z suitability.Zone) bool { return z.Rating.Tested.Any() }) {
		faults.Notice(diag.Fault{File: baseName(f.tests.tests[0]), Kind: "run without tests", What: "the run was rated and limed without these tests, so they set nutrients alone",
			Fix: "run screen again with --tests, so that lime rests on them too"})
	}
	places := lab.Locate(samples, groundOf(whole), faults)
	voices := soiltest.Sort(samples, places)
	surface, _ := soiltest.Windows(farm.Run.Profile)
	var out []nutrientplan.Zone
	for _, z := range farm.Zones {
		// A zone without a calendar has a reason for it, and is not fertilized for a stand.
		if z.Why != "" {
			continue
		}
		n := nutrientplan.Zone{ID: z.ID, FieldID: z.FieldID, Area: z.Area, Class: z.Rating.Class, Lime: z.Lime.Passes > 0}
		// On a standing crop tables have other rates than before seeding.
		if z.Sown() {
			n.Stage = nutrient.Maintain
		}
		n.Hear(voices.For(z.ID, z.FieldID, surface), printed, farm.Date)
		out = append(out, n)
	}
	tellDeep(farm.Run, samples, places, faults)
	return out, nil
}

// tellDeep tells of bags with figures of nutrients that say nothing of the topsoil: the tables rate that alone.
// A bag of a field that the plan is not about is no matter here, and one without a place was told of already.
func tellDeep(r *suitability.Result, samples []lab.Sample, places []lab.Located, faults *diag.List) {
	surface, _ := soiltest.Windows(r.Profile)
	for i := range samples {
		if places[i].Basis == lab.NotPlaced || places[i].Field != "" && !slices.ContainsFunc(r.Fields, func(f suitability.Field) bool { return f.ID == places[i].Field }) {
			continue
		}
		if s := &samples[i]; len(s.Nutrients) > 0 && !soiltest.Bears(s, surface) {
			faults.Notice(diag.Fault{File: s.File, Line: s.Line, Feature: s.ID, Ground: places[i].Field, Field: "depth", Kind: "not of the topsoil", What: "the bag was not dug mostly in the topsoil, so no nutrient is rated by it",
				Fix: fmt.Sprintf("for nutrients give bags of 0 to %.0f in", surface.To.Inches())})
		}
	}
}

// openSamples reads the laboratory's files and what it printed beside its figures.
// The printed report is nil without --lab-report. Lines in it about samples that no file has are told.
func (f *planFlags) openSamples(faults *diag.List) (samples []lab.Sample, printed *nutrientplan.Report, err error) {
	var g given
	mapping, err := f.tests.openMapping(&g, faults)
	if err != nil {
		return nil, nil, err
	}
	for _, path := range f.tests.tests {
		r, err := g.read(path, mapping, faults)
		if err != nil {
			return nil, nil, err
		}
		samples = append(samples, r.Samples...)
	}
	if f.labReport == "" {
		return samples, nil, nil
	}
	file, err := os.Open(f.labReport)
	if err != nil {
		return nil, nil, err
	}
	defer file.Close()
	printed, err = nutrientplan.ReadReport(baseName(f.labReport), file, faults)
	if err == nil {
		printed.Strangers(baseName(f.labReport), samples, faults)
	}
	return samples, printed, err
}

// groundOf answers where a sample lies, by the zones of the run as they were written. On a shared line the first zone counts.
func groundOf(r *suitability.Result) lab.Ground {
	// Boxes are asked first: a bag lies in one zone of thousands, and the exact test costs as much as the zone has corners.
	boxes := make([]orb.Bound, len(r.Zones))
	for i := range r.Zones {
		boxes[i] = r.Zones[i].Shape.Bound()
	}
	fieldAt := func(id string) bool {
		return slices.ContainsFunc(r.Fields, func(f suitability.Field) bool { return f.ID == id })
	}
	var names [][2]string
	for i := range r.Fields {
		names = append(names, [2]string{r.Fields[i].ID, r.Fields[i].Name})
	}
	return lab.Ground{
		FieldsNamed: lab.FieldsNamed(names),
		At: func(p orb.Point) (field, zone string, ok bool) {
			for i := range r.Zones {
				if boxes[i].Contains(p) && planar.MultiPolygonContains(r.Zones[i].Shape, p) {
					return r.Zones[i].FieldID, r.Zones[i].ID, true
				}
			}
			// Ground of the field in no zone: there the survey has a gap. The bag still belongs to the field.
			for i := range r.Fields {
				if planar.MultiPolygonContains(r.Fields[i].Shape, p) {
					return r.Fields[i].ID, "", true
				}
			}
			return "", "", false
		},
		HasField: fieldAt,
		FieldOfZone: func(id string) (string, bool) {
			for i := range r.Zones {
				if r.Zones[i].ID == id {
					return r.Zones[i].FieldID, true
				}
			}
			return "", false
		},
		ZonesOfUnit: func(mapUnit, field string) []string {
			var out []string
			for i := range r.Zones {
				if z := &r.Zones[i]; z.MapUnitKey == mapUnit && (field == "" || field == z.FieldID) {
					out = append(out, z.ID)
				}
			}
			return out
		},
	}
}
