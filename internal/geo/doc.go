// Package geo holds the exact ground under every overlay: points on an integer grid, the sign of an area, and
// what makes a polygon valid.
//
// Coordinates that come in as float64 metres of an equal-area plane (or as degrees) are rounded once to whole grid
// units and are whole numbers from then on. Decisions between them (which side, inside or not, which crossing comes
// first) are exact, so neighbours that share an edge always decide alike about it, and no tolerance is needed.
package geo
