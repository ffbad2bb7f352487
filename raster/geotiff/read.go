package geotiff

import (
	"context"
	"errors"
	"fmt"
	"io"
	"sync"

	"rootworthy/internal/diag"
	"rootworthy/internal/ordered"
	"rootworthy/raster"
)

// Request says which cells to read; the zero value means all cells of the first band.
type Request struct {
	Band     int           // from 0
	Level    int           // 0 the raster itself, 1 its first overview …
	Window   raster.Window // the zero value means all cells of the level
	Workers  int           // goroutines; 0 means one per CPU
	MaxCells int           // the most cells to reserve; 0 means 1<<27, 1 GB of float64
}

// defaultMaxCells is 1 GB of float64: more at once is a slip, or a file that claims too much.
const defaultMaxCells = 1 << 27

// A window of more cells than freeCells must have a byte in the file for each bytesBehind of its values: the best that
// deflate (1032) and zstd (some 30,000) make of constant ground, so an empty file of great claims reserves nothing.
const (
	freeCells   = 1 << 25
	bytesBehind = 40000
)

// Read reads cells of a band as numbers of type T. Only the blocks that meet the window are read, and of those no more
// rows than needed.
//
// Floats are values: stored × scale + offset. Integers are stored values, exact, whatever they are stored as; a band with a
// scale is refused, and a stored value that T cannot hold (a fraction, a number out of range) makes its cell missing and is
// a fault. Missing are cells that hold the no-data value, NaN, infinities or are masked, and those of blocks that were left
// out. A block that cannot be decoded is a fault; its cells from there on are missing. The error means that nothing was
// read: a wrong request, a raster without a place, or ctx ended.
func Read[T raster.Number](ctx context.Context, f *File, q Request) (*raster.Grid[T], error) {
	// a grid has a frame, and without a place there is none
	if f.place != nil {
		return nil, f.place
	}
	if q.Level < 0 || q.Level >= len(f.levels) || q.Band < 0 || q.Band >= len(f.bands) {
		return nil, fmt.Errorf("%s: band %d of level %d was asked for; there are %d bands and %d levels, counted from 0",
			f.name, q.Band, q.Level, len(f.bands), len(f.levels))
	}
	// A half is 0 in integers alone.
	if T(1)/2 == 0 && f.bands[q.Band].scaled() {
		return nil, fmt.Errorf("%s: band %d: values are stored × %v + %v and no integers; read them as floats",
			f.name, q.Band+1, f.bands[q.Band].Scale, f.bands[q.Band].Offset)
	}
	frame := f.Levels()[q.Level]
	if q.Window == (raster.Window{}) {
		q.Window = frame.All()
	}
	if err := frame.Within(q.Window); err != nil {
		return nil, fmt.Errorf("%s: %w", f.name, err)
	}
	rd, err := newReading[T](f, q)
	if err != nil {
		return nil, err
	}
	if err := rd.run(ctx, q.Workers); err != nil {
		return nil, err
	}
	if err := mask(ctx, f, q, rd.gone); err != nil {
		return nil, err
	}
	return raster.FromCells(frame.Window(q.Window), rd.cells, rd.gone)
}

// reading is one call of Read at work.
// cells and gone are by rows of the window; blocks fill parts of them that do not overlap, so no lock is needed.
type reading[T raster.Number] struct {
	f      *File
	p      *page
	band   Band
	index  int // of the band
	none   nodata
	w      raster.Window
	blocks []block
	cells  []T
	gone   []bool
	// a desk for each goroutine at work
	tools sync.Pool
}

// newReading finds the blocks of the window and, once they are known to lie in the file, reserves the cells.
func newReading[T raster.Number](f *File, q Request) (*reading[T], error) {
	rd := &reading[T]{f: f, p: f.levels[q.Level], band: f.bands[q.Band], index: q.Band, w: q.Window}
	// Open has refused text that is no number.
	rd.none, _ = parseNodata(rd.band.Nodata, rd.p.sample)
	rd.tools.New = func() any { return new(desk) }
	// Of the window, whatever the raster's size.
	limit := q.MaxCells
	if limit == 0 {
		limit = defaultMaxCells
	}
	n := q.Window.Cols * q.Window.Rows
	// refused before the tables of blocks are read, which are as long
	if q.Window.Cols > limit/q.Window.Rows {
		return nil, fmt.Errorf("%s: %d × %d cells are over the limit of %d at once; read a smaller window, or an overview",
			f.name, q.Window.Cols, q.Window.Rows, limit)
	}
	p, stored := rd.p, int64(0)
	c0, c1 := q.Window.Col/p.blockCols, (q.Window.Col+q.Window.Cols-1)/p.blockCols
	for row := q.Window.Row / p.blockRows; row <= (q.Window.Row+q.Window.Rows-1)/p.blockRows; row++ {
		blocks, err := p.blocks(q.Band, row, c0, c1-c0+1)
		if err != nil {
			return nil, err
		}
		for _, b := range blocks {
			// what the file really holds, held against what it claims below
			stored += b.size
		}
		rd.blocks = append(rd.blocks, blocks...)
	}
	if n > freeCells && int64(n) > freeCells+stored*bytesBehind/int64((p.sample.Bits+7)/8) {
		return nil, fmt.Errorf("%s: %s, byte %d: %d bytes cannot hold %d × %d cells; the file is nearly empty or damaged: read a smaller window",
			f.name, tagName(p.offsets.tag), p.offsets.at, stored, q.Window.Cols, q.Window.Rows)
	}
	rd.cells, rd.gone = make([]T, n), make([]bool, n)
	return rd, nil
}

// run decodes the blocks on several goroutines; each fills cells of its own.
func (rd *reading[T]) run(ctx context.Context, workers int) error {
	_, err := ordered.Map(ctx, len(rd.blocks), workers, func(i int) (struct{}, error) {
		tool := rd.tools.Get().(*desk)
		defer rd.tools.Put(tool)
		return struct{}{}, rd.block(ctx, tool, rd.blocks[i])
	})
	return err
}

// desk is what decoding a block needs, used again for the next.
type desk struct {
	unpacker
	row, scratch []byte
	floats       []float64
	whole        []int64
}

// block decodes the cells of a block that lie in the window. The error is only that ctx ended.
func (rd *reading[T]) block(ctx context.Context, tool *desk, b block) error {
	p, w := rd.p, rd.w
	left, top := b.col*p.blockCols, b.row*p.blockRows
	// The last block of a row reaches past the picture: its padding is nobody's.
	c0, c1 := max(left, w.Col), min(left+p.blockCols, w.Col+w.Cols, p.cols)
	r0, r1 := max(top, w.Row), min(top+p.blockRows, w.Row+w.Rows, p.rows)
	// a block that was left out has all its cells missing from r0 on
	row, err := r0, error(nil)
	if b.size > 0 {
		row, err = rd.rows(ctx, tool, b, c0-left, c1-c0, r0, r1)
	}
	if ctx.Err() != nil {
		return context.Cause(ctx)
	}
	if err != nil {
		// One block is lost, and not the raster: the survey of a county does not fail for a bad sector.
		rd.f.faults.Add(diag.Fault{File: rd.f.name, Offset: b.at, Field: tagName(p.offsets.tag), Kind: "damaged block",
			What: fmt.Sprintf("block at column %d, row %d breaks off at row %d: %v", left, top, row, broken(err)),
			Fix:  "its cells from there on are missing; get the file again"})
	}
	// What was decoded before the damage is kept, row by row.
	for ; row < r1; row++ {
		at := (row-w.Row)*w.Cols + c0 - w.Col
		for i := at; i < at+c1-c0; i++ {
			rd.gone[i] = true
		}
	}
	return nil
}

// broken says in our words that a stream ended early.
func broken(err error) error {
	if errors.Is(err, io.EOF) || errors.Is(err, io.ErrUnexpectedEOF) {
		return errors.New("the data end")
	}
	return err
}

// rows decodes rows r0 … r1 of a block, n columns from a column of the block on, and returns the first row not decoded.
func (rd *reading[T]) rows(ctx context.Context, tool *desk, b block, from, n, r0, r1 int) (int, error) {
	p := rd.p
	size := p.rowBytes()
	at, skip := b.at, r0-b.row*p.blockRows
	// uncompressed rows are jumped to, compressed ones read past
	if p.compression == compressNone {
		ahead := int64(skip) * int64(size)
		if ahead > b.size {
			return r0, io.EOF
		}
		at, b.size, skip = at+ahead, b.size-ahead, 0
	}
	stream, err := tool.open(p.compression, io.NewSectionReader(p.r, at, b.size))
	if err != nil {
		return r0, err
	}
	tool.row = sized(tool.row, size)
	for ; skip > 0 && ctx.Err() == nil; skip-- {
		if _, err := io.ReadFull(stream, tool.row); err != nil {
			return r0, err
		}
	}
	for row := r0; row < r1; row++ {
		if ctx.Err() != nil {
			return row, context.Cause(ctx)
		}
		if _, err := io.ReadFull(stream, tool.row); err != nil {
			return row, err
		}
		rd.straighten(tool)
		rd.take(tool, from, n, row, from+b.col*p.blockCols)
	}
	return r1, nil
}

// sized returns room for n values, the old room where it is large enough; what stands in it is overwritten.
func sized[E any](s []E, n int) []E {
	if cap(s) < n {
		return make([]E, n)
	}
	return s[:n]
}

// straighten undoes byte order and predictor of the row at hand.
func (rd *reading[T]) straighten(tool *desk) {
	p := rd.p
	if p.predictor == predictFloat {
		tool.scratch = sized(tool.scratch, len(tool.row))
		// its planes have an order of their own, so there is no byte order to turn
		undoFloat(tool.row, tool.scratch, p.sample.Bits/8, p.strung())
		return
	}
	if !p.little() {
		p.sample.toLittle(tool.row)
	}
	if p.predictor == predictDifference {
		undoDifference(tool.row, p.sample.Bits, p.strung())
	}
}

// mask makes cells missing where the file's own mask is 0.
func mask(ctx context.Context, f *File, q Request, gone []bool) error {
	p := f.levels[q.Level]
	for _, m := range f.masks {
		// a mask goes with the level of its own size
		if m.cols != p.cols || m.rows != p.rows {
			continue
		}
		// A mask is read as a raster of its own, with no mask and no no-data value.
		plain := &File{name: f.name, levels: []*page{m}, bands: []Band{{Type: m.sample, Scale: 1}}, faults: f.faults}
		rd, err := newReading[float64](plain, Request{Window: q.Window, MaxCells: q.MaxCells})
		if err != nil {
			return err
		}
		if err := rd.run(ctx, q.Workers); err != nil {
			return err
		}
		for i, v := range rd.cells {
			gone[i] = gone[i] || v == 0
		}
	}
	return nil
}
