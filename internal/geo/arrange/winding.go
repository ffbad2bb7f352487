package arrange

import (
	"encoding/binary"
	"slices"
)

// A wind is how often the rings of one layer run round a face, counter-clockwise counted up, clockwise down.
type wind struct{ layer, count int32 }

// windings numbers winding vectors: one wind for every layer whose count is not zero, in order of layers. Few
// different vectors occur in one arrangement, so edges and faces carry the number of a vector. Number 0 is the zero
// vector. The same numbers serve for what an edge adds to the face below it to give the face above it.
type windings struct {
	vecs  [][]wind
	index map[string]int32   // encoded vector → number
	sums  map[[2]int32]int32 // numbers of two vectors → number of their sum
	last  [2]int32           // the sum asked for last, a cheap cache: runs of edges ask for the same
	lastV int32
}

func newWindings() *windings {
	return &windings{
		vecs:  [][]wind{nil},
		index: map[string]int32{"": 0},
		sums:  map[[2]int32]int32{},
	}
}

// number returns the number of vector v, which must be sorted and free of zeros.
func (w *windings) number(v []wind) int32 {
	key := make([]byte, 0, 8*len(v))
	for _, x := range v {
		key = binary.LittleEndian.AppendUint32(key, uint32(x.layer))
		key = binary.LittleEndian.AppendUint32(key, uint32(x.count))
	}
	if n, ok := w.index[string(key)]; ok {
		return n
	}
	n := int32(len(w.vecs))
	w.vecs = append(w.vecs, slices.Clone(v))
	w.index[string(key)] = n
	return n
}

// single returns the number of the vector with one count in one layer.
func (w *windings) single(layer, count int32) int32 { return w.number([]wind{{layer, count}}) }

// add returns the number of the sum of vectors a and b.
func (w *windings) add(a, b int32) int32 {
	if a == 0 {
		return b
	}
	if b == 0 {
		return a
	}
	key := [2]int32{a, b}
	if key == w.last {
		return w.lastV
	}
	n, ok := w.sums[key]
	if !ok {
		n = w.number(sumWinds(w.vecs[a], w.vecs[b]))
		w.sums[key] = n
	}
	w.last, w.lastV = key, n
	return n
}

// neg returns the number of vector a with all counts turned round.
func (w *windings) neg(a int32) int32 {
	v := slices.Clone(w.vecs[a])
	for i := range v {
		v[i].count = -v[i].count
	}
	return w.number(v)
}

// sumWinds merges two sorted vectors.
func sumWinds(a, b []wind) []wind {
	var out []wind
	for len(a) > 0 || len(b) > 0 {
		switch {
		case len(b) == 0 || len(a) > 0 && a[0].layer < b[0].layer:
			out, a = append(out, a[0]), a[1:]
		case len(a) == 0 || b[0].layer < a[0].layer:
			out, b = append(out, b[0]), b[1:]
		default:
			if c := a[0].count + b[0].count; c != 0 {
				out = append(out, wind{a[0].layer, c})
			}
			a, b = a[1:], b[1:]
		}
	}
	return out
}
