package lime

import (
	"rootworthy/soils/unit"
)

// Table is a user's own table of lime by buffer pH and target, as [ReadTable] reads it.
type Table struct {
	Name    string
	Source  string
	Buffer  Buffer
	Quality Quality // of the lime that the table means
	Slice   unit.Opt[unit.Depth]
	States  []string
	Targets []unit.PH // ascending
	Rows    []TableRow
}

// TableRow is the lime at one buffer pH, a rate for each target. Rows stand with the most acid first.
type TableRow struct {
	BufferPH float64
	Lime     []unit.AreaRate
}

// ownTable is the method of the user's own table.
func ownTable() Method {
	return Method{
		Name: "table", Title: "The user's own table",
		Needs:   "a table of lime by buffer pH and target; the buffer pH that it is for",
		Source:  "as the table says",
		Range:   "the buffer pH and targets of the table; straight between its rows, never beyond them",
		require: tableRequire,
	}
}

// buffered returns the reading of a buffer as a plain number; only a table, which names its buffer, may ask.
func (s *Soil) buffered(b Buffer) (float64, bool) {
	switch b {
	case Mehlich:
		return number(s.Mehlich)
	case AdamsEvans:
		return number(s.AdamsEvans)
	case MooreSikora:
		return number(s.MooreSikora)
	case SMP:
		return number(s.SMP)
	case Sikora:
		return number(s.Sikora)
	case Woodruff:
		return number(s.Woodruff)
	}
	return 0, false
}

// number is a measured value as a plain number; ok is false for what is missing, NaN or infinite.
func number[T ~float64](v unit.Opt[T]) (float64, bool) {
	x, ok := v.Get()
	return float64(x), ok && x-x == 0
}

// tableRequire has no range of its own: outside its rows and targets a table says nothing, and nothing is drawn out beyond them.
func tableRequire(s Soil, a Ask) (result, error) {
	t := a.Table
	if t == nil {
		return result{}, refuse(NotAsked, "give one as TOML", "no table was given")
	}
	// a pH in water is not needed for a table, but one that is no number is a fault of the sample
	if s.PH.Has() {
		if _, err := have(s.PH, "water pH"); err != nil {
			return result{}, err
		}
	}
	if r, ok := noNeed(s, a); ok {
		return r, nil
	}
	b, ok := s.buffered(t.Buffer)
	if !ok {
		return result{}, refuse(NotMeasured, "ask the laboratory for it, or use another method",
			"buffer pH by %s was not measured", t.Buffer)
	}
	amount, on, err := t.at(b, float64(a.Target))
	if err != nil {
		return result{}, err
	}
	r := result{rate: Of(amount, t.Quality), slice: t.Slice, buffer: t.Buffer}
	if !on {
		r.notes = append(r.notes, NoteInterpolated)
	}
	if amount == 0 {
		r.why = BufferUnmoved
	}
	return r, nil
}

// at returns the rate at a buffer pH and a target, straight between rows and columns; on tells that both stand in the table.
func (t *Table) at(b, target float64) (amount unit.AreaRate, on bool, err error) {
	row, v, ok := bracket(len(t.Rows), func(i int) float64 { return t.Rows[i].BufferPH }, b)
	if !ok {
		return 0, false, refuse(OutsideBuffer, "ask the laboratory", "a %s buffer pH of %g is outside the table's %g to %g",
			t.Buffer, b, t.Rows[0].BufferPH, t.Rows[len(t.Rows)-1].BufferPH)
	}
	col, u, ok := bracket(len(t.Targets), func(i int) float64 { return float64(t.Targets[i]) }, target)
	if !ok {
		return 0, false, refuse(OutsideTarget, "ask for one of its targets", "target pH %g is outside the table's %g to %g",
			target, float64(t.Targets[0]), float64(t.Targets[len(t.Targets)-1]))
	}
	// along the targets first, then along the buffer pH: straight both ways, so the order does not matter
	line := func(r TableRow) float64 {
		return between2(float64(r.Lime[col]), float64(r.Lime[min(col+1, len(r.Lime)-1)]), u)
	}
	v0, v1 := line(t.Rows[row]), line(t.Rows[min(row+1, len(t.Rows)-1)])
	return unit.AreaRate(between2(v0, v1, v)), u == 0 && v == 0, nil
}

// between2 goes the share of the way from a to b.
func between2(a, b, share float64) float64 { return a + (b-a)*share }

// bracket returns the step of an ascending row of n numbers that v stands on or after, and how far along to the next.
func bracket(n int, at func(int) float64, v float64) (i int, share float64, ok bool) {
	if !(v >= at(0) && v <= at(n-1)) {
		return 0, 0, false
	}
	// a value on a row stands on that row, so that a printed figure comes out as printed
	for i+1 < n && at(i+1) <= v {
		i++
	}
	if v == at(i) {
		return i, 0, true
	}
	return i, (v - at(i)) / (at(i+1) - at(i)), true
}
