package geo

// Box is an upright rectangle in grid units, its edges included.
type Box struct{ X0, Y0, X1, Y1 int64 }

// Meets says whether a and b have a point in common, be it a corner: no side of one lies beyond the other. The four
// differences are gathered by their sign bits, as one branch that is easy to foresee costs less than four that are not.
func (a *Box) Meets(b *Box) bool {
	return (b.X1-a.X0)|(a.X1-b.X0)|(b.Y1-a.Y0)|(a.Y1-b.Y0) >= 0
}

// Holds says whether p lies in the box or on its edge.
func (a *Box) Holds(p Pt) bool { return a.X0 <= p.X && p.X <= a.X1 && a.Y0 <= p.Y && p.Y <= a.Y1 }

// Grow makes the box hold b too.
func (a *Box) Grow(b Box) {
	a.X0, a.Y0, a.X1, a.Y1 = min(a.X0, b.X0), min(a.Y0, b.Y0), max(a.X1, b.X1), max(a.Y1, b.Y1)
}

// NoBox returns the box that holds nothing: growing it by b gives b.
func NoBox() Box {
	const far = 1 << 62
	return Box{far, far, -far, -far}
}
