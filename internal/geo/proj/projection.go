package proj

import "math"

// projection maps longitude and latitude in radians to a plane in metres, before any false origin, and back. Both
// directions report false outside the domain; what they return then is not to be used.
type projection interface {
	forward(lon, lat float64) (x, y float64, ok bool)
	inverse(x, y float64) (lon, lat float64, ok bool)
}

const degree = math.Pi / 180

// turn brings a difference of longitudes in radians into -π..π.
func turn(lon float64) float64 {
	if lon >= -math.Pi && lon <= math.Pi { // nearly always; also keeps the exact value
		return lon
	}
	return math.Remainder(lon, 2*math.Pi)
}

// finite tells whether neither number is NaN or infinite.
func finite(x, y float64) bool { return x-x == 0 && y-y == 0 }

// onEarth tells whether lon, lat in degrees are a place; NaN is none.
func onEarth(lon, lat float64) bool {
	return lon >= -180 && lon <= 180 && lat >= -90 && lat <= 90
}
