package geotiff

import "encoding/binary"

// The predictors of tag 317: none, differences between neighbours in a row, and the same of floats by planes of bytes.
const (
	predictNone       = 1
	predictDifference = 2
	predictFloat      = 3
)

// undoDifference turns differences back into values: each sample of a pixel is the difference to the same one of the
// pixel to its west. The row is in little-endian order; step is the samples of a pixel.
//
// Source: TIFF 6.0, section 14.
func undoDifference(row []byte, bits, step int) {
	le := binary.LittleEndian
	switch bits {
	case 8:
		for i := step; i < len(row); i++ {
			row[i] += row[i-step]
		}
	case 16:
		for i := 2 * step; i+2 <= len(row); i += 2 {
			le.PutUint16(row[i:], le.Uint16(row[i:])+le.Uint16(row[i-2*step:]))
		}
	case 32:
		for i := 4 * step; i+4 <= len(row); i += 4 {
			le.PutUint32(row[i:], le.Uint32(row[i:])+le.Uint32(row[i-4*step:]))
		}
	case 64:
		for i := 8 * step; i+8 <= len(row); i += 8 {
			le.PutUint64(row[i:], le.Uint64(row[i:])+le.Uint64(row[i-8*step:]))
		}
	}
}

// difference is the reverse of undoDifference.
func difference(row []byte, bits, step int) {
	le := binary.LittleEndian
	size := bits / 8
	// from the end, as each value is needed once more by its neighbour
	for i := len(row) - size; i >= size*step; i -= size {
		switch bits {
		case 8:
			row[i] -= row[i-step]
		case 16:
			le.PutUint16(row[i:], le.Uint16(row[i:])-le.Uint16(row[i-2*step:]))
		case 32:
			le.PutUint32(row[i:], le.Uint32(row[i:])-le.Uint32(row[i-4*step:]))
		case 64:
			le.PutUint64(row[i:], le.Uint64(row[i:])-le.Uint64(row[i-8*step:]))
		}
	}
}

// undoFloat turns planes of byte differences back into little-endian floats. A row holds the highest bytes of all its
// values, then the next, down to the lowest, whatever the byte order of the file; each byte is the difference to the one
// step before it.
//
// Source: Adobe Photoshop TIFF Technical Note 3 (2005), floating point predictor.
func undoFloat(row, scratch []byte, size, step int) {
	for i := step; i < len(row); i++ {
		row[i] += row[i-step]
	}
	n := len(row) / size
	for k := range size {
		plane := row[k*n : (k+1)*n]
		for i, b := range plane {
			// plane 0 holds the highest bytes, which stand last in little-endian order
			scratch[i*size+size-1-k] = b
		}
	}
	copy(row, scratch[:n*size])
}

// doFloat is the reverse of undoFloat.
func doFloat(row, scratch []byte, size, step int) {
	n := len(row) / size
	for k := range size {
		for i := range n {
			scratch[k*n+i] = row[i*size+size-1-k]
		}
	}
	copy(row, scratch[:n*size])
	for i := len(row) - 1; i >= step; i-- {
		row[i] -= row[i-step]
	}
}
