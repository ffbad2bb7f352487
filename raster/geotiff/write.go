package geotiff

import (
	"context"
	"fmt"
	"io"

	"rootworthy/internal/ordered"
	"rootworthy/raster"
)

// Options says how a raster is written. The stored type is that of the grid: raster.Map makes another.
type Options[T raster.Number] struct {
	Nodata    T             // stored for missing cells and named as the no-data value; no cell may hold it as a value
	Overviews raster.Method // Nearest (zero) for classes and keys, Average for rates
	Tile      int           // side of a tile, a multiple of 16; 0 means 256
	Names     []string      // of the bands; may be fewer
	Units     []string      // of the bands, such as "kg/ha"; may be fewer
	Legend    []Label[T]    // what values of the first band mean, in the order given
}

// Label is the meaning of a value.
type Label[T raster.Number] struct {
	Value T
	Text  string
}

// maxTile keeps a tile within what readers hold at once.
const maxTile = 4096

// Write writes grids of one frame as the bands of a cloud-optimised GeoTIFF: tiles with deflate and the predictor of the
// type, overviews halved until they fit one tile, all directories in front, the data of the smallest overview first. The
// frame needs a system with an EPSG code. Same input, same bytes. The compressed raster is held in memory before the first
// byte is written; the error says what of the input cannot be written, or is that of w.
func Write[T raster.Number](ctx context.Context, w io.Writer, bands []*raster.Grid[T], opt Options[T]) error {
	if opt.Tile == 0 {
		opt.Tile = 256
	}
	if opt.Tile < 16 || opt.Tile > maxTile || opt.Tile%16 != 0 {
		return fmt.Errorf("tiles of %d cells a side; it must be a multiple of 16 up to %d", opt.Tile, maxTile)
	}
	// All is checked before anything is packed: a mistake in the last cell would cost all the work.
	if err := writable(bands, opt); err != nil {
		return err
	}
	tags, err := placeTags(bands[0].Frame())
	if err != nil {
		return err
	}
	levels, err := pyramid(bands, opt)
	if err != nil {
		return err
	}
	shots := make([]picture, len(levels))
	for i, grids := range levels {
		if shots[i], err = tile(ctx, grids, opt); err != nil {
			return err
		}
		shots[i].tags = append(shots[i].tags, valueTags(opt, i > 0, len(bands))...)
		// Overviews inherit place and names.
		if i == 0 {
			shots[i].tags = append(shots[i].tags, tags...)
			if text := metadataText(opt, len(bands)); text != "" {
				shots[i].tags = append(shots[i].tags, textTag(tagMetadata, text))
			}
		}
	}
	return assemble(w, shots)
}

// writable checks bands against each other and values against the no-data value.
func writable[T raster.Number](bands []*raster.Grid[T], opt Options[T]) error {
	if len(bands) == 0 || len(bands) > maxSamples {
		return fmt.Errorf("%d bands; a raster has 1 to %d", len(bands), maxSamples)
	}
	// a grid has no NaN or infinities to write, and NaN equals nothing that a reader could compare with
	if opt.Nodata-opt.Nodata != 0 {
		return fmt.Errorf("no-data value %v is not a finite number", opt.Nodata)
	}
	f := bands[0].Frame()
	for i, g := range bands {
		if h := g.Frame(); h.All() != f.All() || h.West != f.West || h.North != f.North || h.DX != f.DX || h.DY != f.DY {
			return fmt.Errorf("band %d has other cells than band 1", i+1)
		}
		for row := range f.Rows {
			values, gone := g.Row(row)
			for col, v := range values {
				// Such a cell would be missing for whoever reads the file.
				if v == opt.Nodata && (gone == nil || !gone[col]) {
					return fmt.Errorf("band %d: column %d, row %d holds %v, which is to mean missing; choose another no-data value",
						i+1, col, row, v)
				}
			}
		}
	}
	return nil
}

// pyramid returns the bands and their overviews.
func pyramid[T raster.Number](bands []*raster.Grid[T], opt Options[T]) ([][]*raster.Grid[T], error) {
	levels := [][]*raster.Grid[T]{bands}
	// until one tile holds all: whoever shows the whole then reads one block
	for last := bands; last[0].Frame().Cols > opt.Tile || last[0].Frame().Rows > opt.Tile; {
		half := make([]*raster.Grid[T], len(last))
		for i, g := range last {
			var err error
			if half[i], err = raster.Halve(g, opt.Overviews); err != nil {
				return nil, err
			}
		}
		levels, last = append(levels, half), half
	}
	return levels, nil
}

// picture is a level made ready: its compressed tiles by rows, and its tags but for those that say where the tiles lie.
type picture struct {
	tiles [][]byte
	tags  []field
}

// tile cuts a level into tiles and compresses them.
func tile[T raster.Number](ctx context.Context, grids []*raster.Grid[T], opt Options[T]) (picture, error) {
	f := grids[0].Frame()
	across, down := (f.Cols+opt.Tile-1)/opt.Tile, (f.Rows+opt.Tile-1)/opt.Tile
	tiles, err := ordered.Map(ctx, across*down, 0, func(i int) ([]byte, error) {
		return pack(grids, i%across*opt.Tile, i/across*opt.Tile, opt)
	})
	return picture{tiles: tiles, tags: []field{longTag(tagWidth, uint64(f.Cols)), longTag(tagHeight, uint64(f.Rows))}}, err
}
