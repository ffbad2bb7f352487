package taskdata

import (
	"bufio"
	"encoding/binary"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"math"
	"path"
	"slices"
	"strconv"
	"strings"
)

// gridElement is a grid as the XML has it, kept until everything else is read.
type gridElement struct {
	task, line int
	file       string
	a          attributes
}

// mostGridSide bounds the columns, and so the memory of a row.
const mostGridSide = 1 << 20

// settle ties everything together once all files are read.
func (r *reader) settle() {
	r.decoder = nil
	for _, e := range r.grids {
		t := &r.file.Tasks[e.task]
		r.named = e.file
		if t.Grid != nil || t.Broken {
			r.gridFault(e, t, "second grid", "has a second grid, which terminals pass over", "make it a task of its own")
			continue
		}
		g, err := r.grid(e, t)
		if err != nil {
			t.Broken = true
			r.gridFault(e, t, "grid", err.Error(), "")
			continue
		}
		t.Grid = g
	}
	r.references()
}

// gridFault tells of a grid that is left out, at the line of its element.
func (r *reader) gridFault(e gridElement, t *FileTask, kind, what, fix string) {
	line := e.line
	f := t.label() + " " + what
	r.faults.Add(faultAt(r.named, line, kind, f, fix))
}

// label names a task in messages.
func (t *FileTask) label() string {
	s := "task " + visible(t.ID)
	if n := CleanName(t.Name); n != "" {
		s += " (" + n + ")"
	}
	return s
}

// grid checks a grid against its file. Nothing is allocated for what the XML claims.
func (r *reader) grid(e gridElement, t *FileTask) (*Grid, error) {
	g := &Grid{Type: number(e.a.get("I"), 0), Columns: number(e.a.get("E"), 0), Rows: number(e.a.get("F"), 0), Zone: -1, task: t, fsys: r.fsys}
	for _, v := range []struct {
		name string
		to   *float64
	}{{"A", &g.South}, {"B", &g.West}, {"C", &g.North}, {"D", &g.East}} {
		x, err := strconv.ParseFloat(e.a.get(v.name), 64)
		if err != nil || math.IsNaN(x) || math.IsInf(x, 0) {
			return nil, fmt.Errorf("has a grid whose %s is %q, which is no number; export it again", v.name, visible(e.a.get(v.name)))
		}
		*v.to = x
	}
	switch {
	case g.Type != 1 && g.Type != 2:
		return nil, fmt.Errorf("has a grid of type %q; types 1 and 2 are known", visible(e.a.get("I")))
	case g.Columns < 1 || g.Rows < 1 || g.Columns > mostGridSide || g.Rows > mostGridSide:
		return nil, fmt.Errorf("has a grid of %q × %q cells; there must be from 1 to %d a side", visible(e.a.get("E")), visible(e.a.get("F")), mostGridSide)
	case !(g.North > 0 && g.North < 1 && g.East > 0 && g.East < 1):
		return nil, fmt.Errorf("has cells of %g × %g degrees; the size must be above 0 and under 1", g.North, g.East)
	case g.South < -90 || g.South+g.North*float64(g.Rows) > 90 || math.Abs(g.West) > 180:
		return nil, fmt.Errorf("has a grid at %g north, %g east, which is no place on Earth", g.South, g.West)
	}
	if err := g.layers(e); err != nil {
		return nil, err
	}
	return g, r.gridFile(e, g)
}

// layers finds which value of a cell is the rate.
// Cells of type 2 hold one value after the other, in the order of the values of the zone that the grid names.
func (g *Grid) layers(e gridElement) error {
	g.Layers = 1
	if g.Type == 1 {
		for _, z := range g.task.Zones {
			if _, s, ok := z.mass(); ok {
				g.DDI = s.DDI
				return nil
			}
		}
		return errors.New("has a grid of zone codes but no zone with a value")
	}
	g.Zone = number(e.a.get("J"), -1)
	z, ok := g.task.Zone(g.Zone)
	if !ok {
		return fmt.Errorf("has a grid that names zone code %q, which the task does not have; export it again", visible(e.a.get("J")))
	}
	i, s, ok := z.mass()
	if !ok {
		return fmt.Errorf("has a grid for zone %d, which has no value; export it again", g.Zone)
	}
	g.layer, g.Layers, g.DDI = i, len(z.Values), s.DDI
	return nil
}

// gridFile looks for the grid's file and compares its size with what the cells need.
func (r *reader) gridFile(e gridElement, g *Grid) error {
	name := visible(e.a.get("G"))
	if name == "" || strings.ContainsAny(name, `/\`) {
		return fmt.Errorf("has a grid with the file name %q; export it again", name)
	}
	found, ok := beside(r.fsys, r.top, name+gridSuffix)
	if !ok {
		return fmt.Errorf("names the grid %s, but there is no file %s%s beside TASKDATA.XML; copy the whole folder", name, name, gridSuffix)
	}
	g.File = found
	st, err := fs.Stat(r.fsys, found)
	if err != nil {
		return err
	}
	// The size is held against the file's before a byte of it is read: a file of another size shifts every row, and lime would go elsewhere
	// without anything looking wrong.
	need := int64(g.Rows) * int64(g.Columns) * int64(g.cellBytes())
	if st.Size() != need {
		return fmt.Errorf("has a grid whose file %s holds %d bytes, but %d columns × %d rows × %s of type %d need %d: it is cut off, or belongs to another task; export it again",
			path.Base(found), st.Size(), g.Columns, g.Rows, counted(g.Layers, "value", "values"), g.Type, need)
	}
	if h := number(e.a.get("H"), int(need)); int64(h) != need {
		r.faults.Notice(faultAt(r.named, e.line, "grid length", fmt.Sprintf("%s says its grid has %d bytes; the file has %d, which is right for its cells", g.task.label(), h, need), ""))
	}
	return nil
}

// Grid is a grid whose file has the right size. Row 0 is the southern one.
type Grid struct {
	South, West   float64 // corner, degrees
	North, East   float64 // size of a cell, degrees
	Columns, Rows int
	Type          int    // 1: zone codes, 2: values
	Zone          int    // code of the zone whose values the cells of type 2 hold; -1 for type 1
	DDI           DDI    // what the rates are
	Layers        int    // values in a cell
	File          string // path in the folder or zip
	layer         int
	task          *FileTask
	fsys          fs.FS
}

// cellBytes is how long a cell is: a code is one byte, a value four.
func (g *Grid) cellBytes() int {
	if g.Type == 1 {
		return 1
	}
	return 4 * g.Layers
}

// Frame returns where the cells lie, rounded to 1e-9 degree.
func (g *Grid) Frame() Frame {
	n := func(x float64) int64 { return int64(math.Round(x * nano)) }
	return Frame{South: n(g.South), West: n(g.West), North: max(1, n(g.North)), East: max(1, n(g.East)), Columns: g.Columns, Rows: g.Rows}
}

// NoCode is the value of a cell of type 1 whose zone code the task does not have.
const NoCode = math.MinInt32

// Each hands on the values row by row, from the south; those of type 1 are the values of their zones, [NoCode] for a
// code without a zone. The slice is used again. It stops at the first error.
func (g *Grid) Each(row func(row int, values []int32) error) error {
	f, err := g.fsys.Open(g.File)
	if err != nil {
		return err
	}
	defer f.Close()
	in := bufio.NewReaderSize(f, 1<<16)
	cell := g.cellBytes()
	// One row is in memory at a time, whatever the size of the grid.
	b, values, ofCode := make([]byte, cell*g.Columns), make([]int32, g.Columns), g.ofCode()
	for y := range g.Rows {
		if _, err := io.ReadFull(in, b); err != nil {
			return fmt.Errorf("%s: row %d cannot be read: %w", g.File, y, err)
		}
		for x := range values {
			if g.Type == 1 {
				values[x] = ofCode[b[x]]
			} else {
				values[x] = int32(binary.LittleEndian.Uint32(b[x*cell+4*g.layer:]))
			}
		}
		if err := row(y, values); err != nil {
			return err
		}
	}
	return nil
}

// ofCode returns the value of every zone code.
func (g *Grid) ofCode() (out [256]int32) {
	for i := range out {
		out[i] = NoCode
	}
	for _, z := range slices.Backward(g.task.Zones) { // of two zones with one code the first counts
		for _, s := range slices.Backward(z.Values) {
			if s.DDI == g.DDI && z.Code >= 0 {
				out[z.Code] = s.Value
			}
		}
	}
	return out
}
