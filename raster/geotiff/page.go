package geotiff

import (
	"fmt"
	"math"
)

// Bounds of one picture. A row of 64 MB holds 8 million doubles.
const (
	maxSide     = 1 << 30
	maxRowBytes = 64 << 20
	maxSamples  = 4096
)

// page is one picture of the file: the raster itself, an overview, or a mask.
// Tiles and strips are both blocks: across and down count them, over the edge of the picture where they do not divide
// it.
type page struct {
	*directory
	cols, rows   int
	samples      int // values of a pixel
	sample       Sample
	compression  uint64
	predictor    uint64
	planar       bool // each band has blocks of its own
	blockCols    int  // a block is a tile, or a strip as wide as the picture
	blockRows    int
	across, down int // blocks
	// Only where the tables of blocks lie: a raster may have a million blocks, and a window needs a few.
	offsets, counts  entry
	counted          bool // false: byte counts are absent and follow from the size
	reduced, masking bool // what the picture is for
}

// page reads what a directory says of its picture. Nothing of the picture is read or reserved.
func (d *directory) page() (*page, error) {
	p := &page{directory: d}
	if err := p.readSize(); err != nil {
		return nil, err
	}
	if err := p.readSample(); err != nil {
		return nil, err
	}
	if err := p.readCoding(); err != nil {
		return nil, err
	}
	if err := p.readBlocks(); err != nil {
		return nil, err
	}
	return p, nil
}

// must reads a tag that has to be there, within bounds.
func (p *page) must(tag uint16, least, most uint64) (int, error) {
	e, ok := p.find(tag)
	if !ok {
		return 0, fmt.Errorf("%s: %s is missing from the directory at byte %d; %s", p.name, tagName(tag), p.at, damaged)
	}
	v, err := p.whole(e, 0, 1)
	if err != nil {
		return 0, err
	}
	// the first value alone: sizes have one
	if v[0] < least || v[0] > most {
		return 0, p.fault(tag, e.at, "%d is not between %d and %d; %s", v[0], least, most, damaged)
	}
	return int(v[0]), nil
}

// readSize reads how many cells there are, and what the picture is for.
func (p *page) readSize() (err error) {
	if p.cols, err = p.must(tagWidth, 1, maxSide); err != nil {
		return err
	}
	if p.rows, err = p.must(tagHeight, 1, maxSide); err != nil {
		return err
	}
	// bit 0: reduced; bit 2: a mask. Bit 1, a page of several, says nothing here
	kind, err := p.number(tagSubfileType, 0)
	p.reduced, p.masking = kind&1 != 0, kind&4 != 0
	return err
}

// readSample reads how values are stored. All values of a pixel must be stored alike.
func (p *page) readSample() error {
	n, err := p.number(tagSamplesPerPixel, 1)
	if err != nil {
		return err
	}
	if n < 1 || n > maxSamples {
		e, _ := p.find(tagSamplesPerPixel)
		return p.fault(e.tag, e.at, "%d values a pixel are not between 1 and %d; %s", n, maxSamples, damaged)
	}
	p.samples = int(n)
	// absent means one bit, by the format
	bits, err := p.alike(tagBits, 1)
	if err != nil {
		return err
	}
	// absent means unsigned
	kind, err := p.alike(tagSampleFormat, uint64(Unsigned))
	if err != nil {
		return err
	}
	if kind == 4 { // "undefined": bytes without a meaning
		kind = uint64(Unsigned)
	}
	if bits <= 64 && kind <= uint64(Float) {
		p.sample = Sample{SampleKind(kind), int(bits)}
	}
	if !p.sample.known() {
		e, ok := p.find(tagSampleFormat)
		// the tag that is at fault, for the message
		if !ok || kind <= uint64(Float) {
			e, _ = p.find(tagBits)
		}
		return p.fault(e.tag, e.at, "values of %d bits in format %d (1 unsigned, 2 signed, 3 float) are not read; "+
			"write it again with one of 8 to 64 bits", bits, kind)
	}
	return nil
}

// alike reads a tag with a value for each sample of a pixel, all the same.
func (p *page) alike(tag uint16, absent uint64) (uint64, error) {
	e, ok := p.find(tag)
	if !ok {
		return absent, nil
	}
	// Some writers give one value for all samples; what stands there has to agree.
	v, err := p.whole(e, 0, min(e.count, uint64(p.samples)))
	if err != nil || len(v) == 0 {
		return absent, err
	}
	for _, w := range v {
		if w != v[0] {
			return 0, p.fault(tag, e.at, "bands of different types (%d and %d) are not read; write each to a file of its own", v[0], w)
		}
	}
	return v[0], nil
}

// readCoding reads compression, predictor, and how values are strung together.
func (p *page) readCoding() (err error) {
	if p.compression, err = p.number(tagCompression, compressNone); err != nil {
		return err
	}
	if n, ok := compressionName(p.compression); !ok {
		e, _ := p.find(tagCompression)
		return p.fault(e.tag, e.at, "compression %d (%s) is not read; %s", p.compression, n, rewrite)
	}
	if p.predictor, err = p.number(tagPredictor, predictNone); err != nil {
		return err
	}
	e, _ := p.find(tagPredictor)
	switch {
	case p.compression == compressNone || p.compression == compressPackBits:
		p.predictor = predictNone // the tag belongs to the other compressions
	// nothing to check
	case p.predictor == predictNone:
	case p.predictor == predictDifference && (p.sample.Bits == 8 || p.sample.Bits == 16 || p.sample.Bits == 32 || p.sample.Bits == 64):
	// planes of bytes make sense of floats alone
	case p.predictor == predictFloat && p.sample.Kind == Float:
	default:
		return p.fault(e.tag, e.at, "predictor %d does not go with %v; %s", p.predictor, p.sample, rewrite)
	}
	// 1: the bands of a pixel together; 2: each band in blocks of its own.
	planar, err := p.number(tagPlanar, 1)
	if err != nil {
		return err
	}
	// with one band the two ways are the same
	p.planar = planar == 2 && p.samples > 1
	order, err := p.number(tagFillOrder, 1)
	// the bits of each byte the other way round, as fax has them
	if e, _ := p.find(tagFillOrder); order == 2 {
		return p.fault(e.tag, e.at, "bytes with their lowest bit first are not read; %s", rewrite)
	}
	// Other photometric kinds (palette, white is zero) are passed over: here a value is a value, whatever colour it should
	// have.
	if photometric, _ := p.number(tagPhotometric, 1); photometric == 6 && err == nil {
		e, _ := p.find(tagPhotometric)
		return p.fault(e.tag, e.at, "a colour picture (YCbCr) holds no values; use the raster it was drawn from")
	}
	return err
}

// readBlocks reads how the picture is cut into tiles or strips.
func (p *page) readBlocks() (err error) {
	// Strips are tiles as wide as the picture, read by the same code.
	offsets, counts := uint16(tagStripOffsets), uint16(tagStripCounts)
	if _, tiled := p.find(tagTileWidth); tiled {
		// A tile may be larger than a small picture; beyond that its padding would only cost time.
		if p.blockCols, err = p.must(tagTileWidth, 1, uint64(max(4096, p.cols+4096))); err != nil {
			return err
		}
		if p.blockRows, err = p.must(tagTileHeight, 1, uint64(max(4096, p.rows+4096))); err != nil {
			return err
		}
		offsets, counts = tagTileOffsets, tagTileCounts
	} else {
		// absent: one strip holds all
		rows, err := p.number(tagRowsPerStrip, math.MaxUint32)
		if err != nil {
			return err
		}
		if rows == 0 {
			e, _ := p.find(tagRowsPerStrip)
			return p.fault(e.tag, e.at, "strips of no rows; %s", damaged)
		}
		p.blockCols, p.blockRows = p.cols, int(min(rows, uint64(p.rows)))
	}
	if p.rowBytes() > maxRowBytes {
		return fmt.Errorf("%s: %s: a row of %d pixels of %d %v has %d bytes, over the limit of %d; cut it into tiles",
			p.name, tagName(tagWidth), p.blockCols, p.samples, p.sample, p.rowBytes(), maxRowBytes)
	}
	p.across, p.down = (p.cols+p.blockCols-1)/p.blockCols, (p.rows+p.blockRows-1)/p.blockRows
	var ok bool
	if p.offsets, ok = p.find(offsets); !ok {
		return fmt.Errorf("%s: %s is missing from the directory at byte %d; %s", p.name, tagName(offsets), p.at, damaged)
	}
	if p.counts, p.counted = p.find(counts); !p.counted && p.compression != compressNone {
		return fmt.Errorf("%s: %s is missing from the directory at byte %d; %s", p.name, tagName(counts), p.at, damaged)
	}
	// 64 bits: both may be a thousand million, and the table of blocks must then be as long, which it cannot
	blocks := uint64(p.across) * uint64(p.down)
	if p.planar {
		blocks *= uint64(p.samples)
	}
	// More entries than blocks do no harm; fewer would leave cells that nobody ever wrote.
	if p.offsets.count < blocks || p.counted && p.counts.count < blocks {
		return p.fault(p.offsets.tag, p.offsets.at, "%d offsets and %d lengths for %d blocks; %s",
			p.offsets.count, p.counts.count, blocks, damaged)
	}
	return nil
}

// strung returns how many values of a pixel follow each other within a block.
func (p *page) strung() int {
	if p.planar {
		return 1
	}
	return p.samples
}

// rowBytes returns the bytes of one row of a block.
func (p *page) rowBytes() int { return (p.blockCols*p.strung()*p.sample.Bits + 7) / 8 }

// block is where the bytes of a tile or strip lie. One of no bytes was left out: all its cells are missing.
type block struct {
	col, row int // in blocks
	at, size int64
}

// blocks returns the blocks of one row of them, of one band.
func (p *page) blocks(band, row, col, n int) ([]block, error) {
	// by rows, then, where bands are apart, by bands
	first := uint64(row)*uint64(p.across) + uint64(col)
	if p.planar {
		first += uint64(band) * uint64(p.across) * uint64(p.down)
	}
	offsets, err := p.whole(p.offsets, first, uint64(n))
	if err != nil {
		return nil, err
	}
	var counts []uint64
	if p.counted {
		if counts, err = p.whole(p.counts, first, uint64(n)); err != nil {
			return nil, err
		}
	}
	out := make([]block, n)
	for i := range out {
		// Without a table of lengths, which only uncompressed pictures may lack: the last block may be shorter.
		size := uint64(p.rowBytes()) * uint64(min(p.blockRows, p.rows-row*p.blockRows))
		if p.counted {
			size = counts[i]
		}
		// sparse files leave out blocks without a value
		if offsets[i] == 0 {
			size = 0
		}
		if size > 0 && (offsets[i] > uint64(p.size) || size > uint64(p.size)-offsets[i]) {
			size = uint64(max(0, p.size-int64(min(offsets[i], uint64(p.size))))) // what is there is read; the rest becomes a fault
			if size == 0 {
				// wholly behind the end: a byte that is not there, so that reading it becomes the fault
				size, offsets[i] = 1, uint64(p.size)
			}
		}
		out[i] = block{col + i, row, int64(offsets[i]), int64(size)}
	}
	return out, nil
}
