package web

import (
	"net/http"
	"strconv"

	"github.com/paulmach/orb"
	"github.com/paulmach/orb/planar"
	"github.com/paulmach/orb/simplify"
)

// straight is how far in degrees a corner may lie off the line between its neighbours to be no corner of the user's: a run
// puts one into the outline of a field wherever zones meet it, on the grid of seven decimals.
const straight = 1.5e-7

// boundary is a field's outline as the run holds it, every part and hole, to be corrected. The shapes of the map are
// too coarse for that.
type boundary struct {
	ID          string           `json:"id"`
	Name        string           `json:"name"`
	Coordinates orb.MultiPolygon `json:"coordinates"`
}

// boundary sends the outline of the field that a zone lies in.
func (s *Server) boundary(w http.ResponseWriter, r *http.Request) {
	_, l, ok := s.opened(w, r)
	if !ok {
		return
	}
	n, err := strconv.Atoi(r.URL.Query().Get("zone"))
	if err != nil || n < 0 || n >= len(l.zones) {
		s.fail(w, r, http.StatusNotFound, "There is no such zone.")
		return
	}
	i, ok := l.field[l.zones[n].FieldID]
	if !ok {
		s.fail(w, r, http.StatusNotFound, "The run does not hold the field of this zone.")
		return
	}
	f := &l.result.Fields[i]
	answer(w, http.StatusOK, boundary{f.ID, f.Name, cornersOf(f.Shape, straight)})
}

// cornersOf returns a shape without the points at which its line goes straight on, but for some degrees aside.
func cornersOf(shape orb.MultiPolygon, aside float64) orb.MultiPolygon {
	out := make(orb.MultiPolygon, len(shape))
	for i, p := range shape {
		out[i] = make(orb.Polygon, len(p))
		for j, r := range p {
			out[i][j] = r
			s := simplify.DouglasPeucker(aside).Ring(r.Clone())
			if n := len(s); n > 4 && planar.DistanceFromSegment(s[n-2], s[1], s[0]) <= aside { // a ring may begin amid a line
				s = append(s[1:n-1], s[1])
			}
			if len(s) >= 4 {
				out[i][j] = s
			}
		}
	}
	return out
}
