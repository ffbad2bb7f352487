package managementzone

import (
	"cmp"
	"math"
	"slices"

	"rootworthy/raster"
)

// label gives units the label of the class that their mean lies in.
func (b *blocks) label(ends []float64) {
	for i := range b.units {
		// an end belongs to the class below it, as part counts it
		at, _ := slices.BinarySearch(ends, b.units[i].mean())
		b.units[i].label = int32(at) + 1
	}
}

// patch is units of one label that hang together.
type patch struct {
	units []int32
	sum   float64
	cells int
}

// clean lets patches under a number of cells go to the touching one whose mean is nearest, the smallest first, until none is left
// that can.
func (b *blocks) clean(least float64) {
	for {
		patches, of := b.patches()
		order := make([]int, len(patches))
		for i := range order {
			order[i] = i
		}
		// The smallest first, since it has the least say; of equal ones the first by place.
		slices.SortStableFunc(order, func(i, j int) int { return cmp.Compare(patches[i].cells, patches[j].cells) })
		changed := false
		moved := make([]bool, len(patches)) // a patch that grew in this sweep is looked at in the next
		for _, i := range order {
			p := &patches[i]
			// all that follow are larger
			if float64(p.cells) >= least {
				break
			}
			to := b.likest(p, patches, of)
			// Both sides of a move have a mean now that their record does not show, so neither is used again before it
			// is made new.
			if to < 0 || moved[i] || moved[to] {
				continue
			}
			label := b.units[patches[to].units[0]].label
			for _, u := range p.units {
				b.units[u].label = label
			}
			moved[i], moved[to], changed = true, true, true
		}
		if !changed {
			return
		}
	}
}

// patches finds the patches, and the one of each unit.
func (b *blocks) patches() (patches []patch, of []int32) {
	of = make([]int32, len(b.units))
	for i := range of {
		of[i] = -1
	}
	for i := range b.units {
		if of[i] >= 0 {
			continue
		}
		p := patch{units: []int32{int32(i)}}
		of[i] = int32(len(patches))
		for k := 0; k < len(p.units); k++ {
			u := &b.units[p.units[k]]
			p.sum += u.sum
			p.cells += u.cells
			for _, v := range u.next {
				// by labels and not by means: two patches of one class that touch are one
				if of[v] < 0 && b.units[v].label == u.label {
					of[v] = of[i]
					p.units = append(p.units, v)
				}
			}
		}
		patches = append(patches, p)
	}
	return patches, of
}

// likest returns the touching patch whose mean is nearest, -1 when none touches.
func (b *blocks) likest(p *patch, patches []patch, of []int32) int {
	best, least := -1, math.Inf(1)
	for _, u := range p.units {
		for _, v := range b.units[u].next {
			q := int(of[v])
			if q == int(of[u]) {
				continue
			}
			d := math.Abs(p.sum/float64(p.cells) - patches[q].sum/float64(patches[q].cells))
			if d < least || d == least && q < best {
				best, least = q, d
			}
		}
	}
	return best
}

// join makes one zone of two whose means lie nearer than a step, the nearest pair first, and numbers zones by their mean.
func (b *blocks) join(step float64) {
	for {
		zones := b.means()
		// Zones stand by their means, so only neighbours in the list can be the nearest pair.
		near := -1
		for i := 1; i < len(zones); i++ {
			if d := zones[i].mean() - zones[i-1].mean(); d < step && (near < 0 || d < zones[near].mean()-zones[near-1].mean()) {
				near = i
			}
		}
		for i := range b.units {
			at := slices.IndexFunc(zones, func(z unit) bool { return z.label == b.units[i].label })
			// the upper of the pair takes the number of the lower, and all above move down
			if near >= 0 && at >= near {
				at--
			}
			b.units[i].label = int32(at) + 1
		}
		if near < 0 {
			return
		}
	}
}

// means returns the sum of each label, lowest mean first.
func (b *blocks) means() []unit {
	var zones []unit
	for _, u := range b.units {
		i := slices.IndexFunc(zones, func(z unit) bool { return z.label == u.label })
		if i < 0 {
			i = len(zones)
			zones = append(zones, unit{label: u.label})
		}
		zones[i].sum += u.sum
		zones[i].cells += u.cells
	}
	slices.SortFunc(zones, func(a, b unit) int { return cmp.Or(cmp.Compare(a.mean(), b.mean()), cmp.Compare(a.label, b.label)) })
	return zones
}

// split writes the labels into cells and describes the zones.
func (b *blocks) split(g *raster.Grid[float64]) (*Split, error) {
	f := g.Frame()
	labels, err := raster.New[int32](f)
	if err != nil {
		return nil, err
	}
	s := &Split{Labels: labels, Width: b.least, Explained: 1}
	for i, z := range b.means() {
		s.Zones = append(s.Zones, Zone{Label: int32(i) + 1, Mean: z.mean(), Least: math.Inf(1), Most: math.Inf(-1),
			Cells: z.cells, Area: float64(z.cells) * f.DX * f.DY})
	}
	// the mean of all cells, from the zones: they hold every cell once
	total, cells := 0.0, 0
	for _, z := range s.Zones {
		total, cells = total+z.Mean*float64(z.Cells), cells+z.Cells
	}
	mean, all, within := total/math.Max(1, float64(cells)), 0.0, 0.0
	for row := range f.Rows {
		for col := range f.Cols {
			v, ok := g.At(col, row)
			if !ok {
				continue
			}
			// a cell with a value lies in a block that has a unit; join has numbered labels by the order of means
			z := &s.Zones[b.units[b.of[b.block(col, row)]].label-1]
			labels.Set(col, row, z.Label)
			z.Least, z.Most = math.Min(z.Least, v), math.Max(z.Most, v)
			all += (v - mean) * (v - mean)
			within += (v - z.Mean) * (v - z.Mean)
		}
	}
	if all > 0 {
		s.Explained = math.Max(0, 1-within/all)
	}
	return s, nil
}
