package geotiff

import (
	"encoding/binary"
	"fmt"
	"math"

	"rootworthy/internal/diag"
)

// little says whether numbers stand lowest byte first.
func (s *source) little() bool { return s.order == binary.ByteOrder(binary.LittleEndian) }

// take turns n values of the row at hand into cells of the window; column is that of the first in the picture.
// from and n count pixels of the block: the first that is wanted, and how many.
func (rd *reading[T]) take(tool *desk, from, n, row, column int) {
	p := rd.p
	// in values: how far from one cell to the next, and where the first stands
	step, first := p.strung(), from*p.strung()
	// bands of a pixel follow each other
	if !p.planar {
		first += rd.index
	}
	at := (row-rd.w.Row)*rd.w.Cols + column - rd.w.Col
	cells, gone := rd.cells[at:at+n], rd.gone[at:at+n]
	// One fault a row at most, and the list keeps five: a band of heights read as keys has one in every cell.
	bad := -1
	if p.sample.Kind == Float {
		tool.floats = sized(tool.floats, n)
		p.sample.floats(tool.floats, tool.row, first, step)
		bad = rd.takeFloats(cells, gone, tool.floats)
	} else {
		tool.whole = sized(tool.whole, n)
		p.sample.integers(tool.whole, tool.row, first, step)
		bad = rd.takeWhole(cells, gone, tool.whole)
	}
	if bad < 0 {
		return
	}
	value := any(nil)
	if value = tool.stored(p.sample, bad); rd.f.faults != nil {
		rd.f.faults.Add(diag.Fault{File: rd.f.name, Field: fmt.Sprintf("band %d", rd.index+1), Kind: "value does not fit",
			What: fmt.Sprintf("column %d, row %d: %v is not a whole number that fits in %T", column+bad, row, value, cells[0]),
			Fix:  "the cell is missing; check that this is the band with the keys"})
	}
}

// stored returns a value of the row at hand as it was stored.
func (d *desk) stored(s Sample, i int) any {
	switch {
	case s.Kind == Float:
		return d.floats[i]
	case s == Sample{Unsigned, 64}:
		return uint64(d.whole[i])
	}
	return d.whole[i]
}

// takeFloats fills cells from stored floats and returns the index of the first that T cannot hold, or -1.
func (rd *reading[T]) takeFloats(cells []T, gone []bool, values []float64) (bad int) {
	scaled, fractions, none := rd.band.scaled(), T(1)/2 != 0, rd.none
	bad = -1
	for i, v := range values {
		// NaN and infinities are missing whatever the file says of no-data.
		// v-v is NaN for infinities and NaN.
		if v-v != 0 || none.isFloat && (v == none.float || none.nearness > 0 && math.Abs(v-none.float) <= none.nearness) {
			gone[i] = true
			continue
		}
		if scaled {
			v = v*rd.band.Scale + rd.band.Offset
		}
		t := T(v)
		// keys stored as floats: taken where they are whole and come back the same
		if !fractions && (v != math.Trunc(v) || math.Abs(v) >= 1<<63 || float64(t) != v) {
			gone[i] = true
			if bad < 0 {
				bad = i
			}
			continue
		}
		cells[i] = t
	}
	return bad
}

// takeWhole fills cells from stored integers; see takeFloats.
func (rd *reading[T]) takeWhole(cells []T, gone []bool, values []int64) (bad int) {
	scaled, fractions, none := rd.band.scaled(), T(1)/2 != 0, rd.none
	// kept as bits in an int64: negative there means large
	wide := rd.p.sample == Sample{Unsigned, 64}
	bad = -1
	for i, v := range values {
		// before scaling: the no-data value is a stored one
		if none.isWhole && v == none.integer {
			gone[i] = true
			continue
		}
		if fractions {
			x := float64(v)
			if wide {
				x = float64(uint64(v))
			}
			if scaled {
				x = x*rd.band.Scale + rd.band.Offset
			}
			cells[i] = T(x)
			continue
		}
		t := T(v)
		// It fits when it comes back the same, with the same sign; the bits of a large uint64 look negative.
		if int64(t) != v || (t < 0) != (v < 0 && !wide) {
			gone[i] = true
			if bad < 0 {
				bad = i
			}
			continue
		}
		cells[i] = t
	}
	return bad
}
