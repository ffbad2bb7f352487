package taskdata

import "rootworthy/soils/unit"

// cells hands out the rates of a task's cells row by row, from south to north.
type cells struct {
	task  *Task
	scan  *scan
	on    []int32 // ground of each cell
	rates []int32 // mg/m² of each cell
}

// newCells starts at the southern row. The headland is treated when it has been laid.
func (t *Task) newCells() *cells {
	return &cells{t, newScan(t.Frame, t.shapes()), make([]int32, t.Frame.Columns), make([]int32, t.Frame.Columns)}
}

// row returns the rates of a row; the slice is used again for the next one.
func (c *cells) row(row int) []int32 {
	c.scan.row(row, c.on)
	h := c.task.headland
	for i, g := range c.on {
		switch {
		// Outside every ground nothing is put on, even within the strip: nobody said that it may be limed.
		case g < 0:
			c.rates[i] = 0
		case h != nil && h.has(row, i) && !c.task.grounds[g].barred:
			c.rates[i] = h.rate
		default:
			c.rates[i] = c.task.grounds[g].rate
		}
	}
	return c.rates
}

// mass adds up what the cells put on.
// Whole milligrams are added up within a row, where all cells have one area, so the sum does not depend on the order of floating-point
// terms.
func (t *Task) mass() (sum unit.Mass) {
	c := t.newCells()
	for row := range t.Frame.Rows {
		var milligrams int64
		for _, r := range c.row(row) {
			milligrams += int64(r)
		}
		sum += unit.Mass(float64(milligrams) * t.Frame.CellArea(row) / 1e6)
	}
	return sum
}
