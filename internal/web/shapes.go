package web

import (
	"bytes"
	"compress/gzip"
	"net/http"
	"strconv"
	"strings"

	"github.com/paulmach/orb"
)

// shapes sends the geometry of a run to the map: zones, fields and a point in each zone for its letter. It holds nothing
// that a what-if moves.
func (s *Server) shapes(w http.ResponseWriter, r *http.Request) {
	_, l, ok := s.opened(w, r)
	if !ok {
		return
	}
	packed, err := l.shapes()
	if err != nil {
		s.fail(w, r, http.StatusInternalServerError, err.Error())
		return
	}
	w.Header().Set("Content-Type", "application/json")
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

// packShapes writes the geometry once and for all.
func packShapes(l *loaded) ([]byte, error) {
	var packed bytes.Buffer
	z, err := gzip.NewWriterLevel(&packed, gzip.BestSpeed)
	if err != nil {
		return nil, err
	}
	b := []byte(`{"zones":{"type":"FeatureCollection","features":[`)
	flush := func() error { _, err := z.Write(b); b = b[:0]; return err }
	for i, zone := range l.zones {
		b = appendFeature(b, i, zone.Shape)
		if err := flush(); err != nil {
			return nil, err
		}
	}
	b = append(b, `]},"fields":{"type":"FeatureCollection","features":[`...)
	for i := range l.result.Fields {
		b = appendFeature(b, i, l.result.Fields[i].Shape)
		if err := flush(); err != nil {
			return nil, err
		}
	}
	b = append(b, `]},"outside":{"type":"FeatureCollection","features":[`...)
	n := 0
	for i := range l.result.Fields {
		if len(l.result.Fields[i].Outside) > 0 {
			b = appendFeature(b, n, l.result.Fields[i].Outside)
			n++
		}
	}
	b = append(b, `]},"letters":[`...)
	for i, zone := range l.zones {
		if i > 0 {
			b = append(b, ',')
		}
		b = appendPoint(b, innerPoint(zone.Shape))
	}
	b = append(b, `]}`...)
	if err := flush(); err != nil {
		return nil, err
	}
	if err := z.Close(); err != nil {
		return nil, err
	}
	return packed.Bytes(), nil
}

// appendFeature writes a shape under its number. A map at arm's length shows no more than six decimals, 0.1 m.
func appendFeature(b []byte, i int, shape orb.MultiPolygon) []byte {
	if i > 0 {
		b = append(b, ',')
	}
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
