package terrain

import (
	"context"
	"fmt"
	"math"

	"rootworthy/raster"
)

// Sun says from where ground is lit. The zero value is the light of maps: from the north-west, half way up, so that hills
// look like hills to those who read by a lamp at their left. Common practice, no source.
type Sun struct {
	Azimuth, Altitude float64 // degrees clockwise from north, and above the horizon; an Altitude of 0 means 315 and 45
	Exaggeration      float64 // heights are drawn so many times as high; 0 means 1
}

// Hillshade returns how much light falls on every cell: 1 where the sun stands at right angles to the ground, 0 where the
// ground turns away from it. What one hill throws on another is left out. Cells without a full neighbourhood are missing.
//
//	light = max(0, cos Z cos S + sin Z sin S cos(A - aspect))
//
// with Z the sun's angle from the zenith, A its azimuth, S the slope's angle, and the gradients of Horn.
//
// Source: Horn, Hill shading and the reflectance map, Proc. IEEE 69 (1981).
func Hillshade[T raster.Number](ctx context.Context, z *raster.Grid[T], g Ground, sun Sun) (*raster.Grid[float64], error) {
	// The azimuth goes with it: light from the horizon is no light, so an altitude of 0 can only mean that none was given.
	if sun.Altitude == 0 {
		sun.Azimuth, sun.Altitude = 315, 45
	}
	if sun.Exaggeration == 0 {
		sun.Exaggeration = 1
	}
	if !(sun.Altitude > 0 && sun.Altitude <= 90) || !(math.Abs(sun.Azimuth) <= 360) || !(sun.Exaggeration > 0) || math.IsInf(sun.Exaggeration, 0) {
		return nil, fmt.Errorf("a sun in %v degrees, %v above the horizon, over heights exaggerated %v times; it stands between 0 and 90 degrees high, and heights grow by a positive number",
			sun.Azimuth, sun.Altitude, sun.Exaggeration)
	}
	sinA, cosA := math.Sincos(sun.Azimuth * math.Pi / 180)
	sinH, cosH := math.Sincos(sun.Altitude * math.Pi / 180)
	return eachGradient(ctx, z, g, func(dzdx, dzdy float64) (float64, bool) {
		east, north := sun.Exaggeration*dzdx, -sun.Exaggeration*dzdy // dzdy rises southwards
		// The normal of the ground is (-east, -north, 1) over its length; the light is its product with the way to the sun.
		return math.Max(0, (sinH-cosH*(east*sinA+north*cosA))/math.Sqrt(1+east*east+north*north)), true
	})
}
