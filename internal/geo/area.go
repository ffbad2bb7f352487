package geo

// DoubledArea returns twice the signed area in square grid units of a ring (repeated at its end or not): positive
// counterclockwise. Exact. Corners are taken relative to the first one, so that far-off rings lose nothing.
func DoubledArea(ring []Pt) Int128 {
	var sum Int128
	if len(ring) == 0 {
		return sum
	}
	o := ring[0]
	for i := 1; i+1 < len(ring); i++ {
		sum = sum.Add(Cross(o, ring[i], ring[i+1]))
	}
	return sum
}

// SquareMetres turns a doubled area on PlaneStep into m².
func SquareMetres(doubled Int128) float64 { return doubled.Float() * (PlaneStep * PlaneStep / 2) }
