package raster

import "fmt"

// Halve returns the grid on cells twice as wide and high, for an overview: each new cell has four old ones under it, fewer
// at the east and south edge of a grid of odd size. Nearest takes the north-western of them, with or without a value;
// Average the mean of those that have one, and is for floats only.
func Halve[T Number](g *Grid[T], m Method) (*Grid[T], error) {
	// Bilinear is refused because halfway between four middles it is their average, which has a name of its own.
	if m != Nearest && (m != Average || !mixes[T]()) {
		return nil, fmt.Errorf("an overview is made by nearest, or from floats by average; %v does not fit", m)
	}
	f := g.frame
	// an odd last column becomes one that reaches past the old edge
	f.Cols, f.Rows, f.DX, f.DY = (f.Cols+1)/2, (f.Rows+1)/2, 2*f.DX, 2*f.DY
	out, err := New[T](f)
	if err != nil {
		return nil, err
	}
	for row := range f.Rows {
		for col := range f.Cols {
			if m == Nearest {
				if v, ok := g.At(2*col, 2*row); ok {
					out.Set(col, row, v)
				}
				continue
			}
			// Cells weigh alike, and so a mean of means further up leans towards the cells beside missing ones.
			sum, n := 0.0, 0.0
			for r := 2 * row; r < min(2*row+2, g.frame.Rows); r++ {
				for c := 2 * col; c < min(2*col+2, g.frame.Cols); c++ {
					if v, ok := g.At(c, r); ok {
						sum += float64(v)
						n++
					}
				}
			}
			if n > 0 {
				out.Set(col, row, T(sum/n))
			}
		}
	}
	return out, nil
}
