package geotiff

import (
	"errors"
	"io"
)

// Codes of TIFF's LZW.
const (
	lzwClear = 256
	lzwEnd   = 257
	lzwFirst = 258
	lzwMax   = 4096 // codes of 12 bits
)

var (
	errLZWCode = errors.New("LZW code out of order")
	errLZWOld  = errors.New("LZW of the kind before TIFF 6.0")
)

// lzwReader decodes TIFF's LZW: codes from 9 to 12 bits, highest bit first, that grow one code earlier than the table
// needs.
//
// Source: TIFF 6.0, section 13.
type lzwReader struct {
	src   io.ByteReader
	bits  uint32
	have  uint // bits not yet used
	width uint
	next  int // the code that is defined next
	prev  int // the last code; -1 after a clear
	// The string of a code is that of its prefix and one byte more; strings are read from their end.
	prefix [lzwMax]uint16
	suffix [lzwMax]byte
	length [lzwMax]uint16
	// Room for a string begun when the buffer is half full.
	out   [2 * lzwMax]byte
	ready []byte // decoded, not yet handed out
	err   error
	begun bool
}

// Reset starts over on another stream.
func (z *lzwReader) Reset(src io.ByteReader) {
	z.src, z.bits, z.have, z.ready, z.err, z.begun = src, 0, 0, nil, nil, false
	for i := range lzwClear {
		z.suffix[i], z.length[i] = byte(i), 1
	}
	z.clear()
}

// clear empties the table: codes are 9 bits wide again.
func (z *lzwReader) clear() { z.width, z.next, z.prev = 9, lzwFirst, -1 }

// Read hands out decoded bytes.
func (z *lzwReader) Read(p []byte) (int, error) {
	for len(z.ready) == 0 {
		if z.err != nil {
			return 0, z.err
		}
		z.fill()
	}
	n := copy(p, z.ready)
	z.ready = z.ready[n:]
	return n, nil
}

// code takes the next code from the stream.
func (z *lzwReader) code() (int, error) {
	for z.have < z.width {
		b, err := z.src.ReadByte()
		if err != nil {
			return 0, err
		}
		// Bits already used are pushed out on the left: at most 11 are left over, and 19 fit easily.
		z.bits = z.bits<<8 | uint32(b)
		z.have += 8
	}
	z.have -= z.width
	return int(z.bits >> z.have & (1<<z.width - 1)), nil
}

// fill decodes until the buffer is nearly full or the stream ends.
func (z *lzwReader) fill() {
	n := 0
	// no string is longer than the table, so there is room for the next one whatever it is
	for n+lzwMax <= len(z.out) {
		code, err := z.code()
		if err != nil {
			z.err = err
			break
		}
		if !z.begun {
			if z.begun = true; code != lzwClear {
				// Written the other way round, its first code reads as a small number; the proper kind nearly always
				// begins with a clear.
				if code < 4 { // the old kind begins with 0x00 0x01, lowest bit first
					z.err = errLZWOld
					break
				}
			}
		}
		if code == lzwEnd {
			z.err = io.EOF
			break
		}
		if code == lzwClear {
			z.clear()
			continue
		}
		// A code may be known, or the very next one; anything else is damage, and would read tables that were never
		// filled.
		if code > z.next || code == z.next && z.prev < 0 || code >= lzwMax {
			z.err = errLZWCode
			break
		}
		n += z.emit(code, z.out[n:])
	}
	z.ready = z.out[:n]
}

// emit writes the string of a code and defines the next one: the last string and the first byte of this one.
// out has room for the longest string there can be.
func (z *lzwReader) emit(code int, out []byte) int {
	from, size := code, int(z.length[code])
	if code == z.next { // the string that this very code defines: the last one and its own first byte
		from, size = z.prev, int(z.length[z.prev])
	}
	at := from
	for i := size - 1; i >= 0; i-- {
		out[i] = z.suffix[at]
		at = int(z.prefix[at])
	}
	first := out[0]
	if code == z.next {
		out[size] = first
		size++
	}
	// A full table stays as it is until the writer clears it.
	if z.prev >= 0 && z.next < lzwMax {
		z.prefix[z.next], z.suffix[z.next] = uint16(z.prev), first
		z.length[z.next] = z.length[z.prev] + 1
		z.next++
		// one early: the writer of TIFF 6.0 widened before the code that needed it, and all have since
		if z.next == 1<<z.width-1 && z.width < 12 {
			z.width++
		}
	}
	z.prev = code
	return size
}
