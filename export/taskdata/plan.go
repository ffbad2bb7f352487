package taskdata

import (
	"context"
	"fmt"
	"slices"
	"strings"

	"github.com/paulmach/orb"

	"rootworthy/export"
	"rootworthy/soils/unit"
	"rootworthy/suitability"
	"rootworthy/suitability/limeplan"
)

// Plan is what one file tells a spreader to do. Get one by [NewPlan].
type Plan struct {
	Tasks   []*Task  // in the order of the run's fields
	Left    []Left   // fields without a task, and why
	Notes   []string // what the user must know of how the plan differs from the run, a sentence each
	Passes  int      // most yearly passes that any ground needs
	Date    string   // the run's date; "" when it has none
	options Options
}

// Left is a field that gets no task.
type Left struct{ FieldID, FieldName, Why string }

// Task is what is spread on one field, or on one farm.
type Task struct {
	Name, Customer, Farm, FieldName string // clean
	FieldIDs                        []string
	Boundary                        orb.MultiPolygon
	Area                            unit.Area
	Planned                         unit.Mass // by the run, this pass
	Set                             unit.Mass // by the polygons, with rates that the spreader can be set to
	Spread                          unit.Mass // by the cells of the file, headland treated; Set where the file holds polygons
	Cells                           unit.Mass // by the cells before the headland was treated
	Frame                           Frame     // no cells for polygons
	grounds                         []ground
	headland                        *strip
}

// ground is a part of the field with one rate: a zone of the run, or what became of it.
type ground struct {
	zone   string
	shape  orb.MultiPolygon
	area   unit.Area
	want   unit.AreaRate // from the run, this pass; 0 for none
	barred bool          // nobody rated it (water, pits, outside the survey): it never gets lime from a neighbour
	rate   int32         // mg/m² as spread
}

// Difference is by how much the cells miss the polygons, as a share of the polygons' lime.
func (t *Task) Difference() float64 { return share(t.Cells, t.Set) }

// share is by how much a mass misses another, as a share of it; of nothing it is nothing.
func share(got, want unit.Mass) float64 {
	if want == 0 {
		return 0
	}
	return float64(got-want) / float64(want)
}

// Planned, Set and Spread of a plan are the sums over its tasks.
func (p *Plan) sum(of func(*Task) unit.Mass) (all unit.Mass) {
	for _, t := range p.Tasks {
		all += of(t)
	}
	return all
}

// Planned returns the lime of this pass by the run.
func (p *Plan) Planned() unit.Mass { return p.sum(func(t *Task) unit.Mass { return t.Planned }) }

// Set returns the lime by the polygons, with rates that the spreader can be set to.
func (p *Plan) Set() unit.Mass { return p.sum(func(t *Task) unit.Mass { return t.Set }) }

// Spread returns the lime that the file puts on.
func (p *Plan) Spread() unit.Mass { return p.sum(func(t *Task) unit.Mass { return t.Spread }) }

// Difference is by how much the cells of all tasks miss the polygons.
func (p *Plan) Difference() float64 {
	return share(p.sum(func(t *Task) unit.Mass { return t.Cells }), p.Set())
}

// NewPlan plans what is spread. The error is an [UntestedError] when rates rest on a survey alone and no reason was
// given to let them through, and tells what to do when cells cannot hold the lime of a field to 1 %.
func NewPlan(ctx context.Context, r *suitability.Result, o Options) (*Plan, error) {
	if err := o.Check(); err != nil {
		return nil, err
	}
	p := &Plan{options: o.filled(), Date: r.Provenance.Date}
	fields, err := chosen(r, o.Fields)
	if err != nil {
		return nil, err
	}
	cap := limeplan.CapOf(r)
	for _, f := range fields {
		p.addField(f, export.ZonesOf(r, f), cap)
	}
	// Before anything is fitted: a plan that may not be spread need not be worked out, and the names below carry the mark.
	if err := p.refuseUntested(r, fields); err != nil {
		return nil, err
	}
	if len(p.Tasks) == 0 {
		return nil, fmt.Errorf("there is nothing to spread%s: %s", p.inPass(), p.whyNothing())
	}
	if p.options.PerFarm {
		p.joinFarms()
	}
	p.nameTasks()
	p.tellRates()
	if err := p.fit(ctx); err != nil {
		return nil, err
	}
	p.tellHeadland()
	return p, nil
}

// chosen returns the fields that were asked for, in the order of the run.
func chosen(r *suitability.Result, ids []string) ([]*suitability.Field, error) {
	var out []*suitability.Field
	found := map[string]bool{}
	for i := range r.Fields {
		f := &r.Fields[i]
		if len(ids) == 0 || slices.Contains(ids, f.ID) {
			out, found[f.ID] = append(out, f), true
		}
	}
	for _, id := range ids {
		if !found[id] {
			return nil, fmt.Errorf("the run has no field %q; fields.csv lists those it has", id)
		}
	}
	return out, nil
}

// addField makes the task of a field, or says why it has none.
func (p *Plan) addField(f *suitability.Field, zones []*suitability.Zone, cap unit.AreaRate) {
	t := &Task{Customer: f.Customer, Farm: f.Farm, FieldName: f.Name, FieldIDs: []string{f.ID}, Boundary: export.Tidy(f.Shape), Area: f.Area}
	figures := false
	for _, z := range zones {
		product, has := z.Lime.Product.Get()
		figures = figures || has
		p.Passes = max(p.Passes, z.Lime.Passes)
		g := ground{zone: z.ID, shape: export.Tidy(z.Shape), area: z.Area, barred: z.Rating.Class == suitability.NotRated}
		if has {
			g.want = inPass(product, z.Lime.Passes, cap, p.options.Pass)
		}
		t.Planned += g.want.Over(g.area)
		// A sliver whose shape fell to nothing has lime in the plan and no ground in the file; it is too small to matter, and both sums tell.
		if len(g.shape) > 0 {
			t.grounds = append(t.grounds, g)
		}
	}
	if t.Planned == 0 || len(t.Boundary) == 0 {
		p.Left = append(p.Left, Left{f.ID, f.Name, whyLeft(f, zones, figures, p.inPass())})
		return
	}
	p.follow(t)
	p.Tasks = append(p.Tasks, t)
}

// LeftLines says on which fields nothing is spread, a line for each reason in the order in which they first come; of
// many fields the first dozen are named.
func (p *Plan) LeftLines() []string {
	var reasons []string
	names := map[string][]string{}
	for _, l := range p.Left {
		if names[l.Why] == nil {
			reasons = append(reasons, l.Why)
		}
		names[l.Why] = append(names[l.Why], firstName(l.FieldName, l.FieldID))
	}
	var out []string
	for _, why := range reasons {
		all := names[why]
		line := strings.Join(all[:min(len(all), mostListed)], ", ")
		if more := len(all) - mostListed; more > 0 {
			line += fmt.Sprintf(" and %d more", more)
		}
		out = append(out, line+": "+why)
	}
	return out
}

// whyLeft says why nothing is spread on a field.
func whyLeft(f *suitability.Field, zones []*suitability.Zone, figures bool, pass string) string {
	switch {
	case f.Trouble != "":
		return f.Trouble
	case len(zones) > 0 && !figures:
		return "no zone has a lime figure"
	}
	return "no zone needs lime" + pass
}

// inPass says which pass is meant where it is not the first.
func (p *Plan) inPass() string {
	if p.options.Pass > 1 {
		return fmt.Sprintf(" in pass %d", p.options.Pass)
	}
	return ""
}

// whyNothing gives the reasons, each once.
func (p *Plan) whyNothing() string {
	var why []string
	for _, l := range p.Left {
		if !slices.Contains(why, l.Why) {
			why = append(why, l.Why)
		}
	}
	if len(why) == 0 {
		return "the run has no fields"
	}
	return strings.Join(why, "; ")
}

// nameTasks makes the names that a terminal lists.
func (p *Plan) nameTasks() {
	var tasks, fields namer
	for _, t := range p.Tasks {
		t.Customer, t.Farm = firstName(t.Customer, p.options.Customer), firstName(t.Farm, p.options.Farm)
		t.FieldName = fields.unique(t.FieldName, t.FieldIDs[0])
		before := "Lime "
		if p.Untested() {
			before = untestedMark + " "
		}
		t.Name = tasks.unique(before + t.FieldName)
	}
}

// joinFarms puts all fields of a customer's farm into one task.
func (p *Plan) joinFarms() {
	type farm struct{ customer, name string }
	first := map[farm]*Task{}
	var out []*Task
	for _, t := range p.Tasks {
		// Farms of one name may belong to two customers.
		key := farm{t.Customer, t.Farm}
		to := first[key]
		if to == nil {
			first[key] = t
			t.FieldName = firstName(t.Farm, p.options.Farm)
			out = append(out, t)
			continue
		}
		to.FieldIDs = append(to.FieldIDs, t.FieldIDs...)
		// Clipped, so that the other field's boundary is not written over.
		to.Boundary = append(slices.Clip(to.Boundary), t.Boundary...)
		to.grounds = append(to.grounds, t.grounds...)
		to.Area, to.Planned, to.Set = to.Area+t.Area, to.Planned+t.Planned, to.Set+t.Set
	}
	// Each field had its rates counted; together they may be more than one task can name.
	for _, t := range out {
		p.coded(t)
	}
	p.Tasks = out
}
