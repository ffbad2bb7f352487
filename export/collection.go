package export

import (
	"bufio"
	"io"
	"math"
	"strconv"

	"github.com/paulmach/orb"

	"rootworthy/suitability"
)

// collection is a GeoJSON FeatureCollection in the making: one feature a line, so that two runs can be compared line
// by line and a damaged file still yields most of its features. Its first error is kept.
type collection struct {
	w     *bufio.Writer
	b     []byte // the line being made, reused
	count int
}

// startCollection writes everything that stands before the features: what the run was made from, whose data they are
// and what every reader must be told, as foreign members (RFC 7946, section 6.1), and the box of all tidy shapes.
func startCollection(w io.Writer, title string, box orb.Bound, r *suitability.Result, words Sentences) *collection {
	c := &collection{w: bufio.NewWriterSize(w, 1<<16)}
	b := append(c.b, `{"type":"FeatureCollection","title":`...)
	b = appendString(b, title)
	// A file without any shape has no box; RFC 7946 knows no empty one.
	if box.Min[0] <= box.Max[0] {
		b = append(b, `,"bbox":[`...)
		for i, x := range [...]float64{box.Min[0], box.Min[1], box.Max[0], box.Max[1]} {
			if i > 0 {
				b = append(b, ',')
			}
			b = appendCoordinate(b, x)
		}
		b = append(b, ']')
	}
	b = append(b, `,"run":`...)
	b = appendRun(b, &r.Provenance)
	b = appendStrings(append(b, `,"sources":`...), Sources(&r.Provenance))
	b = appendStrings(append(b, `,"cautions":`...), words.Cautions)
	// Features last, so that what must be said of them is read before them, by people who open the file and by readers
	// that stream it.
	c.b = append(b, ",\"features\":["...)
	c.flush()
	return c
}

// appendRun appends what a reader needs to tell runs apart; the whole provenance is in run.json.
func appendRun(b []byte, p *suitability.Provenance) []byte {
	b = strconv.AppendInt(append(b, `{"schema":`...), int64(p.Schema), 10)
	for _, m := range [...][2]string{{"program", p.Program}, {"date", p.Date}, {"profile", p.Profile}, {"plane", p.Plane}} {
		// What is not known is left out rather than written as empty.
		if m[1] != "" {
			b = append(appendString(append(b, ','), m[0]), ':')
			b = appendString(b, m[1])
		}
	}
	return append(b, '}')
}

// appendStrings appends a list of strings as a JSON array, [] for none: readers need not tell null from empty.
func appendStrings(b []byte, list []string) []byte {
	b = append(b, '[')
	for i, s := range list {
		if i > 0 {
			b = append(b, ',')
		}
		b = appendString(b, s)
	}
	return append(b, ']')
}

// feature writes one feature with its id and geometry; properties is a JSON object, more is foreign members with
// their leading comma, or nil.
func (c *collection) feature(id string, shape orb.MultiPolygon, properties, more []byte) {
	if c.count > 0 {
		c.b = append(c.b, ',')
	}
	c.count++
	b := append(c.b, "\n{\"type\":\"Feature\",\"id\":"...)
	b = append(appendString(b, id), `,"geometry":`...)
	b = append(appendGeometry(b, shape), `,"properties":`...)
	b = append(append(b, properties...), more...)
	c.b = append(b, '}')
	c.flush()
}

// flush hands the line over; bufio keeps the first error.
func (c *collection) flush() {
	c.w.Write(c.b)
	c.b = c.b[:0]
}

// close ends the file and returns the first error of all writing.
func (c *collection) close() error {
	c.b = append(c.b, "\n]}\n"...)
	c.flush()
	return c.w.Flush()
}

// noBox contains nothing; any point widens it.
func noBox() orb.Bound {
	return orb.Bound{Min: orb.Point{math.Inf(1), math.Inf(1)}, Max: orb.Point{math.Inf(-1), math.Inf(-1)}}
}

// widen grows a box by a tidy shape; outer rings are enough.
func widen(box *orb.Bound, shape orb.MultiPolygon) {
	for _, polygon := range shape {
		for _, p := range polygon[0] {
			*box = orb.Bound{Min: orb.Point{min(box.Min[0], p[0]), min(box.Min[1], p[1])}, Max: orb.Point{max(box.Max[0], p[0]), max(box.Max[1], p[1])}}
		}
	}
}
