package geotiff

import (
	"bytes"
	"compress/zlib"
	"encoding/binary"
	"math"
	"reflect"

	"rootworthy/raster"
)

// sampleOf returns how values of T are stored.
func sampleOf[T raster.Number]() Sample {
	t := reflect.TypeFor[T]()
	// by kind, so that named types of keys and classes are stored as what they are
	switch k := t.Kind(); {
	case k == reflect.Float32 || k == reflect.Float64:
		return Sample{Float, t.Bits()}
	case k >= reflect.Int8 && k <= reflect.Int64:
		return Sample{Signed, t.Bits()}
	}
	return Sample{Unsigned, t.Bits()}
}

// put appends a value in little-endian order.
func put[T raster.Number](b []byte, v T, s Sample) []byte {
	le := binary.LittleEndian
	switch {
	case s == Sample{Float, 32}:
		return le.AppendUint32(b, math.Float32bits(float32(v)))
	case s.Kind == Float:
		return le.AppendUint64(b, math.Float64bits(float64(v)))
	case s.Bits == 8:
		return append(b, byte(v))
	case s.Bits == 16:
		return le.AppendUint16(b, uint16(v))
	case s.Bits == 32:
		return le.AppendUint32(b, uint32(v))
	}
	return le.AppendUint64(b, uint64(v))
}

// predictorOf returns the predictor that suits values: floats by planes, wide integers by differences. Classes in a byte
// compress better as they are.
func predictorOf(s Sample) uint64 {
	switch {
	case s.Kind == Float:
		return predictFloat
	case s.Bits > 8:
		return predictDifference
	}
	return predictNone
}

// pack makes the bytes of one tile; what of it lies beyond the grid is missing.
func pack[T raster.Number](grids []*raster.Grid[T], left, top int, opt Options[T]) ([]byte, error) {
	f, s := grids[0].Frame(), sampleOf[T]()
	row := make([]byte, 0, opt.Tile*len(grids)*s.Bits/8)
	// for the planes of a row, used again for the next
	scratch := make([]byte, cap(row))
	var out bytes.Buffer
	z := zlib.NewWriter(&out)
	for r := top; r < top+opt.Tile; r++ {
		row = row[:0]
		for c := left; c < left+opt.Tile; c++ {
			for _, g := range grids {
				// missing, and beyond the east and south edge
				v := opt.Nodata
				if c < f.Cols && r < f.Rows {
					if t, ok := g.At(c, r); ok {
						v = t
					}
				}
				row = put(row, v, s)
			}
		}
		switch predictorOf(s) {
		case predictFloat:
			// row by row, as the format has it: each row begins afresh
			doFloat(row, scratch, s.Bits/8, len(grids))
		case predictDifference:
			difference(row, s.Bits, len(grids))
		}
		if _, err := z.Write(row); err != nil {
			return nil, err
		}
	}
	err := z.Close()
	return out.Bytes(), err
}
