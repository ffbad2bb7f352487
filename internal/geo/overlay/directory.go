package overlay

import (
	"container/list"
	"encoding/binary"
	"errors"
	"fmt"
	"hash/crc32"
	"io"

	"rootworthy/internal/geo"
)

// ErrDamaged says that a file is not what was written: cut short, or changed. It has to be made again.
var ErrDamaged = errors.New("the survey file is damaged and must be made again")

// directory is all of a coverage file but the blocks. It lies behind them, as their places are known only once they have
// been written and a Writer never goes back; the footer, of fixed size, says where it begins.
type directory struct {
	info     []byte
	blocks   []blockPlace
	polygons []polygon
	wide     []wideRings
}

// wideRings is a polygon too wide for offsets, kept whole.
type wideRings struct {
	id     uint32
	figure *figure
}

// footerSize is the size of offset (8), length (8) and CRC-32C (4) of the directory, and the magic again.
const footerSize = 8 + 8 + 4 + len(fileMagic)

// encode appends the directory, which will lie at offset at, and the footer.
func (d *directory) encode(dst []byte, at uint64) []byte {
	begin := len(dst)
	le := binary.LittleEndian
	u32 := func(v ...uint32) {
		for _, v := range v {
			dst = le.AppendUint32(dst, v)
		}
	}
	u64 := func(v ...int64) {
		for _, v := range v {
			dst = le.AppendUint64(dst, uint64(v))
		}
	}
	u32(uint32(len(d.info)), uint32(len(d.blocks)), uint32(len(d.polygons)), uint32(len(d.wide)))
	dst = append(dst, d.info...)
	for _, b := range d.blocks {
		u64(int64(b.Offset))
		u32(b.Length, b.CRC)
	}
	for i := range d.polygons {
		p := &d.polygons[i]
		u32(p.key, p.block, p.from.pts, p.from.supers, p.from.rings, p.to.pts, p.to.supers, p.to.rings)
		u64(p.origin.X, p.origin.Y, p.box.X0, p.box.Y0, p.box.X1, p.box.Y1)
	}
	for _, w := range d.wide {
		u32(w.id, uint32(len(w.figure.rings)))
		for _, r := range w.figure.rings {
			u32(uint32(r.n))
			for _, p := range w.figure.ring(r)[:r.n] {
				u64(p.X, p.Y)
			}
		}
	}
	body := dst[begin:]
	crc := crc32.Checksum(body, castagnoli)
	u64(int64(at), int64(len(body)))
	u32(crc)
	return append(dst, fileMagic...)
}

// Open reads the directory of a coverage file and leaves the polygons in it; they are read as fields need them. At
// most cache bytes of them (0 means 256 MB) are kept in memory. info is what NewWriter was given. An error wraps
// ErrDamaged if the file is not whole.
func Open(r io.ReaderAt, size int64, cache int) (c *Coverage, info []byte, err error) {
	if cache <= 0 {
		cache = 256 << 20
	}
	// The magic stands at the end too: a file that was cut short, or is still being written, has none there.
	foot := make([]byte, footerSize)
	if size < int64(footerSize+len(fileMagic)) {
		return nil, nil, fmt.Errorf("%d bytes: %w", size, ErrDamaged)
	}
	if _, err := r.ReadAt(foot, size-int64(footerSize)); err != nil {
		return nil, nil, err
	}
	le := binary.LittleEndian
	at, length := int64(le.Uint64(foot)), int64(le.Uint64(foot[8:]))
	if string(foot[20:]) != fileMagic || at < 0 || length < 16 || at > size || length != size-int64(footerSize)-at {
		return nil, nil, fmt.Errorf("no directory at the end: %w", ErrDamaged)
	}
	body := make([]byte, length)
	if _, err := r.ReadAt(body, at); err != nil {
		return nil, nil, err
	}
	if crc32.Checksum(body, castagnoli) != le.Uint32(foot[16:]) {
		return nil, nil, fmt.Errorf("directory at byte %d: %w", at, ErrDamaged)
	}
	var d directory
	if !d.decode(body, at) {
		return nil, nil, fmt.Errorf("directory at byte %d: counts and lengths do not agree: %w", at, ErrDamaged)
	}
	c = New()
	c.polygons = d.polygons
	c.file = &blockFile{r: r, places: d.blocks, limit: cache, kept: map[uint32]*list.Element{}}
	for _, w := range d.wide {
		c.mended[w.id] = &mended{figure: w.figure, box: w.figure.box}
	}
	return c, d.info, nil
}

// decode reads what encode wrote. It returns false if anything points outside what there is.
func (d *directory) decode(b []byte, end int64) bool {
	le := binary.LittleEndian
	ok := true
	need := func(n int) bool {
		ok = ok && n >= 0 && n <= len(b)
		return ok
	}
	u32 := func() uint32 {
		if !need(4) {
			return 0
		}
		v := le.Uint32(b)
		b = b[4:]
		return v
	}
	i64 := func() int64 {
		if !need(8) {
			return 0
		}
		v := int64(le.Uint64(b))
		b = b[8:]
		return v
	}
	info, blocks, polygons, wide := int(u32()), int(u32()), int(u32()), int(u32())
	// Counts are held against the bytes there are before anything is allocated for them. The checksum has been tested, but it
	// only says that nothing has changed since somebody wrote it.
	if !need(info + 16*blocks + 80*polygons + 8*wide) {
		return false
	}
	d.info, b = b[:info:info], b[info:]
	for range blocks {
		p := blockPlace{uint64(i64()), u32(), u32()}
		ok = ok && p.Offset <= uint64(end) && uint64(p.Length) <= uint64(end)-p.Offset
		d.blocks = append(d.blocks, p)
	}
	for range polygons {
		p := polygon{key: u32(), block: u32()}
		p.from, p.to = mark{u32(), u32(), u32()}, mark{u32(), u32(), u32()}
		p.origin = geo.Pt{X: i64(), Y: i64()}
		p.box = geo.Box{X0: i64(), Y0: i64(), X1: i64(), Y1: i64()}
		ok = ok && (p.from == p.to || int(p.block) < blocks) // one without ground, or too wide for a block, is in none
		d.polygons = append(d.polygons, p)
	}
	for range wide {
		w := wideRings{u32(), &figure{}}
		ok = ok && int(w.id) < polygons
		w.figure.reset()
		for n := u32(); n > 0 && ok; n-- {
			points := int(u32())
			if !need(16 * points) {
				return false
			}
			start := w.figure.begin(points)
			for i := range points {
				w.figure.pts[start+i] = geo.Pt{X: i64(), Y: i64()}
			}
			w.figure.addRing(start, points, geo.DoubledArea(w.figure.pts[start:start+points]).Sign() >= 0)
		}
		w.figure.finish()
		d.wide = append(d.wide, w)
	}
	return ok && len(b) == 0
}
