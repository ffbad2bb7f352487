package geotiff

import (
	"bufio"
	"errors"
	"fmt"
	"io"

	"github.com/klauspost/compress/zlib"
	"github.com/klauspost/compress/zstd"
)

// Compressions of tag 259 that are read.
const (
	compressNone       = 1
	compressLZW        = 5
	compressDeflate    = 8
	compressPackBits   = 32773
	compressDeflateOld = 32946
	compressZSTD       = 50000
)

// maxZSTDWindow is what one decoder may hold back: the most that zstd's ordinary levels use.
const maxZSTDWindow = 128 << 20

// compressionName returns the name of a compression that is not read.
func compressionName(c uint64) (name string, readable bool) {
	switch c {
	case compressNone, compressLZW, compressDeflate, compressDeflateOld, compressPackBits, compressZSTD:
		return "", true
	}
	// named all the same: "JPEG" tells its owner what to write again
	names := map[uint64]string{2: "CCITT RLE", 3: "CCITT fax 3", 4: "CCITT fax 4", 6: "old JPEG", 7: "JPEG", 34712: "JPEG 2000",
		34887: "LERC", 34925: "LZMA", 50001: "WebP", 50002: "JPEG XL"}
	if n, ok := names[c]; ok {
		return n, false
	}
	return "unknown", false
}

// unpacker decompresses blocks, one after the other; it keeps what decoders need between them.
type unpacker struct {
	in    *bufio.Reader
	lzw   *lzwReader
	zlib  io.ReadCloser
	zstd  *zstd.Decoder
	bytes packBits
}

// open returns the decoded bytes of a block.
func (u *unpacker) open(compression uint64, r io.Reader) (io.Reader, error) {
	// One buffer and one decoder serve all blocks: a raster has thousands, and each decoder holds tables of its own.
	if u.in == nil {
		u.in = bufio.NewReaderSize(r, 1<<16)
	}
	// u.in may have been made with this very reader; to set it again does no harm.
	u.in.Reset(r)
	switch compression {
	case compressNone:
		return u.in, nil
	case compressLZW:
		// 28 kB of tables and room, made only for files that need them
		if u.lzw == nil {
			u.lzw = new(lzwReader)
		}
		u.lzw.Reset(u.in)
		return u.lzw, nil
	// two numbers for one thing: the old one was given before the format had its own
	case compressDeflate, compressDeflateOld:
		if u.zlib == nil {
			z, err := zlib.NewReader(u.in)
			if err != nil {
				return nil, err
			}
			u.zlib = z
			return z, nil
		}
		return u.zlib, u.zlib.(zlib.Resetter).Reset(u.in, nil)
	// A new start for every block: a run never goes on into the next.
	case compressPackBits:
		u.bytes = packBits{src: u.in}
		return &u.bytes, nil
	case compressZSTD:
		if u.zstd == nil {
			// one goroutine and little memory: blocks are read side by side already
			z, err := zstd.NewReader(nil, zstd.WithDecoderConcurrency(1), zstd.WithDecoderLowmem(true),
				zstd.WithDecoderMaxWindow(maxZSTDWindow))
			if err != nil {
				return nil, err
			}
			u.zstd = z
		}
		return u.zstd, u.zstd.Reset(u.in)
	}
	return nil, fmt.Errorf("compression %d", compression) // page refuses it before
}

// close lets decoders go.
func (u *unpacker) close() {
	if u.zstd != nil {
		u.zstd.Close()
	}
}

// packBits decodes runs: a count n of 0…127 is followed by n+1 bytes as they are, -1…-127 by one byte 1-n times.
//
// Source: TIFF 6.0, section 9.
type packBits struct {
	src    *bufio.Reader
	left   int
	repeat bool
	value  byte
}

// Read hands on decoded bytes, at most one run at a time.
func (p *packBits) Read(b []byte) (int, error) {
	// a loop, because -128 means nothing and is followed by another count
	for p.left == 0 {
		c, err := p.src.ReadByte()
		if err != nil {
			return 0, err
		}
		n := int(int8(c))
		switch {
		case n >= 0:
			p.left, p.repeat = n+1, false
		// -128 falls through: no operation
		case n > -128:
			p.left, p.repeat = 1-n, true
			if p.value, err = p.src.ReadByte(); err != nil {
				return 0, errors.Join(io.ErrUnexpectedEOF, err)
			}
		}
	}
	n := min(len(b), p.left)
	if !p.repeat {
		// May be fewer than asked for; the rest of the run comes with the next call.
		n, err := p.src.Read(b[:n])
		p.left -= n
		return n, err
	}
	for i := range n {
		b[i] = p.value
	}
	p.left -= n
	return n, nil
}
