package overlay

import (
	"hash/crc32"
	"io"
	"slices"

	"github.com/paulmach/orb"

	"rootworthy/internal/geo"
	"rootworthy/internal/geo/index"
)

// Sizes of what a Writer puts together: points gathered before they are sorted by place, and points in a block.
const (
	windowPoints = 1 << 21 // 22 MB
	blockPoints  = 1 << 15 // 350 kB in the file
)

// Writer puts a coverage into a file that [Open] reads, for surveys larger than memory. It needs about 25 MB and 100
// bytes a polygon, however large the survey.
type Writer struct {
	w      io.Writer
	at     uint64
	window *Coverage
	points int
	first  int       // number of the window's first polygon
	all    directory // of all polygons before the window
	block  *slab
	buf    []byte
}

// NewWriter begins a coverage in w. info is kept with it and given back by Open: where the survey came from and when, say.
func NewWriter(w io.Writer, info []byte) (*Writer, error) {
	n, err := io.WriteString(w, fileMagic)
	return &Writer{w: w, at: uint64(n), window: New(), block: newSlab(blockPoints), all: directory{info: info}}, err
}

// Add appends a polygon as [Coverage.Add] does. An error of the writer ends the work.
func (w *Writer) Add(key uint32, shape orb.MultiPolygon) error {
	if err := w.window.Add(key, shape); err != nil {
		return err
	}
	points, _ := paddedPoints(shape)
	w.points += points
	if w.points >= windowPoints {
		return w.flush()
	}
	return nil
}

// flush moves the window's polygons into blocks, in the order of a Hilbert curve, so that neighbours share a block.
// Their numbers stay as they were.
func (w *Writer) flush() error {
	c := w.window
	boxes := make([]geo.Box, len(c.polygons))
	for i := range c.polygons {
		boxes[i] = c.polygons[i].box
	}
	for _, id := range index.Order(boxes) {
		p := &c.polygons[id]
		if p.slab == nil {
			continue // no ground, or too wide for a block
		}
		if !w.block.room(int(p.to.pts-p.from.pts)) && len(w.block.pts) > 0 {
			if err := w.flushBlock(); err != nil {
				return err
			}
		}
		w.move(p)
	}
	for id, m := range c.mended {
		w.all.wide = append(w.all.wide, wideRings{uint32(w.first) + id, m.figure})
	}
	slices.SortFunc(w.all.wide, func(a, b wideRings) int { return int(a.id) - int(b.id) })
	for i := range c.polygons {
		c.polygons[i].slab = nil
	}
	w.all.polygons = append(w.all.polygons, c.polygons...)
	w.first, w.points, w.window = len(w.all.polygons), 0, New()
	return nil
}

// move copies a polygon from the window's slab into the block.
func (w *Writer) move(p *polygon) {
	var s soil
	p.view(&s)
	b := w.block
	from := b.mark()
	b.pts = append(b.pts, s.pts...)
	b.boxes = append(b.boxes, s.boxes...)
	b.edges = append(b.edges, s.edges...)
	b.supers = append(b.supers, s.supers...)
	b.rings = append(b.rings, s.rings...)
	p.from, p.to, p.block = from, b.mark(), uint32(len(w.all.blocks))
}

func (w *Writer) flushBlock() error {
	w.buf = w.block.encode(w.buf[:0])
	w.block.reset(mark{})
	w.all.blocks = append(w.all.blocks, blockPlace{w.at, uint32(len(w.buf)), crc32.Checksum(w.buf, castagnoli)})
	return w.write(w.buf)
}

func (w *Writer) write(b []byte) error {
	n, err := w.w.Write(b)
	w.at += uint64(n)
	return err
}

// Close writes what is left, and the directory. It does not close the underlying writer.
func (w *Writer) Close() error {
	if err := w.flush(); err != nil {
		return err
	}
	if len(w.block.pts) > 0 {
		if err := w.flushBlock(); err != nil {
			return err
		}
	}
	return w.write(w.all.encode(nil, w.at))
}
