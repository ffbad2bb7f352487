package flatgeobuf

import (
	"encoding/binary"
	"math"
)

// table is a table of a FlatBuffer: fields by number, each found through an offset that may lead anywhere and is
// checked before it is followed. A field that is missing or leads outside is its default.
// Places lie in the buffer and offsets have 32 bits, so an int of 64 bits holds every sum of the two.
type table struct {
	b      []byte
	at     int // of the table
	fields int // of its list of offsets
	n      int // bytes of that list
}

// rootTable returns the table a buffer begins with.
func rootTable(b []byte) (table, bool) { return tableAt(b, 0) }

// tableAt returns the table that the offset at place at leads to.
func tableAt(b []byte, at int) (table, bool) {
	to, ok := follow(b, at)
	if !ok || to+4 > len(b) {
		return table{}, false
	}
	// Signed, and counted backwards: the list of offsets may stand before its table or behind it.
	fields := to - int(int32(binary.LittleEndian.Uint32(b[to:])))
	if fields < 0 || fields+4 > len(b) {
		return table{}, false
	}
	n := int(binary.LittleEndian.Uint16(b[fields:]))
	if n < 4 || fields+n > len(b) {
		return table{}, false
	}
	return table{b, to, fields, n}, true
}

// follow returns where the offset at place at leads.
func follow(b []byte, at int) (int, bool) {
	if at < 0 || at+4 > len(b) {
		return 0, false
	}
	to := at + int(binary.LittleEndian.Uint32(b[at:]))
	return to, to <= len(b)
}

// field returns the place of field i with room for size bytes, or -1.
func (t table) field(i, size int) int {
	// Behind the two lengths, of the list and of the table.
	slot := 4 + 2*i
	if slot+2 > t.n {
		return -1
	}
	off := int(binary.LittleEndian.Uint16(t.b[t.fields+slot:]))
	// Fields that a newer schema added come at the end of the list, and are missing from shorter ones.
	if off == 0 || t.at+off+size > len(t.b) {
		return -1
	}
	return t.at + off
}

// byte and the numbers below return a field, or what it is when it is missing.
func (t table) byte(i int, missing byte) byte {
	if at := t.field(i, 1); at >= 0 {
		return t.b[at]
	}
	return missing
}

func (t table) uint16(i int, missing uint16) uint16 {
	if at := t.field(i, 2); at >= 0 {
		return binary.LittleEndian.Uint16(t.b[at:])
	}
	return missing
}

func (t table) uint32(i int) uint32 {
	if at := t.field(i, 4); at >= 0 {
		return binary.LittleEndian.Uint32(t.b[at:])
	}
	return 0
}

func (t table) uint64(i int) uint64 {
	if at := t.field(i, 8); at >= 0 {
		return binary.LittleEndian.Uint64(t.b[at:])
	}
	return 0
}

// vector returns the bytes of a list of items of the given size, and where they stand; nil when there is none.
func (t table) vector(i, size int) (list []byte, at int) {
	at, ok := follow(t.b, t.field(i, 4))
	if !ok || at+4 > len(t.b) {
		return nil, 0
	}
	n := int(binary.LittleEndian.Uint32(t.b[at:]))
	if at += 4; n > (len(t.b)-at)/size {
		return nil, 0
	}
	return t.b[at : at+n*size], at
}

// text is a list of bytes; the zero behind it is not part of it.
func (t table) text(i int) string {
	b, _ := t.vector(i, 1)
	return string(b)
}

// table returns the table that field i leads to.
func (t table) table(i int) (table, bool) { return tableAt(t.b, t.field(i, 4)) }

// tables calls f for each table of a list, and returns false as soon as f does or one leads outside.
func (t table) tables(i int, f func(table) bool) bool {
	list, at := t.vector(i, 4)
	for k := 0; k < len(list); k += 4 {
		one, ok := tableAt(t.b, at+k)
		if !ok || !f(one) {
			return false
		}
	}
	return true
}

func float(b []byte) float64 { return math.Float64frombits(binary.LittleEndian.Uint64(b)) }
