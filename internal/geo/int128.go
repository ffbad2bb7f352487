package geo

import (
	"math"
	"math/bits"
)

// Int128 is a signed 128-bit integer in two's complement: products of grid coordinates and sums of them, without
// rounding. The zero value is 0.
type Int128 struct {
	Hi int64
	Lo uint64
}

// Wide returns v as an Int128.
func Wide(v int64) Int128 { return Int128{v >> 63, uint64(v)} }

// Product returns a·b.
func Product(a, b int64) Int128 {
	hi, lo := mul(a, b)
	return Int128{hi, lo}
}

// Add returns a+b.
func (a Int128) Add(b Int128) Int128 {
	lo, carry := bits.Add64(a.Lo, b.Lo, 0)
	return Int128{a.Hi + b.Hi + int64(carry), lo}
}

// Sub returns a-b.
func (a Int128) Sub(b Int128) Int128 {
	lo, borrow := bits.Sub64(a.Lo, b.Lo, 0)
	return Int128{a.Hi - b.Hi - int64(borrow), lo}
}

// Neg returns -a.
func (a Int128) Neg() Int128 { return Int128{}.Sub(a) }

// Sign returns -1, 0 or +1.
func (a Int128) Sign() int {
	switch {
	case a.Hi < 0:
		return -1
	case a.Hi == 0 && a.Lo == 0:
		return 0
	}
	return 1
}

// Float returns the nearest float64, within one rounding of each half. It converts the magnitude and then sets the
// sign: Hi·2⁶⁴ + Lo of a small negative number would cancel to zero.
func (a Int128) Float() float64 {
	if a.Hi < 0 {
		return -a.Neg().magnitude()
	}
	return a.magnitude()
}

func (a Int128) magnitude() float64 {
	return math.Ldexp(float64(uint64(a.Hi)), 64) + float64(a.Lo)
}

// CompareRatios returns the sign of n1/d1 - n2/d2, exactly, with 256-bit products. Neither d is zero.
func CompareRatios(n1, d1, n2, d2 Int128) int {
	// n1/d1 < n2/d2 as n1·d2 < n2·d1, turned round once for each negative denominator.
	l, r := n1.Sign()*d2.Sign(), n2.Sign()*d1.Sign()
	c := 0
	switch {
	case l != r:
		c = 1
		if l < r {
			c = -1
		}
	case l != 0:
		c = l * compareProducts(n1.abs(), d2.abs(), n2.abs(), d1.abs())
	}
	return c * d1.Sign() * d2.Sign()
}

func (a Int128) abs() Int128 {
	if a.Hi < 0 {
		return a.Neg()
	}
	return a
}

// compareProducts compares a·b with c·d, all of them magnitudes.
func compareProducts(a, b, c, d Int128) int {
	p, q := product256(a, b), product256(c, d)
	for i := 3; i >= 0; i-- {
		if p[i] != q[i] {
			if p[i] < q[i] {
				return -1
			}
			return 1
		}
	}
	return 0
}

// product256 multiplies two magnitudes by the schoolbook, least word first.
func product256(a, b Int128) (p [4]uint64) {
	x, y := [2]uint64{a.Lo, uint64(a.Hi)}, [2]uint64{b.Lo, uint64(b.Hi)}
	for i, xi := range x {
		var carry uint64
		for j, yj := range y {
			hi, lo := bits.Mul64(xi, yj)
			var c uint64
			lo, c = bits.Add64(lo, carry, 0)
			hi += c
			p[i+j], c = bits.Add64(p[i+j], lo, 0)
			carry = hi + c
		}
		p[i+2] = carry
	}
	return p
}

// Cross returns the doubled signed area of the triangle a, b, p: positive when p lies left of the line from a to b.
func Cross(a, b, p Pt) Int128 {
	return Product(b.X-a.X, p.Y-a.Y).Sub(Product(b.Y-a.Y, p.X-a.X))
}
