package main

import (
	"encoding/json"

	"github.com/paulmach/orb"
)

// drawn is a field as a farmer would draw it: corners in local metres, counter-clockwise.
type drawn struct {
	id, name string
	corners  []orb.Point
	pond     []orb.Point
}

var fields = []drawn{
	{"F1", "Home Field", []orb.Point{{70, 1620}, {560, 1560}, {690, 1790}, {640, 2040}, {90, 2050}}, nil},
	{"F2", "Kiln Field", []orb.Point{{1010, 1650}, {1480, 1690}, {1760, 1800}, {1740, 2060}, {1000, 2050}}, nil},
	{"F3", "Ridge Top", []orb.Point{{2270, 1580}, {2660, 1530}, {2670, 2070}, {2160, 2060}}, nil},
	{"F4", "Long Piece", []orb.Point{{60, 960}, {560, 930}, {640, 1120}, {350, 1350}, {60, 1390}}, nil},
	{"F5", "Heron Bottom", []orb.Point{{980, 250}, {1500, 180}, {2180, 330}, {2120, 720}, {1560, 880}, {1160, 730}},
		[]orb.Point{{1500, 380}, {1500, 520}, {1720, 540}, {1760, 400}}},
	{"F6", "Middle Forty", []orb.Point{{1080, 1120}, {1620, 960}, {2120, 1060}, {2080, 1420}, {1700, 1560}, {1120, 1440}}, nil},
	{"F7", "East Gate", []orb.Point{{2330, 980}, {2940, 960}, {2960, 1280}, {2640, 1330}, {2320, 1260}}, nil},
}

const customer, farm = "Tarn Hollow Estate (invented)", "Tarn Hollow"

// collection returns the fields as GeoJSON, one feature a line.
func collection() []byte {
	out := []byte("{\"type\":\"FeatureCollection\",\"name\":\"Tarn Hollow, an invented farm on open sea\",\"features\":[\n")
	for i, f := range fields {
		rings := [][]orb.Point{closed(f.corners)}
		if f.pond != nil {
			rings = append(rings, closed(f.pond))
		}
		b, _ := json.Marshal(map[string]any{
			"type": "Feature", "id": f.id,
			"properties": map[string]any{"name": f.name, "owner": customer, "farm": farm, "sod": "hybrid bermudagrass"},
			"geometry":   map[string]any{"type": "Polygon", "coordinates": rings},
		})
		out = append(out, b...)
		if i < len(fields)-1 {
			out = append(out, ',')
		}
		out = append(out, '\n')
	}
	return append(out, "]}\n"...)
}

func closed(ps []orb.Point) []orb.Point {
	var out []orb.Point
	for _, p := range ps {
		out = append(out, lonLat(p))
	}
	return append(out, out[0])
}
