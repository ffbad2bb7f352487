package overlay

import (
	"container/list"
	"encoding/binary"
	"fmt"
	"hash/crc32"
	"io"
	"sync"
)

// A coverage on disk is its slabs, as blocks, and a directory:
//
//	magic "RWCOVER1" · block · block · … · directory · footer
//
// all little-endian. A block is four counts (points, boxes, super boxes, rings; uint32) and the slab's slices one
// after the other. Its place, length and CRC-32C are in the directory (directory.go), whose own are in the footer.
// Neighbours in space lie in one block, so a field needs one or two of them; those used last are kept in memory.
const fileMagic = "RWCOVER1"

var castagnoli = crc32.MakeTable(crc32.Castagnoli)

// blockPlace is where a block is in the file.
type blockPlace struct {
	Offset uint64
	Length uint32
	CRC    uint32
}

// encode appends the slab to dst.
func (s *slab) encode(dst []byte) []byte {
	u32 := func(v int32) { dst = binary.LittleEndian.AppendUint32(dst, uint32(v)) }
	box := func(b offbox) { u32(b.x0); u32(b.y0); u32(b.x1); u32(b.y1) }
	u32(int32(len(s.pts)))
	u32(int32(len(s.boxes)))
	u32(int32(len(s.supers)))
	u32(int32(len(s.rings)))
	for _, p := range s.pts {
		u32(p.x)
		u32(p.y)
	}
	for _, b := range s.boxes {
		box(b)
	}
	for _, b := range s.supers {
		box(b)
	}
	for _, r := range s.rings {
		u32(r.start)
		u32(r.n)
	}
	return append(dst, s.edges...)
}

// decodeSlab is the other way. A length that does not fit the counts is refused before anything is allocated.
func decodeSlab(b []byte) (*slab, error) {
	if len(b) < 16 {
		return nil, fmt.Errorf("a block of %d bytes", len(b))
	}
	u32 := func() int32 {
		v := int32(binary.LittleEndian.Uint32(b))
		b = b[4:]
		return v
	}
	pts, boxes, supers, rings := int(u32()), int(u32()), int(u32()), int(u32())
	if min(pts, boxes, supers, rings) < 0 || len(b) != 8*pts+17*boxes+16*supers+8*rings {
		return nil, fmt.Errorf("%d bytes for %d points, %d boxes, %d super boxes and %d rings", len(b), pts, boxes, supers, rings)
	}
	box := func() offbox { return offbox{u32(), u32(), u32(), u32()} }
	s := &slab{pts: make([]offset, pts), boxes: make([]offbox, boxes), supers: make([]offbox, supers), rings: make([]span, rings)}
	for i := range s.pts {
		s.pts[i] = offset{u32(), u32()}
	}
	for i := range s.boxes {
		s.boxes[i] = box()
	}
	for i := range s.supers {
		s.supers[i] = box()
	}
	for i := range s.rings {
		s.rings[i] = span{u32(), u32()}
	}
	s.edges = append([]uint8(nil), b...)
	return s, nil
}

// blockFile reads slabs as they are needed and keeps those used last.
type blockFile struct {
	r      io.ReaderAt
	places []blockPlace
	limit  int // bytes to keep

	mu   sync.Mutex
	kept map[uint32]*list.Element // of held
	used list.List                // *held, last used first
	size int
}

// held is a block in memory, or on its way there. An error is kept as the block would be: a damaged file is not read again and
// again for every field that lies there.
type held struct {
	block uint32
	once  sync.Once
	slab  *slab
	err   error
}

// slab returns a block. Several goroutines that want one block read it once; the lock is not held meanwhile.
func (f *blockFile) slab(block uint32) (*slab, error) {
	f.mu.Lock()
	e, ok := f.kept[block]
	if ok {
		f.used.MoveToFront(e)
	} else {
		e = f.used.PushFront(&held{block: block})
		f.kept[block] = e
		f.size += int(f.places[block].Length)
		// The one just asked for stays, however small the limit. A block that is let go lives on for as long as a worker
		// has a view of it.
		for f.size > f.limit && f.used.Len() > 1 {
			last := f.used.Remove(f.used.Back()).(*held)
			delete(f.kept, last.block)
			f.size -= int(f.places[last.block].Length)
		}
	}
	h := e.Value.(*held)
	f.mu.Unlock()
	h.once.Do(func() { h.slab, h.err = f.read(block) })
	return h.slab, h.err
}

func (f *blockFile) read(block uint32) (*slab, error) {
	p := f.places[block]
	b := make([]byte, p.Length)
	if _, err := f.r.ReadAt(b, int64(p.Offset)); err != nil {
		return nil, fmt.Errorf("survey block %d: %w", block, err)
	}
	if crc32.Checksum(b, castagnoli) != p.CRC {
		return nil, fmt.Errorf("survey block %d at byte %d: %w", block, p.Offset, ErrDamaged)
	}
	s, err := decodeSlab(b)
	if err != nil {
		return nil, fmt.Errorf("survey block %d at byte %d: %w: %w", block, p.Offset, ErrDamaged, err)
	}
	return s, nil
}
