package web

import (
	"bytes"
	"compress/gzip"
	"fmt"
	"net/http"
	"strconv"
	"strings"
	"sync"

	"github.com/paulmach/orb"
)

// Parts of the geometry of a run, each a GeoJSON that the map's own thread fetches and takes apart, so that the page does
// not stand still over it. That thread hands each back to the page whole, so zones come in pieces.
const (
	partZones   = "zones" // and the number of the piece
	partFields  = "fields"
	partOutside = "outside"
	zonesAPiece = 2500
)

// packed are the shapes of a run as they are sent, each made when first asked for. They hold nothing that a what-if moves.
type packed struct {
	index func() ([]byte, error)
	parts map[string]func() ([]byte, error)
}

func newPacked(l *loaded) packed {
	fields := make([]orb.MultiPolygon, len(l.result.Fields))
	var outside []orb.MultiPolygon
	for i := range l.result.Fields {
		fields[i] = l.result.Fields[i].Shape
		if o := l.result.Fields[i].Outside; len(o) > 0 {
			outside = append(outside, o)
		}
	}
	zones := make([]orb.MultiPolygon, len(l.zones))
	for i, z := range l.zones {
		zones[i] = z.Shape
	}
	collection := func(first int, shapes []orb.MultiPolygon) func() ([]byte, error) {
		return sync.OnceValues(func() ([]byte, error) { return packCollection(first, shapes) })
	}
	p := packed{
		index: sync.OnceValues(func() ([]byte, error) { return packIndex(zones, fields) }),
		parts: map[string]func() ([]byte, error){partFields: collection(0, fields), partOutside: collection(0, outside)},
	}
	for k := range pieces(len(zones)) {
		from := k * zonesAPiece
		p.parts[partZones+strconv.Itoa(k)] = collection(from, zones[from:min(from+zonesAPiece, len(zones))])
	}
	return p
}

// pieces is in how many pieces zones come, one at least.
func pieces(zones int) int { return max(1, (zones+zonesAPiece-1)/zonesAPiece) }

// shapes sends what the page itself needs of the geometry: boxes of zones and fields, and a point in each zone for its letter.
func (s *Server) shapes(w http.ResponseWriter, r *http.Request) {
	if _, l, ok := s.opened(w, r); ok {
		s.sendPacked(w, r, l.shapes.index)
	}
}

// shapePart sends a part of the geometry to the map.
func (s *Server) shapePart(w http.ResponseWriter, r *http.Request) {
	_, l, ok := s.opened(w, r)
	if !ok {
		return
	}
	make, ok := l.shapes.parts[r.PathValue("part")]
	if !ok {
		s.fail(w, r, http.StatusNotFound, "A run has no such shapes.")
		return
	}
	s.sendPacked(w, r, make)
}

// shape sends the shape of one zone, to be lit up.
func (s *Server) shape(w http.ResponseWriter, r *http.Request) {
	_, l, ok := s.opened(w, r)
	if !ok {
		return
	}
	n, err := strconv.Atoi(r.PathValue("zone"))
	if err != nil || n < 0 || n >= len(l.zones) {
		s.fail(w, r, http.StatusNotFound, "There is no such zone.")
		return
	}
	w.Header().Set("Content-Type", "application/json")
	w.Write(appendFeature(nil, n, cornersOf(l.zones[n].Shape, coarse)))
}

// sendPacked sends JSON that is kept packed.
func (s *Server) sendPacked(w http.ResponseWriter, r *http.Request, make func() ([]byte, error)) {
	packed, err := make()
	if err != nil {
		s.fail(w, r, http.StatusInternalServerError, err.Error())
		return
	}
	w.Header().Set("Content-Type", "application/json")
	// every browser takes gzip; this is for other programs, and is not kept
	if !strings.Contains(r.Header.Get("Accept-Encoding"), "gzip") {
		if z, err := gzip.NewReader(bytes.NewReader(packed)); err == nil {
			var plain bytes.Buffer
			if _, err := plain.ReadFrom(z); err == nil {
				w.Write(plain.Bytes())
				return
			}
		}
	}
	w.Header().Set("Content-Encoding", "gzip")
	w.Write(packed)
}

// pack collects JSON piece by piece.
func pack(pieces func(write func([]byte) error) error) ([]byte, error) {
	var packed bytes.Buffer
	// the way is short, so the time to pack counts more than the size
	z, err := gzip.NewWriterLevel(&packed, gzip.BestSpeed)
	if err != nil {
		return nil, err
	}
	if err := pieces(func(b []byte) error { _, err := z.Write(b); return err }); err != nil {
		return nil, err
	}
	if err := z.Close(); err != nil {
		return nil, err
	}
	return packed.Bytes(), nil
}

// coarse is how far in degrees the lines of a map may lie from those of the run: a tenth of a metre, as the map's own
// digits. A run has a point wherever zones meet a line; without them more than half of a county's points are gone.
const coarse = 1e-6

// packCollection writes shapes as a GeoJSON, each under its number.
func packCollection(first int, shapes []orb.MultiPolygon) ([]byte, error) {
	return pack(func(write func([]byte) error) error {
		b := []byte(`{"type":"FeatureCollection","features":[`)
		for i, s := range shapes {
			if i > 0 {
				b = append(b, ',')
			}
			if err := write(appendFeature(b, first+i, cornersOf(s, coarse))); err != nil {
				return err
			}
			b = b[:0]
		}
		return write(append(b, `]}`...))
	})
}

// packIndex writes boxes and letters.
func packIndex(zones, fields []orb.MultiPolygon) ([]byte, error) {
	return pack(func(write func([]byte) error) error {
		list := func(b []byte, name string, shapes []orb.MultiPolygon, one func([]byte, orb.MultiPolygon) []byte) []byte {
			b = append(append(b, name...), '[')
			for i, s := range shapes {
				if i > 0 {
					b = append(b, ',')
				}
				b = one(b, s)
			}
			return append(b, ']')
		}
		b := fmt.Appendf(nil, `{"pieces":%d,"apiece":%d,`, pieces(len(zones)), zonesAPiece)
		b = list(b, `"zones":`, zones, appendBox)
		b = list(append(b, ','), `"fields":`, fields, appendBox)
		b = list(append(b, ','), `"letters":`, zones, func(b []byte, s orb.MultiPolygon) []byte { return appendPoint(b, innerPoint(s)) })
		return write(append(b, '}'))
	})
}

// appendBox writes the corners of a box as a map wants them, null for nothing.
func appendBox(b []byte, shape orb.MultiPolygon) []byte {
	if len(shape) == 0 {
		return append(b, "null"...)
	}
	box := shape.Bound()
	b = append(appendPoint(append(b, '['), box.Min), ',')
	return append(appendPoint(b, box.Max), ']')
}

// appendFeature writes a shape under its number. A map at arm's length shows no more than six decimals, 0.1 m.
func appendFeature(b []byte, i int, shape orb.MultiPolygon) []byte {
	b = append(b, `{"type":"Feature","id":`...)
	b = strconv.AppendInt(b, int64(i), 10)
	b = append(b, `,"properties":{},"geometry":{"type":"MultiPolygon","coordinates":[`...)
	for j, polygon := range shape {
		if j > 0 {
			b = append(b, ',')
		}
		b = append(b, '[')
		for k, ring := range polygon {
			if k > 0 {
				b = append(b, ',')
			}
			b = append(b, '[')
			for n, p := range ring {
				if n > 0 {
					b = append(b, ',')
				}
				b = appendPoint(b, p)
			}
			b = append(b, ']')
		}
		b = append(b, ']')
	}
	return append(b, `]}}`...)
}

func appendPoint(b []byte, p orb.Point) []byte {
	b = append(b, '[')
	b = strconv.AppendFloat(b, p[0], 'f', 6, 64)
	b = append(b, ',')
	b = strconv.AppendFloat(b, p[1], 'f', 6, 64)
	return append(b, ']')
}
