package arrange

import (
	"math/big"
	"math/bits"

	"rootworthy/internal/geo"
)

// small bounds coordinate differences for which all products here fit 64 bits: two products below 2^60 each.
const small = 1 << 30

// crosses says whether the edges a-b and c-d cross in a point inside both.
func crosses(a, b, c, d geo.Pt) bool {
	s, t := geo.Orient(a, b, c), geo.Orient(a, b, d)
	if s == 0 || t == 0 || s == t {
		return false
	}
	s, t = geo.Orient(c, d, a), geo.Orient(c, d, b)
	return s != 0 && t != 0 && s != t
}

// crossing returns the point where a-b and c-d cross, which they must do, as the grid has it: doubled, so that
// halves are whole numbers, and rounded down. (Rounding down first does no harm: which cell a point is in is
// again a rounding down, of a sum of whole numbers and the point.)
//
//	point = a + (b-a)·num/den,  num = (c-a)×(d-c),  den = (b-a)×(d-c)
func crossing(a, b, c, d geo.Pt) (x2, y2 int64) {
	dx, dy := b.X-a.X, b.Y-a.Y
	ex, ey := d.X-c.X, d.Y-c.Y
	fx, fy := c.X-a.X, c.Y-a.Y
	if isSmall(dx) && isSmall(dy) && isSmall(ex) && isSmall(ey) && isSmall(fx) && isSmall(fy) {
		num, den := fx*ey-fy*ex, dx*ey-dy*ex
		if den < 0 {
			num, den = -num, -den
		}
		return 2*a.X + mulDivDown(2*dx, num, den), 2*a.Y + mulDivDown(2*dy, num, den)
	}
	num, den := bigCross(fx, fy, ex, ey), bigCross(dx, dy, ex, ey)
	if den.Sign() < 0 {
		num.Neg(num)
		den.Neg(den)
	}
	return 2*a.X + bigMulDivDown(2*dx, num, den), 2*a.Y + bigMulDivDown(2*dy, num, den)
}

func isSmall(d int64) bool { return -small < d && d < small }

// mulDivDown returns v·num/den rounded down, for 0 <= num <= den and den > 0.
func mulDivDown(v, num, den int64) int64 {
	abs := uint64(v)
	if v < 0 {
		abs = -abs
	}
	hi, lo := bits.Mul64(abs, uint64(num))
	q, r := bits.Div64(hi, lo, uint64(den)) // hi < den, since abs·num < 2^64·den
	if v >= 0 {
		return int64(q)
	}
	if r > 0 {
		q++
	}
	return -int64(q)
}

// bigCross returns the cross product ax·by − ay·bx.
func bigCross(ax, ay, bx, by int64) *big.Int {
	p := new(big.Int).Mul(big.NewInt(ax), big.NewInt(by))
	return p.Sub(p, new(big.Int).Mul(big.NewInt(ay), big.NewInt(bx)))
}

// bigMulDivDown is mulDivDown for numbers of any size.
func bigMulDivDown(v int64, num, den *big.Int) int64 {
	p := new(big.Int).Mul(big.NewInt(v), num)
	return p.Div(p, den).Int64() // Euclidean division rounds down for den > 0
}
