// Package terrain reads the shape of the ground from a grid of heights: how steep it is and which way it falls, where
// water gathers and where it cannot leave.
//
//	slope, err := terrain.Slope(ctx, heights, terrain.Ground{HeightMetres: 0.3048}) // percent; heights in feet
//	wet, err := terrain.Wetness(ctx, heights, terrain.Ground{}, terrain.WetnessOptions{})
//	hollows, depth, err := terrain.Depressions(ctx, heights, terrain.Ground{}, terrain.DepressionOptions{MinDepth: 0.1})
//	light, err := terrain.Hillshade(ctx, heights, terrain.Ground{}, terrain.Sun{}) // 0 dark … 1 light, for maps
//
// Everything is reckoned in metres in both axes: from the unit of the system, or, for degrees, from the size of a degree
// in the cell's latitude. Heights may be in any unit that [Ground] names; a raster hardly ever says it.
//
// A cell at the edge of the raster or beside a missing cell has no full neighbourhood. It is missing in [Slope] and
// [Aspect], never filled in: gradients guessed at the edge look like ground.
package terrain
