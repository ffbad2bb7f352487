package arrange

import "rootworthy/internal/geo"

// Dissolve returns the union of parts that mostly lie side by side or apart, as the pieces of one map unit do. Parts
// whose boxes meet no other are taken as they are if they are valid; of the rest, edges that two parts share bit for
// bit cancel, and noding is done only if something still crosses then.
func Dissolve(parts []Polygon) []Polygon {
	boxes := make([]geo.Box, len(parts))
	for i, p := range parts {
		boxes[i] = boxOfPart(p)
	}
	tree := newBoxTree(boxes)
	var alone, rest []Polygon
	var near []int32
	for i, p := range parts {
		near = tree.find(boxes[i], near[:0])
		if len(near) < 2 { // itself and no other
			if whole, ok := asTheyAre(p, Valid); ok {
				alone = append(alone, whole...)
				continue
			}
		}
		rest = append(rest, p)
	}
	if len(rest) > 0 {
		alone = append(alone, Union(rest)...)
	}
	canonical(alone)
	return alone
}

// boxOfPart returns the box of a part.
func boxOfPart(p Polygon) geo.Box {
	b := geo.NoBox()
	for _, r := range p {
		for _, q := range r {
			b.Grow(boxOf(q, q))
		}
	}
	return b
}
