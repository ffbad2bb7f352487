package taskdata

import (
	"context"
	"math"
	"slices"

	"github.com/paulmach/orb"

	"rootworthy/export"
	"rootworthy/soils/unit"
	"rootworthy/suitability"
	"rootworthy/suitability/limeplan"
)

// Comparison sets what was put on, or would be, against the plan of a run.
type Comparison struct {
	Zones       []ZoneDifference // in the order of the run's files
	OutsideMass unit.Mass        // what went on ground of no zone
	OutsideArea unit.Area
	surfaces    []Surface
	shapes      []orb.MultiPolygon
	planned     []int32 // mg/m² of each zone
	index       *boxes
}

// ZoneDifference is one zone of the run.
type ZoneDifference struct {
	ZoneID, FieldID, FieldName string
	Area, Recorded             unit.Area     // of the zone; of the cells of it that something is known of
	Plan                       unit.AreaRate // in this pass; 0 for none
	Planned                    unit.Mass     // over the zone
	Applied                    unit.Mass     // over the recorded cells
	Over, Under                unit.Mass     // what recorded cells got too much, and too little
}

// Mean is the mean rate over the recorded cells; ok is false when there are none.
func (z ZoneDifference) Mean() (rate unit.AreaRate, ok bool) {
	if z.Recorded <= 0 {
		return 0, false
	}
	return unit.AreaRate(z.Applied / unit.Mass(z.Recorded)), true
}

// Compare adds up surfaces by the zones of a run. Pass counts from 1; [AllPasses] compares with the whole plan. A cell
// belongs to the zone at its middle.
func Compare(ctx context.Context, r *suitability.Result, pass int, surfaces []Surface) (*Comparison, error) {
	c := &Comparison{surfaces: surfaces}
	cap := limeplan.CapOf(r)
	for _, z := range export.Zones(r) {
		d := ZoneDifference{ZoneID: z.ID, FieldID: z.FieldID, FieldName: z.FieldName, Area: z.Area}
		if product, ok := z.Lime.Product.Get(); ok {
			d.Plan = inPass(product, z.Lime.Passes, cap, pass)
		}
		d.Planned = d.Plan.Over(d.Area)
		c.Zones = append(c.Zones, d)
		c.shapes = append(c.shapes, export.Tidy(z.Shape))
		// Kept in the files' whole mg/m² beside the exact plan, so that a cell that holds the plan as written is as planned.
		c.planned = append(c.planned, milligrams(d.Plan))
	}
	c.index = newBoxes(c.shapes)
	for _, s := range surfaces {
		if err := c.add(ctx, s); err != nil {
			return nil, err
		}
	}
	return c, nil
}

// cover is a surface with the zones that it meets.
type cover struct {
	frame Frame
	zones []int // of the comparison
	scan  *scan
	on    []int32
}

// coverOf finds the few zones under a surface, so that a log of one field is not held against a whole county.
// The numbers that its scan gives are places in its list of zones, not in the comparison's.
func (c *Comparison) coverOf(s Surface) *cover {
	f := s.Frame()
	v := &cover{frame: f, zones: c.index.meeting(f.bound()), on: make([]int32, f.Columns)}
	shapes := make([]orb.MultiPolygon, len(v.zones))
	for i, z := range v.zones {
		shapes[i] = c.shapes[z]
	}
	v.scan = newScan(f, shapes)
	return v
}

// bound is the box of a frame.
func (f Frame) bound() orb.Bound {
	return orb.Bound{Min: orb.Point{float64(f.West) / nano, float64(f.South) / nano},
		Max: orb.Point{float64(f.West+int64(f.Columns)*f.East) / nano, float64(f.South+int64(f.Rows)*f.North) / nano}}
}

// add adds up one surface.
func (c *Comparison) add(ctx context.Context, s Surface) error {
	v := c.coverOf(s)
	return s.Each(func(row int, milligrams []int32) error {
		if ctx.Err() != nil {
			return context.Cause(ctx)
		}
		v.scan.row(row, v.on)
		cell := unit.Area(v.frame.CellArea(row))
		for x, mg := range milligrams {
			switch {
			case mg == NoRecord:
			// Lime beside the field is told by itself: it is neither too much nor too little of any zone.
			case v.on[x] < 0:
				c.OutsideMass += rateOf(mg).Over(cell)
				if mg > 0 {
					c.OutsideArea += cell
				}
			default:
				c.Zones[v.zones[v.on[x]]].record(mg, c.planned[v.zones[v.on[x]]], cell)
			}
		}
		return nil
	})
}

// record adds a cell to its zone.
func (z *ZoneDifference) record(got, planned int32, cell unit.Area) {
	z.Recorded += cell
	z.Applied += rateOf(got).Over(cell)
	// Cell by cell: too much here and too little there do not make up for each other.
	switch off := rateOf(got - planned).Over(cell); {
	case off > 0:
		z.Over += off
	default:
		z.Under -= off
	}
}

// Unknown is what is planned on the ground of which nothing is known. Cells on the edge may sum to a little more than
// the zone; then it is nothing.
func (z ZoneDifference) Unknown() unit.Mass { return z.Plan.Over(max(0, z.Area-z.Recorded)) }

// Concerned says whether a zone has a plan or got something.
func (z ZoneDifference) Concerned() bool { return z.Planned > 0 || z.Applied > 0 }

// Sum adds up the zones that are concerned; its names are empty, and Plan is the mean.
func (c *Comparison) Sum() (sum ZoneDifference) {
	for _, z := range c.Zones {
		if !z.Concerned() {
			continue
		}
		sum.Area += z.Area
		sum.Recorded += z.Recorded
		sum.Planned += z.Planned
		sum.Applied += z.Applied
		sum.Over += z.Over
		sum.Under += z.Under
	}
	if sum.Area > 0 {
		sum.Plan = unit.AreaRate(sum.Planned / unit.Mass(sum.Area))
	}
	return sum
}

// boxes finds which zones a box meets: zones sorted by their western edge, and the widest of them to bound the search.
type boxes struct {
	order  []int
	bounds []orb.Bound
	widest float64
}

// newBoxes leaves out shapes without ground: they meet nothing.
func newBoxes(shapes []orb.MultiPolygon) *boxes {
	b := &boxes{bounds: make([]orb.Bound, len(shapes))}
	for i, s := range shapes {
		if len(s) == 0 {
			continue
		}
		b.bounds[i] = s.Bound()
		b.order = append(b.order, i)
		b.widest = max(b.widest, b.bounds[i].Max[0]-b.bounds[i].Min[0])
	}
	slices.SortStableFunc(b.order, func(i, j int) int { return compareFloat(b.bounds[i].Min[0], b.bounds[j].Min[0]) })
	return b
}

// compareFloat orders edges of boxes, which are never NaN.
func compareFloat(a, b float64) int {
	switch {
	case a < b:
		return -1
	case a > b:
		return 1
	}
	return 0
}

// meeting returns the zones whose boxes meet a box, in their own order.
func (b *boxes) meeting(box orb.Bound) []int {
	// No zone that begins further west than the widest one is wide can reach the box. The next float below keeps one that just touches it.
	from, _ := slices.BinarySearchFunc(b.order, math.Nextafter(box.Min[0]-b.widest, math.Inf(-1)), func(i int, x float64) int { return compareFloat(b.bounds[i].Min[0], x) })
	var out []int
	for _, i := range b.order[from:] {
		if b.bounds[i].Min[0] > box.Max[0] {
			break
		}
		if b.bounds[i].Intersects(box) {
			out = append(out, i)
		}
	}
	slices.Sort(out)
	return out
}
