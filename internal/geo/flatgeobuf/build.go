package flatgeobuf

import (
	"encoding/binary"
	"math"
	"slices"
)

// builder makes a FlatBuffer. It is built from its end to its beginning, as the format asks for: what is pointed to is
// there before what points to it. An offset is counted from the end while the buffer grows.
//
// Source: https://flatbuffers.dev/internals/.
type builder struct {
	rev   []byte // the buffer, last byte first
	align int    // the largest alignment asked for
}

// offset is a place, counted in bytes from the end of the buffer; 0 means none.
type offset int

func (b *builder) reset() { b.rev, b.align = b.rev[:0], 4 }

// pad makes the place align to size once extra bytes more were put.
func (b *builder) pad(size, extra int) {
	b.align = max(b.align, size)
	// Counted from the end, which finish pads so that the beginning is aligned as well.
	for (len(b.rev)+extra)%size != 0 {
		b.rev = append(b.rev, 0)
	}
}

// put writes the low size bytes of v, aligned.
// Numbers are little-endian and the buffer runs backwards, so the high byte goes first.
func (b *builder) put(v uint64, size int) {
	b.pad(size, size)
	for i := size - 1; i >= 0; i-- {
		b.rev = append(b.rev, byte(v>>(8*i)))
	}
}

// putOffset writes a reference to what stands at off.
func (b *builder) putOffset(off offset) {
	b.pad(4, 4)
	// How far from the beginning of these four bytes to what stands at off.
	b.put(uint64(len(b.rev)+4-int(off)), 4)
}

// numbers writes a list of numbers of the given size.
func (b *builder) numbers(n, size int, at func(int) uint64) offset {
	// Twice: the items must be aligned by their own size, and the length before them by 4.
	b.pad(4, n*size)
	b.pad(size, n*size)
	for i := n - 1; i >= 0; i-- {
		b.put(at(i), size)
	}
	b.put(uint64(n), 4)
	return offset(len(b.rev))
}

func (b *builder) bytes(v []byte) offset {
	return b.numbers(len(v), 1, func(i int) uint64 { return uint64(v[i]) })
}

func (b *builder) doubles(v []float64) offset {
	return b.numbers(len(v), 8, func(i int) uint64 { return math.Float64bits(v[i]) })
}

// text writes a text, which ends in a zero byte that its length does not count; none for an empty one.
func (b *builder) text(s string) offset {
	if s == "" {
		return 0
	}
	b.pad(4, len(s)+1)
	b.rev = append(b.rev, 0)
	for i := len(s) - 1; i >= 0; i-- {
		b.rev = append(b.rev, s[i])
	}
	b.put(uint64(len(s)), 4)
	return offset(len(b.rev))
}

// list writes a list of references.
func (b *builder) list(items []offset) offset {
	b.pad(4, 4*len(items))
	for _, it := range slices.Backward(items) {
		b.putOffset(it)
	}
	b.put(uint64(len(items)), 4)
	return offset(len(b.rev))
}

// member is one field of a table: a reference, or a number of size bytes.
type member struct {
	number int
	ref    offset
	value  uint64
	size   int
}

// ref and num make members of a table: a reference, and a number of size bytes.
func ref(number int, to offset) member { return member{number: number, ref: to, size: 4} }

func num(number int, value uint64, size int) member {
	return member{number: number, value: value, size: size}
}

// table writes a table. References to nothing are left out.
func (b *builder) table(members ...member) offset {
	end := len(b.rev)
	slices.SortStableFunc(members, func(x, y member) int { return y.size - x.size }) // so that little is padded
	last := -1
	// Where each field stands, counted from the end.
	places := map[int]int{}
	for _, m := range slices.Backward(members) {
		// A number of four bytes that is 0 is left out, as is a reference to nothing: readers take 0 for what is missing.
		if m.ref == 0 && m.size == 4 && m.value == 0 {
			continue
		}
		if m.ref != 0 {
			b.putOffset(m.ref)
		} else {
			b.put(m.value, m.size)
		}
		places[m.number] = len(b.rev)
		last = max(last, m.number)
	}
	b.pad(4, 4)
	table := len(b.rev) + 4
	fields := 4 + 2*(last+1)
	// The list of offsets stands right before the table.
	b.put(uint64(fields), 4) // distance from the table back to its list; the list is as long as that
	for i := last; i >= 0; i-- {
		v := 0
		if at, ok := places[i]; ok {
			// Offsets of fields count from the table onward; both places count from the end, so the difference turns round.
			v = table - at
		}
		b.put(uint64(v), 2)
	}
	// The length of the table itself, then that of the list.
	b.put(uint64(table-end), 2)
	b.put(uint64(fields), 2)
	return offset(table)
}

// finish ends the buffer with the reference to its root and its length in front, and returns it. It is valid until the
// builder is used again.
func (b *builder) finish(root offset) []byte {
	b.pad(b.align, 8)
	b.putOffset(root)
	length := binary.BigEndian.AppendUint32(nil, uint32(len(b.rev)))
	b.rev = append(b.rev, length...)
	slices.Reverse(b.rev)
	return b.rev
}
