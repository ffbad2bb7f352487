package mapdraw

import (
	"encoding/binary"
	"image"
	"image/draw"
	"image/png"
	"io"
	"math"

	"golang.org/x/image/vector"
)

// mostPixels bounds a picture: 16 megapixels, a letter page at 400 dots an inch.
const mostPixels = 1 << 24

// PNG writes the drawing as a picture of perUnit pixels a unit, on white. A picture that would be beyond all use is
// made as large as allowed.
func (d *Drawing) PNG(w io.Writer, perUnit float64) error {
	enc := png.Encoder{CompressionLevel: png.DefaultCompression}
	return enc.Encode(w, d.Image(perUnit))
}

// Image paints the drawing as a picture.
func (d *Drawing) Image(perUnit float64) *image.RGBA {
	// Written so that NaN is caught too.
	if most := math.Sqrt(mostPixels / max(1, d.Width*d.Height)); !(perUnit < most) {
		perUnit = most
	}
	im := image.NewRGBA(image.Rect(0, 0, int(math.Ceil(d.Width*perUnit)), int(math.Ceil(d.Height*perUnit))))
	draw.Draw(im, im.Bounds(), image.White, image.Point{}, draw.Src)
	d.Play(&raster{im: im, k: perUnit})
	return im
}

// raster paints on a picture.
type raster struct {
	im   *image.RGBA
	k    float64 // pixels in a unit
	z    vector.Rasterizer
	mask []uint8 // how much of each pixel of a box a shape covers, 0 to 255; reused from shape to shape
}

// paint fills what shape draws, within a box in units. Shapes that overlap in one call are one shape.
func (r *raster) paint(low, high Point, c Color, shape func(pen)) {
	// A pixel more on every side, for the soft edges.
	box := image.Rect(int(math.Floor(low.X*r.k))-1, int(math.Floor(low.Y*r.k))-1, int(math.Ceil(high.X*r.k))+1, int(math.Ceil(high.Y*r.k))+1).Intersect(r.im.Bounds())
	if box.Empty() {
		return
	}
	r.z.Reset(box.Dx(), box.Dy())
	// The mask is used again, so what it held before is written over.
	r.z.DrawOp = draw.Src
	shape(pen{&r.z, r.k, Point{float64(box.Min.X), float64(box.Min.Y)}})
	if n := box.Dx() * box.Dy(); n > len(r.mask) {
		r.mask = make([]uint8, n)
	}
	mask := &image.Alpha{Pix: r.mask, Stride: box.Dx(), Rect: image.Rect(0, 0, box.Dx(), box.Dy())}
	r.z.Draw(mask, mask.Rect, image.Opaque, image.Point{})
	for y := range box.Dy() {
		at := r.im.PixOffset(box.Min.X, box.Min.Y+y)
		blend(r.im.Pix[at:at+4*box.Dx()], mask.Pix[y*mask.Stride:(y+1)*mask.Stride], c)
	}
}

// blend lays a colour over a row of opaque pixels, as far as the mask covers each. Lines and hatchings cover little of their boxes,
// so eight bare pixels at a time are passed over; that is most of the speed of a picture.
func blend(row, mask []uint8, c Color) {
	for x := 0; x < len(mask); x++ {
		for x+8 <= len(mask) && binary.NativeEndian.Uint64(mask[x:]) == 0 {
			x += 8
		}
		if x == len(mask) {
			return
		}
		a := uint32(mask[x])
		if a == 0 {
			continue
		}
		p := row[4*x : 4*x+3]
		if a == 255 {
			p[0], p[1], p[2] = c.R, c.G, c.B
			continue
		}
		// 127 of 255 rounds to the nearest value.
		over := func(old, new uint8) uint8 { return uint8((uint32(old)*(255-a) + uint32(new)*a + 127) / 255) }
		p[0], p[1], p[2] = over(p[0], c.R), over(p[1], c.G), over(p[2], c.B)
	}
}

// pen moves over a rasterizer in units of the drawing.
type pen struct {
	z      *vector.Rasterizer
	k      float64
	origin Point
}

// at is a place of the drawing in pixels of the picture that is being painted.
func (p pen) at(q Point) (x, y float32) {
	return float32(q.X*p.k - p.origin.X), float32(q.Y*p.k - p.origin.Y)
}

// ring draws one closed ring.
func (p pen) ring(points []Point) {
	for i, q := range points {
		if x, y := p.at(q); i == 0 {
			p.z.MoveTo(x, y)
		} else {
			p.z.LineTo(x, y)
		}
	}
	p.z.ClosePath()
}

// circle draws a circle as four arcs, each of which a cubic meets within 0.03 percent of the radius.
func (p pen) circle(c Point, radius float64) {
	const bend = 0.5522847498 // 4/3 (sqrt 2 - 1)
	b := bend * radius
	x, y := p.at(Point{c.X + radius, c.Y})
	p.z.MoveTo(x, y)
	dx, dy := 1.0, 0.0
	for range 4 {
		ex, ey := -dy, dx // a quarter turn on
		x1, y1 := p.at(Point{c.X + dx*radius + ex*b, c.Y + dy*radius + ey*b})
		x2, y2 := p.at(Point{c.X + ex*radius + dx*b, c.Y + ey*radius + dy*b})
		x3, y3 := p.at(Point{c.X + ex*radius, c.Y + ey*radius})
		p.z.CubeTo(x1, y1, x2, y2, x3, y3)
		dx, dy = ex, ey
	}
	p.z.ClosePath()
}

// Fill relies on holes running against their outer ring.
func (r *raster) Fill(rings [][]Point, c Color) {
	low, high := bounds(rings)
	r.paint(low, high, c, func(p pen) {
		for _, ring := range rings {
			p.ring(ring)
		}
	})
}

// Stroke paints each straight piece as a band and each end and sharp corner as a circle, all running the same way
// round, so that where they overlap they are one. Slight corners get no circle: the soft edges of circle and band would
// add up to a knot in the line.
func (r *raster) Stroke(paths [][]Point, closed bool, width float64, c Color) {
	low, high := bounds(paths)
	h := width / 2
	r.paint(Point{low.X - h, low.Y - h}, Point{high.X + h, high.Y + h}, c, func(p pen) {
		for _, path := range paths {
			for i, a := range path {
				if cornerAt(path, i, closed) {
					p.circle(a, h)
				}
				if i+1 < len(path) || closed {
					p.band(a, path[(i+1)%len(path)], h)
				}
			}
		}
	})
}

// slightTurn is the cosine of 18 degrees; the gap that such a corner leaves is under a tenth of the width.
const slightTurn = 0.95

// cornerAt says whether a line ends at a point or turns sharply there.
func cornerAt(path []Point, i int, closed bool) bool {
	n := len(path)
	if !closed && (i == 0 || i == n-1) {
		return true
	}
	a, b, c := path[(i+n-1)%n], path[i], path[(i+1)%n]
	ux, uy, vx, vy := b.X-a.X, b.Y-a.Y, c.X-b.X, c.Y-b.Y
	return ux*vx+uy*vy < slightTurn*math.Hypot(ux, uy)*math.Hypot(vx, vy)
}

// band draws a straight piece of a line, turning as circle does.
func (p pen) band(a, b Point, h float64) {
	dx, dy := b.X-a.X, b.Y-a.Y
	length := math.Hypot(dx, dy)
	if length == 0 {
		return
	}
	nx, ny := -dy/length*h, dx/length*h
	p.ring([]Point{{a.X - nx, a.Y - ny}, {b.X - nx, b.Y - ny}, {b.X + nx, b.Y + ny}, {a.X + nx, a.Y + ny}})
}

// Dots paints circles.
func (r *raster) Dots(centres []Point, radius float64, c Color) {
	low, high := bounds([][]Point{centres})
	r.paint(Point{low.X - radius, low.Y - radius}, Point{high.X + radius, high.Y + radius}, c, func(p pen) {
		for _, at := range centres {
			p.circle(at, radius)
		}
	})
}

// Write paints the outlines of letters.
func (r *raster) Write(t Text) {
	f := faceOf(t.Bold)
	width := TextWidth(t.Text, t.Size, t.Bold)
	x := -width * [...]float64{0, 0.5, 1}[t.Anchor]
	// A box that holds every letter with its accents and tails, and a little more: what is painted outside it would be cut off.
	low, high := Point{t.At.X + x - t.Size, t.At.Y - 1.5*t.Size}, Point{t.At.X + x + width + t.Size, t.At.Y + t.Size}
	if t.Up {
		low, high = Point{t.At.X - 1.5*t.Size, t.At.Y - x - width - t.Size}, Point{t.At.X + t.Size, t.At.Y - x + t.Size}
	}
	r.paint(low, high, t.Color, func(p pen) {
		for _, letter := range t.Text {
			at := func(q Point) (float32, float32) {
				u, v := x+q.X*t.Size, q.Y*t.Size
				if t.Up {
					return p.at(Point{t.At.X + v, t.At.Y - u})
				}
				return p.at(Point{t.At.X + u, t.At.Y + v})
			}
			// A letter may have several outlines, and each is closed before the next begins.
			f.outline(letter, func(q Point) { p.z.ClosePath(); p.z.MoveTo(at(q)) }, func(q Point) { p.z.LineTo(at(q)) }, func(c, q Point) {
				cx, cy := at(c)
				qx, qy := at(q)
				p.z.QuadTo(cx, cy, qx, qy)
			})
			p.z.ClosePath()
			x += f.advance(letter) * t.Size
		}
	})
}
