package geotiff

import (
	"bufio"
	"cmp"
	"encoding/binary"
	"io"
	"math"
	"slices"
)

// assemble writes header, directories and tiles. The size of every directory is known before its tiles' places are, so all
// places are reckoned first and then written in one go.
func assemble(w io.Writer, shots []picture) error {
	p := plan(shots, false)
	// Readers of plain TIFF are more than those of BigTIFF, so the wide form is written only where the narrow one cannot
	// be.
	if p.end > math.MaxUint32 {
		p = plan(shots, true)
	}
	out := bufio.NewWriterSize(w, 1<<16)
	out.Write(p.header()) // errors of a bufio.Writer stay, and come out at Flush
	for i := range shots {
		out.Write(p.directory(i))
	}
	for i := len(shots) - 1; i >= 0; i-- {
		for _, t := range shots[i].tiles {
			out.Write(t)
			// values begin at even places, by the format
			if len(t)%2 == 1 {
				out.WriteByte(0)
			}
		}
	}
	return out.Flush()
}

// layout is where everything will lie.
// at and end are bytes from the beginning of the file.
type layout struct {
	big    bool
	fields [][]field // of each directory, by tag
	at     []int64   // of each directory
	end    int64     // of the file
}

// plan reckons the places: header, directories with their values behind each, then the tiles, the smallest overview first.
func plan(shots []picture, big bool) layout {
	l := layout{big: big, fields: make([][]field, len(shots)), at: make([]int64, len(shots))}
	l.end = 8
	if big {
		// its header has a width of offsets, a reserved word and a wide offset
		l.end = 16
	}
	for i, s := range shots {
		l.at[i] = l.end
		// A copy, because a file may be planned twice.
		l.fields[i] = append(slices.Clone(s.tags), l.places(tagTileOffsets, len(s.tiles)), l.places(tagTileCounts, len(s.tiles)))
		// by tag, as the format asks: readers may search by halves
		slices.SortFunc(l.fields[i], func(a, b field) int { return cmp.Compare(a.tag, b.tag) })
		l.end += l.size(i)
	}
	for i := len(shots) - 1; i >= 0; i-- {
		for k, t := range shots[i].tiles {
			l.note(i, tagTileOffsets, k, l.end)
			l.note(i, tagTileCounts, k, int64(len(t)))
			l.end += int64(len(t) + len(t)%2)
		}
	}
	return l
}

// places returns a tag of n offsets or lengths, still to be filled in.
func (l *layout) places(tag uint16, n int) field {
	if l.big {
		return field{tag: tag, kind: typeLong8, count: n, values: make([]byte, 8*n)}
	}
	return field{tag: tag, kind: typeLong, count: n, values: make([]byte, 4*n)}
}

// note fills in one of them.
func (l *layout) note(i int, tag uint16, k int, v int64) {
	for _, f := range l.fields[i] {
		if f.tag != tag {
			continue
		}
		if l.big {
			binary.LittleEndian.PutUint64(f.values[8*k:], uint64(v))
		} else {
			binary.LittleEndian.PutUint32(f.values[4*k:], uint32(v)) // a file over 4 GB is planned again as BigTIFF
		}
	}
}

// widths returns the bytes of a count of tags, of a tag, and of a value that lies within its tag.
func (l *layout) widths() (count, entry, value int) {
	if l.big {
		return 8, 20, 8
	}
	return 2, 12, 4
}

// size returns the bytes of a directory with the values that lie behind it.
func (l *layout) size(i int) int64 {
	count, entry, value := l.widths()
	// the last value is the place of the next directory
	n := count + entry*len(l.fields[i]) + value
	n += n % 2
	for _, f := range l.fields[i] {
		if len(f.values) > value {
			n += len(f.values) + len(f.values)%2
		}
	}
	return int64(n)
}

// number appends an unsigned number as wide as offsets are.
func (l *layout) number(b []byte, v int64) []byte {
	if l.big {
		return binary.LittleEndian.AppendUint64(b, uint64(v))
	}
	return binary.LittleEndian.AppendUint32(b, uint32(v))
}

// header begins the file: byte order, version, place of the first directory.
func (l *layout) header() []byte {
	if l.big {
		return l.number([]byte{'I', 'I', 43, 0, 8, 0, 0, 0}, l.at[0])
	}
	return l.number([]byte{'I', 'I', 42, 0}, l.at[0])
}

// directory writes a directory and the values behind it.
func (l *layout) directory(i int) []byte {
	le := binary.LittleEndian
	count, entry, value := l.widths()
	fields := l.fields[i]
	var b, behind []byte
	if l.big {
		b = le.AppendUint64(b, uint64(len(fields)))
	} else {
		b = le.AppendUint16(b, uint16(len(fields)))
	}
	head := count + entry*len(fields) + value
	head += head % 2
	// head is how far behind the directory's beginning its outlying values start.
	for _, f := range fields {
		b = le.AppendUint16(le.AppendUint16(b, f.tag), f.kind)
		b = l.number(b, int64(f.count))
		// What fits into the tag stands there, left-justified, and not behind the directory.
		if len(f.values) <= value {
			b = append(b, f.values...)
			b = append(b, make([]byte, value-len(f.values))...)
			continue
		}
		b = l.number(b, l.at[i]+int64(head+len(behind)))
		behind = append(behind, f.values...)
		behind = append(behind, make([]byte, len(f.values)%2)...)
	}
	// 0 ends the chain
	next := int64(0)
	if i+1 < len(l.at) {
		next = l.at[i+1]
	}
	b = l.number(b, next)
	b = append(b, make([]byte, head-len(b))...)
	return append(b, behind...)
}
