package geo

import "math/bits"

// Orient returns the sign of the doubled area of the triangle a, b, p: +1 when p lies left of the line from a to b,
// -1 right, 0 on it. Exact for all grid points (128-bit products).
func Orient(a, b, p Pt) int {
	return cmpProducts(b.X-a.X, p.Y-a.Y, b.Y-a.Y, p.X-a.X)
}

// cmpProducts compares a·b with c·d exactly and returns the sign of a·b − c·d.
func cmpProducts(a, b, c, d int64) int {
	h1, l1 := mul(a, b)
	h2, l2 := mul(c, d)
	switch {
	case h1 != h2:
		if h1 > h2 {
			return 1
		}
		return -1
	case l1 > l2:
		return 1
	case l1 < l2:
		return -1
	}
	return 0
}

// mul returns the signed 128-bit product a·b as a high word and a low word (two's complement).
func mul(a, b int64) (hi int64, lo uint64) {
	h, l := bits.Mul64(uint64(a), uint64(b))
	// Mul64 reads negative numbers as 2^64 too large: take the other factor off the high word once for each.
	h -= uint64(a>>63)&uint64(b) + uint64(b>>63)&uint64(a)
	return int64(h), l
}
