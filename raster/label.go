package raster

import "context"

// labels numbers the patches of a grid: cells of one key that hang together by their sides. Patches are numbered from 1 in
// the order of their first cell by rows; 0 is a missing cell.
type labels struct {
	cols, rows int
	of         []int32 // by rows
	n          int32   // patches
}

// at returns the number of the patch that holds a cell; 0 outside the grid.
func (l *labels) at(col, row int) int32 {
	// below zero becomes very large: one comparison for both ends
	if uint(col) >= uint(l.cols) || uint(row) >= uint(l.rows) {
		return 0
	}
	return l.of[row*l.cols+col]
}

// label numbers the patches in two sweeps: the first gives numbers and notes which turn out to be one patch, the second
// replaces them.
func label[K Integer](ctx context.Context, g *Grid[K]) (*labels, error) {
	l := &labels{cols: g.frame.Cols, rows: g.frame.Rows, of: make([]int32, len(g.cells))}
	// by number; 0 stands for missing cells and is nobody's
	same := []int32{0} // a smaller number of the same patch, or itself
	for row := range l.rows {
		if err := ctx.Err(); err != nil {
			return nil, context.Cause(ctx)
		}
		same = labelRow(g, l, row, same)
	}
	renumber := make([]int32, len(same))
	for i := int32(1); int(i) < len(same); i++ {
		// In rising order, so that patches are numbered by their first cells.
		if same[i] == i {
			l.n++
			renumber[i] = l.n
			continue
		}
		renumber[i] = renumber[same[i]] // smaller, so done already
	}
	for i, p := range l.of {
		l.of[i] = renumber[p]
	}
	return l, nil
}

// labelRow gives a row its first numbers.
func labelRow[K Integer](g *Grid[K], l *labels, row int, same []int32) []int32 {
	base := row * l.cols
	for i := base; i < base+l.cols; i++ {
		if g.gone != nil && g.gone[i] {
			continue
		}
		var west, north int32
		// a missing cell has 0 as its key as well, hence the look at its number
		if i > base && l.of[i-1] != 0 && g.cells[i-1] == g.cells[i] {
			west = l.of[i-1]
		}
		if row > 0 && l.of[i-l.cols] != 0 && g.cells[i-l.cols] == g.cells[i] {
			north = l.of[i-l.cols]
		}
		switch {
		case west == 0 && north == 0:
			l.of[i] = int32(len(same))
			same = append(same, l.of[i])
		case north == 0 || north == west:
			l.of[i] = west
		case west == 0:
			l.of[i] = north
		default:
			// Two patches so far turn out to be one.
			l.of[i] = join(same, west, north)
		}
	}
	return same
}

// join makes two numbers one patch and returns the smaller of their roots.
func join(same []int32, a, b int32) int32 {
	a, b = root(same, a), root(same, b)
	if a > b {
		a, b = b, a
	}
	same[b] = a
	return a
}

// root returns the smallest number known of a patch, and shortens the way to it.
func root(same []int32, a int32) int32 {
	for same[a] != a {
		// the next walk takes half the steps
		same[a] = same[same[a]]
		a = same[a]
	}
	return a
}
