package change

import (
	"math"

	"rootworthy/soils/unit"
)

// tenths is a figure as it is printed: figures that look alike to everybody count as alike. pH and lime are both printed to tenths, of a unit and
// of a short ton an acre; a run does not know them better.
func tenths(x float64) float64 { return math.Round(10 * x) }

// Moved says on how much ground of both runs a figure is higher or lower in the second one.
type Moved struct {
	Up, Down, Alike unit.Area
	// Gained and Lost is ground with a figure in the second run alone, and in the first alone.
	Gained, Lost unit.Area
	// Small is ground on which the figure differs in parts too small or too narrow to be told.
	Small unit.Area

	up, down float64 // differences times m²
}

// add takes in a pair that has the figure a in the first run and b in the second.
func (m *Moved) add(p Pair, a, b unit.Opt[float64]) {
	x, inA := a.Get()
	y, inB := b.Get()
	large := p.Area - p.Small
	switch d := tenths(y) - tenths(x); {
	case !inA && !inB: // rock, water, ground that nobody rates: there is nothing to be moved
		return
	case !inA:
		m.Gained += large
	case !inB:
		m.Lost += large
	case d > 0:
		m.Up += large
		m.up += (y - x) * float64(large)
	case d < 0:
		m.Down += large
		m.down += (y - x) * float64(large)
	default:
		m.Alike += p.Area // slivers too: nothing of it is told as moved
		return
	}
	m.Small += p.Small
}

// ByUp is by how much the figure is higher where it is, the mean by area; missing where it is higher nowhere.
func (m *Moved) ByUp() unit.Opt[float64] { return mean(m.up, m.Up) }

// ByDown is by how much the figure is lower where it is, below zero.
func (m *Moved) ByDown() unit.Opt[float64] { return mean(m.down, m.Down) }

func mean(sum float64, area unit.Area) unit.Opt[float64] {
	if area <= 0 {
		return unit.None[float64]()
	}
	return unit.Some(sum / float64(area))
}
