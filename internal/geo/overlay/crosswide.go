package overlay

import (
	"math/big"

	"rootworthy/internal/geo"
)

// findWide is findCrossings for figures wider than 107 km, in 128 bits: every edge against every chunk, plainly. It is
// rarely wanted and may be slow; tests also hold the fast way against it.
func (w *worker) findWide() {
	f, s := &w.field, w.soil.wide
	for _, r := range s.rings {
		for se := r.start; se < r.start+r.n; se++ {
			a, b := s.pts[se], s.pts[se+1]
			box := pointBox([]geo.Pt{a, b})
			if !box.Meets(&f.box) {
				continue
			}
			for fc := range f.boxes {
				if !box.Meets(&f.boxes[fc]) {
					continue
				}
				first := fc << f.shift
				for fe := first; fe < first+int(f.edges[fc]); fe++ {
					w.crossWide(a, b, int(se), fe)
				}
			}
		}
	}
}

// crossWide adds the crossing of the survey edge a→b with field edge fe, if there is one.
func (w *worker) crossWide(a, b geo.Pt, se, fe int) {
	p, q := w.field.pts[fe], w.field.pts[fe+1]
	ql := fieldLeft(a, b, q, true)
	if fieldLeft(a, b, p, true) == ql || soilLeft(p, q, a, true) == soilLeft(p, q, b, true) {
		return
	}
	op, oq := geo.Cross(a, b, p), geo.Cross(a, b, q)
	oa, ob := geo.Cross(p, q, a), geo.Cross(p, q, b)
	x := crossing{fe: int32(fe), se: int32(se), enter: ql}
	x.t = op.Float() / op.Sub(oq).Float()
	x.s = oa.Float() / oa.Sub(ob).Float()
	if b.Less(a) {
		a, b, oa, ob = b, a, ob, oa
	}
	x.at = exactPointAlong(a, b, oa, ob)
	w.xs = append(w.xs, x)
}

// exactPointAlong is pointAlong for an edge from its lesser end, with an exact fraction: with edges of up to 2^51 units
// float64 would be off by whole units.
func exactPointAlong(a, b geo.Pt, oa, ob geo.Int128) geo.Pt {
	s := new(big.Rat).SetFrac(bigInt(oa), bigInt(oa.Sub(ob)))
	return geo.Pt{X: a.X + roundProduct(b.X-a.X, s), Y: a.Y + roundProduct(b.Y-a.Y, s)}
}

func bigInt(v geo.Int128) *big.Int {
	i := new(big.Int).Lsh(big.NewInt(v.Hi), 64)
	return i.Add(i, new(big.Int).SetUint64(v.Lo))
}

// roundProduct returns d·s rounded to the nearest whole number, ties to even as in roundFast.
func roundProduct(d int64, s *big.Rat) int64 {
	num := new(big.Int).Mul(big.NewInt(d), s.Num())
	q, r := new(big.Int).DivMod(num, s.Denom(), new(big.Int)) // floor, as the denominator is positive
	switch twice := r.Lsh(r, 1).Cmp(s.Denom()); {
	case twice > 0, twice == 0 && q.Bit(0) == 1:
		q.Add(q, big.NewInt(1))
	}
	return q.Int64()
}
