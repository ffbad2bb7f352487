package taskdata

import (
	"bufio"
	"context"
	"encoding/binary"
	"encoding/xml"
	"errors"
	"fmt"
	"io"
	"path"
	"strconv"

	"rootworthy/internal/diag"
	"rootworthy/suitability"
)

// Logged reads the time logs of all tasks: what the controller recorded of the rate that it really put on (identifier
// 7). It puts them into cells of the working width in metres, as [ReadPoints] does. nil without an error: there are no
// time logs. A log that cannot be read is a fault and is left out; of one that breaks off, the part before counts.
//
// Source of the layout: ISO 11783-10 time logs as read by the isoxml library for .NET (TLGDataLogLine); read. Numbers
// are little-endian; a value that a record leaves out is as it was in the record before (common practice, no source).
func (f *File) Logged(ctx context.Context, width float64, r *suitability.Result, faults *diag.List) (*Points, error) {
	p := &Points{cells: map[int64]pointCell{}, frame: frameOver(boxOf(r), square(width), 0, 0)}
	logs := 0
	for i := range f.Tasks {
		for _, name := range f.Tasks[i].Logs {
			if ctx.Err() != nil {
				return nil, context.Cause(ctx)
			}
			logs++
			if err := f.readLog(name, p, faults); err != nil {
				faults.Add(faultAt(f.XML, f.Tasks[i].Line, "time log", fmt.Sprintf("%s: time log %s: %v", f.Tasks[i].label(), visible(name), err), "copy the whole folder again"))
			}
		}
	}
	if logs == 0 {
		return nil, nil
	}
	return p, nil
}

// logLayout says what a record of a log holds: which of the nine parts of a position, and which values.
type logLayout struct {
	fields [9]bool // A to I of PTN: stored in every record
	rate   int     // place of the rate among the values
	values int
}

// logSizes are the bytes of the parts of a position: north, east, up, status, PDOP, HDOP, satellites, time, date.
func logSizes() [9]int { return [9]int{4, 4, 4, 1, 2, 2, 1, 4, 2} }

// readLog adds the points of one log.
func (f *File) readLog(name string, p *Points, faults *diag.List) error {
	head, ok := beside(f.fsys, f.top, name+".XML")
	if !ok {
		return fmt.Errorf("there is no file %s.XML", visible(name))
	}
	data, ok := beside(f.fsys, f.top, name+gridSuffix)
	if !ok {
		return fmt.Errorf("there is no file %s%s", visible(name), gridSuffix)
	}
	in, err := f.fsys.Open(head)
	if err != nil {
		return err
	}
	layout, err := readLogHead(in)
	in.Close()
	if err != nil {
		return err
	}
	bin, err := f.fsys.Open(data)
	if err != nil {
		return err
	}
	defer bin.Close()
	if err := layout.read(bufio.NewReaderSize(bin, 1<<16), p); err != nil {
		faults.Add(diag.Fault{File: path.Base(data), Kind: "time log", What: err.Error(), Fix: "what stands before is used"})
	}
	return nil
}

// longestLogHead bounds the XML of a log; real ones take a few kilobytes.
const longestLogHead = 1 << 20

// readLogHead reads which parts records have: an attribute that is there and empty is stored in each.
func readLogHead(in io.Reader) (logLayout, error) {
	l := logLayout{rate: -1}
	d := xml.NewDecoder(io.LimitReader(in, longestLogHead))
	d.CharsetReader = charset
	for {
		token, err := d.Token()
		if err == io.EOF {
			break
		}
		if err != nil {
			return l, errors.New("its XML cannot be read")
		}
		e, ok := token.(xml.StartElement)
		if !ok {
			continue
		}
		switch e.Name.Local {
		// Attributes A to I are the parts of a position in the order in which a record stores them.
		case "PTN":
			for _, a := range e.Attr {
				if len(a.Name.Local) == 1 && a.Name.Local >= "A" && a.Name.Local <= "I" && a.Value == "" {
					l.fields[a.Name.Local[0]-'A'] = true
				}
			}
		case "DLV":
			// Values are known by their number in this list, so each counts, whatever it is. Of several rates the first is taken.
			if ddi, err := strconv.ParseUint(attributes(e.Attr).get("A"), 16, 16); err == nil && DDI(ddi) == MassActual && l.rate < 0 {
				l.rate = l.values
			}
			l.values++
		}
	}
	switch {
	case !l.fields[0] || !l.fields[1]:
		return l, errors.New("its records have no positions")
	case l.rate < 0:
		return l, errors.New("it holds no rate by weight (identifier 0007)")
	}
	return l, nil
}

// read reads records until the log ends; the error says where it breaks off.
func (l logLayout) read(in io.Reader, p *Points) error {
	// Every record begins with both; what the XML says comes behind, then the number of values in one byte, then those values of five bytes
	// each: a number and four bytes.
	size := 6 // time of day, day
	var at [9]int
	for i, n := range logSizes() {
		if at[i] = size; l.fields[i] {
			size += n
		}
	}
	record, value := make([]byte, size+1), make([]byte, 5)
	rate, known := int32(0), false
	for n := 1; ; n++ {
		if _, err := io.ReadFull(in, record); err == io.EOF {
			return nil
		} else if err != nil {
			return fmt.Errorf("breaks off in record %d", n)
		}
		for range record[size] {
			if _, err := io.ReadFull(in, value); err != nil {
				return fmt.Errorf("breaks off in record %d", n)
			}
			if int(value[0]) >= l.values {
				return fmt.Errorf("record %d has value %d, and its XML knows only %d", n, value[0], l.values)
			}
			if int(value[0]) == l.rate {
				rate, known = int32(binary.LittleEndian.Uint32(value[1:])), true
			}
		}
		y, x := int32(binary.LittleEndian.Uint32(record[at[0]:])), int32(binary.LittleEndian.Uint32(record[at[1]:]))
		// Without any rate so far nothing is known of what was put on. Zero north and zero east is a receiver that has no place yet.
		if known && rate >= 0 && (x != 0 || y != 0) && l.fixed(record, at[3]) {
			// Positions are whole steps of 1e-7 degree.
			p.add(float64(x)/1e7, float64(y)/1e7, float64(rate))
		}
	}
}

// fixed says whether the receiver had a position: status 0 is none, 14 an error, 15 not available.
func (l logLayout) fixed(record []byte, status int) bool {
	return !l.fields[3] || record[status] != 0 && record[status] < 14
}
