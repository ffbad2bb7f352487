package exchange

import (
	"context"
	"io"

	"rootworthy/raster"
	"rootworthy/raster/geotiff"
	"rootworthy/suitability"
)

// Values that mean missing. 0 is a class and a decision about lime, so neither can be it.
const (
	noNumber = -9999
	noClass  = 255
)

// picture is one raster to write: grids of one frame, with their names and units.
type picture[T raster.Number] struct {
	bands   []*raster.Grid[T]
	options geotiff.Options[T]
}

// tiledWriters write cloud-optimised GeoTIFFs: lime, class, pH.
func tiledWriters() [3]func(*Set, context.Context, io.Writer) error {
	return [3]func(*Set, context.Context, io.Writer) error{
		func(s *Set, ctx context.Context, w io.Writer) error { return tiled(ctx, w, s.limePicture) },
		func(s *Set, ctx context.Context, w io.Writer) error { return tiled(ctx, w, s.classPicture) },
		func(s *Set, ctx context.Context, w io.Writer) error { return tiled(ctx, w, s.phPicture) },
	}
}

// tiled draws a picture and writes it in tiles, untiled in rows.
func tiled[T raster.Number](ctx context.Context, w io.Writer, draw func() (picture[T], error)) error {
	p, err := draw()
	if err != nil {
		return err
	}
	return geotiff.Write(ctx, w, p.bands, p.options)
}

// plainWriters write GeoTIFFs that any program reads: whole rows, not compressed.
func plainWriters() [3]func(*Set, context.Context, io.Writer) error {
	return [3]func(*Set, context.Context, io.Writer) error{
		func(s *Set, ctx context.Context, w io.Writer) error { return untiled(ctx, w, s, s.limePicture) },
		func(s *Set, ctx context.Context, w io.Writer) error { return untiled(ctx, w, s, s.classPicture) },
		func(s *Set, ctx context.Context, w io.Writer) error { return untiled(ctx, w, s, s.phPicture) },
	}
}

// untiled draws a picture and writes it plain; what it holds is told in the file itself.
func untiled[T plainNumber](ctx context.Context, w io.Writer, s *Set, draw func() (picture[T], error)) error {
	p, err := draw()
	if err != nil {
		return err
	}
	return writePlain(ctx, w, p, s.aboutText())
}

// limePicture is the likely lime requirement. The name of the band says what the figure is worth: readers show it.
func (s *Set) limePicture() (picture[float32], error) {
	name := "Lime requirement, lime_st_ac"
	if text := s.budget(); text != "" {
		name += ". " + text
	}
	g, err := s.numberGrid("lime_st_ac")
	return picture[float32]{[]*raster.Grid[float32]{g}, geotiff.Options[float32]{Nodata: noNumber, Overviews: raster.Average,
		Names: []string{name}, Units: []string{"short ton per acre"}}}, err
}

// phPicture has a band for each pH of which anything is known.
func (s *Set) phPicture() (picture[float32], error) {
	p := picture[float32]{options: geotiff.Options[float32]{Nodata: noNumber, Overviews: raster.Average}}
	for i, b := range [][2]string{{"ph_surface", "pH in water, 0 to 20 cm"}, {"ph_subsoil", "pH in water, 30 to 100 cm"}} {
		g, err := s.numberGrid(b[0])
		if err != nil {
			return p, err
		}
		// So a run without any pH still has the band of the surface, empty.
		if _, _, some := g.Range(); !some && (i == 0 && s.hasNumbers("ph_subsoil") || len(p.bands) > 0) {
			continue // a band without a value says nothing, but a raster needs one band
		}
		p.bands = append(p.bands, g)
		p.options.Names, p.options.Units = append(p.options.Names, b[0]+": "+b[1]), append(p.options.Units, "pH")
	}
	return p, nil
}

// hasNumbers says whether any zone has a value in a column.
func (s *Set) hasNumbers(name string) bool {
	of := s.column(name)
	for i := range s.zones.Rows {
		if _, ok := of(i); ok {
			return true
		}
	}
	return false
}

// numberGrid draws a column of numbers.
func (s *Set) numberGrid(name string) (*raster.Grid[float32], error) {
	of := s.column(name)
	return drawGrid(s.cells, func(row int) (float32, bool) {
		x, ok := of(row)
		return float32(x), ok
	})
}

// classPicture is the class once corrected.
func (s *Set) classPicture() (picture[uint8], error) {
	at := columnIndex(s.zones.Columns, "class")
	codes := map[string]uint8{}
	var legend []geotiff.Label[uint8]
	// In the order of their codes, in which legends show them.
	for _, c := range []suitability.Class{suitability.NotRated, suitability.Suited, suitability.Marginal, suitability.Unsuited} {
		codes[c.String()] = uint8(c)
		legend = append(legend, geotiff.Label[uint8]{Value: uint8(c), Text: c.String()})
	}
	g, err := drawGrid(s.cells, func(row int) (uint8, bool) {
		code, ok := codes[s.zones.Rows[row].Values[at].Text()]
		return code, ok
	})
	return picture[uint8]{[]*raster.Grid[uint8]{g}, geotiff.Options[uint8]{Nodata: noClass, Overviews: raster.Nearest,
		Names: []string{"Class once corrected: 0 not rated, 1 suited, 2 marginal, 3 unsuited"}, Legend: legend}}, err
}

// drawGrid makes a grid of a value for each zone.
func drawGrid[T raster.Number](c *cells, of func(row int) (T, bool)) (*raster.Grid[T], error) {
	// A cell without a zone and a zone without a value look the same on the map: nothing is known there.
	values, gone := make([]T, len(c.zone)), make([]bool, len(c.zone))
	for i, z := range c.zone {
		ok := false
		if z != nobody {
			values[i], ok = of(int(z))
		}
		gone[i] = !ok
	}
	return raster.FromCells(c.frame, values, gone)
}
