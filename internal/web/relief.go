package web

import (
	"bytes"
	"context"
	"fmt"
	"image"
	"image/color"
	"image/png"
	"math"
	"net/http"
	"sync"
	"time"

	"github.com/paulmach/orb"

	"rootworthy/internal/diag"
	"rootworthy/internal/job"
	"rootworthy/suitability"
)

// Shader works out the light on the ground of a run; nil where it has none.
type Shader func(ctx context.Context, r *suitability.Result, faults *diag.List) (*job.Shading, error)

// relief is the lie of the land under a run's zones. It decides nothing.
type relief struct {
	shading *job.Shading
	Note    string      // for people: how it is drawn, or why it is not
	Bound   *[4]float64 // west, south, east, north of the picture; nil where there is none
	picture func() ([]byte, error)
}

const (
	mostShading  = 2 * time.Minute
	reliefPixels = 1536 // longest side of the picture
	darkest      = 0.40 // of black over ground in full shade: the fills must still be told apart
	lightest     = 0.18 // of white over ground in full light
	mostMercator = 85   // degrees of latitude, where the map ends
)

// reliefOf makes the relief of a run once it is asked for; nil when no heights are given.
func reliefOf(shade Shader, r *suitability.Result) func() *relief {
	if shade == nil {
		return func() *relief { return nil }
	}
	return sync.OnceValue(func() *relief {
		ctx, cancel := context.WithTimeout(context.Background(), mostShading)
		defer cancel()
		var faults diag.List
		s, err := shade(ctx, r, &faults)
		switch {
		case err != nil:
			return &relief{Note: "The relief cannot be drawn: " + err.Error()}
		case s == nil:
			return &relief{Note: "There is no relief: " + faults.String()}
		}
		b := s.Bound()
		out := &relief{shading: s, Bound: &[4]float64{b.Min[0], b.Min[1], b.Max[0], b.Max[1]}, picture: sync.OnceValues(func() ([]byte, error) { return reliefPicture(s) })}
		out.Note = "Relief: light from the north-west."
		if s.Exaggeration > 1 {
			out.Note = fmt.Sprintf("Relief: light from the north-west, heights drawn %g times as high as they are.", s.Exaggeration)
		}
		return out
	})
}

// light is what the drawn map asks of the relief.
func (r *relief) light() func(orb.Point) (float64, bool) {
	if r == nil || r.shading == nil {
		return nil
	}
	return r.shading.Light
}

// reliefImage sends the relief as a picture to lay over the map: a veil, dark in shade, white in light, clear where level.
func (s *Server) reliefImage(w http.ResponseWriter, r *http.Request) {
	_, l, ok := s.opened(w, r)
	if !ok {
		return
	}
	relief := l.relief()
	if relief.light() == nil {
		s.fail(w, r, http.StatusNotFound, "This run has no relief.")
		return
	}
	b, err := relief.picture()
	if err != nil {
		s.fail(w, r, http.StatusInternalServerError, err.Error())
		return
	}
	w.Header().Set("Content-Type", "image/png")
	w.Write(b)
}

// reliefPicture paints the light on the plane of the map (Mercator): a picture is stretched over it by its corners alone.
func reliefPicture(s *job.Shading) ([]byte, error) {
	b := s.Bound()
	south, north := mercator(math.Max(b.Min[1], -mostMercator)), mercator(math.Min(b.Max[1], mostMercator))
	wide, high := (b.Max[0]-b.Min[0])*math.Pi/180, north-south
	if !(wide > 0 && high > 0) {
		return nil, fmt.Errorf("the heights cover no ground")
	}
	scale := reliefPixels / math.Max(wide, high)
	img := image.NewPaletted(image.Rect(0, 0, max(1, int(math.Round(wide*scale))), max(1, int(math.Round(high*scale)))), veils())
	size := img.Bounds().Size()
	for y := range size.Y {
		lat := latitude(north - (float64(y)+0.5)/float64(size.Y)*high)
		for x := range size.X {
			lon := b.Min[0] + (float64(x)+0.5)/float64(size.X)*(b.Max[0]-b.Min[0])
			if light, ok := s.Light(orb.Point{lon, lat}); ok {
				img.SetColorIndex(x, y, veilOf(light))
			}
		}
	}
	var out bytes.Buffer
	err := png.Encode(&out, img)
	return out.Bytes(), err
}

// Colours of the veil: 0 is clear, up to dark is shade, the rest light.
const shades = 120

func veils() color.Palette {
	p := color.Palette{color.NRGBA{}}
	for i := 1; i <= shades; i++ {
		p = append(p, color.NRGBA{0x1a, 0x1a, 0x1a, uint8(math.Round(255 * darkest * float64(i) / shades))})
	}
	for i := 1; i <= shades; i++ {
		p = append(p, color.NRGBA{0xff, 0xff, 0xff, uint8(math.Round(255 * lightest * float64(i) / shades))})
	}
	return p
}

// veilOf returns the colour for a light; level ground, which gets the sine of the sun's 45 degrees, stays clear.
func veilOf(light float64) uint8 {
	const level = math.Sqrt2 / 2
	if light < level {
		return uint8(math.Round(shades * (level - light) / level))
	}
	step := math.Round(shades * math.Min(1, (light-level)/(1-level)))
	if step == 0 {
		return 0
	}
	return uint8(shades + step)
}

func mercator(lat float64) float64 { return math.Asinh(math.Tan(lat * math.Pi / 180)) }
func latitude(y float64) float64   { return math.Atan(math.Sinh(y)) * 180 / math.Pi }
