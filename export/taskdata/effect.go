package taskdata

import (
	"fmt"
	"math"

	"github.com/paulmach/orb"

	"rootworthy/internal/diag"
	"rootworthy/internal/geo/proj"
	"rootworthy/soils/unit"
)

// Effect is what one task would do in its field.
type Effect struct {
	Task, Field  string    // names
	Form         string    // "grid of rates", "grid of zone codes", "polygons", "unreadable grid", "record of work", "no map"
	Frame        Frame     // no cells where there is no grid
	DDI          DDI       // of the rates
	Mass         unit.Mass // what goes on in all; 0 when rates are no masses
	Litres       float64   // the same for rates that are volumes
	Treated      unit.Area // ground that gets something
	Outside      unit.Area // of that, ground whose cells lie outside the boundary; only where the file has one
	OutsideMass  unit.Mass
	BoundaryArea unit.Area     // as measured; 0 when the file has no boundary
	Least, Most  unit.AreaRate // rates above zero
}

// Effects says what each task of the file would do. What is dangerous or odd in it goes into faults.
func (f *File) Effects(faults *diag.List) ([]Effect, error) {
	if len(f.Tasks) == 0 {
		faults.Add(faultAt(f.XML, 0, "no task", "holds no task, so there is nothing to spread", "export the prescription, not only the fields"))
	}
	var out []Effect
	for i := range f.Tasks {
		t := &f.Tasks[i]
		e := Effect{Task: firstName(t.Name, t.ID), Form: "no map"}
		var boundary orb.MultiPolygon
		if b := f.Boundary(t); b != nil {
			e.Field, boundary = firstName(b.Name, b.ID), b.Shape
			// Measured, not taken from the file: what a file says of its area is one of the things to be checked.
			m2, _ := proj.GeodesicArea(b.Shape, proj.GeodesicOptions{})
			e.BoundaryArea = unit.Area(m2)
		}
		f.codeDangers(t, faults)
		if err := f.effectOf(t, &e, boundary, faults); err != nil {
			return out, err
		}
		out = append(out, e)
	}
	return out, nil
}

// effectOf finds out in which way a task says what goes where. Where a task has a grid and polygons, the grid is told.
func (f *File) effectOf(t *FileTask, e *Effect, boundary orb.MultiPolygon, faults *diag.List) error {
	switch {
	case t.Grid != nil:
		e.Form, e.Frame, e.DDI = "grid of rates", t.Grid.Frame(), t.Grid.DDI
		if t.Grid.Type == 1 {
			e.Form = "grid of zone codes"
		}
		return f.gridEffect(t, e, boundary, faults)
	case t.polygons():
		e.Form = "polygons"
		f.polygonEffect(t, e)
	// Neither rates nor dangers can be told of a grid that nobody could read, and that fault is told already.
	case t.Broken:
		e.Form = "unreadable grid"
		return nil
	case len(t.Logs) > 0:
		e.Form = "record of work"
		faults.Notice(faultAt(f.XML, t.Line, "time log", t.label()+" holds a record of work done", "compare it with the plan with --applied"))
	default:
		faults.Notice(faultAt(f.XML, t.Line, "no map", t.label()+" has neither a grid nor polygon zones", ""))
	}
	f.rateDangers(t, e, faults)
	return nil
}

// polygons says whether any zone has an outline.
func (t *FileTask) polygons() bool {
	for _, z := range t.Zones {
		if len(z.Shape) > 0 {
			return true
		}
	}
	return false
}

// gridEffect adds up the cells.
func (f *File) gridEffect(t *FileTask, e *Effect, boundary orb.MultiPolygon, faults *diag.List) error {
	// Without a boundary nothing can lie outside of it: the scan then finds no cell inside, and the tally does not ask.
	inside, on := newScan(e.Frame, []orb.MultiPolygon{boundary}), make([]int32, e.Frame.Columns)
	var sum tally
	err := t.Grid.Each(func(row int, values []int32) error {
		inside.row(row, on)
		sum.add(values, on, e.Frame.CellArea(row), len(boundary) > 0)
		return nil
	})
	if err != nil {
		return fmt.Errorf("%s: %w", f.Name, err)
	}
	// Area and mass are summed by row, since cells of equal degrees shrink toward the pole.
	e.Treated, e.Outside = unit.Area(sum.treated), unit.Area(sum.outside)
	if e.DDI.IsMass() {
		e.Mass, e.OutsideMass = unit.Mass(sum.milligrams/1e6), unit.Mass(sum.outsideMilligrams/1e6)
		e.Least, e.Most = rateOf(sum.least), rateOf(sum.most)
	}
	if e.DDI == VolumeSetpoint || e.DDI == VolumeActual {
		e.Litres = sum.milligrams * 0.01 / 1e6 // 0.01 mm³ each
	}
	f.tell(t, &sum, e, faults)
	f.rateDangers(t, e, faults)
	return nil
}

// tally is what the cells of a grid add up to.
type tally struct {
	milligrams, outsideMilligrams float64
	treated, outside              float64 // m²
	least, most                   int32   // of those above zero
	uncoded, negative             int
}

// add takes a row: its values, which cells lie in the boundary (-1 for none), and the area of one cell.
func (s *tally) add(values, on []int32, cell float64, bounded bool) {
	for x, v := range values {
		switch {
		case v == NoCode:
			s.uncoded++
		case v < 0:
			s.negative++
		case v > 0:
			s.milligrams += float64(v) * cell
			s.treated += cell
			if bounded && on[x] < 0 {
				s.outsideMilligrams += float64(v) * cell
				s.outside += cell
			}
			// Zero is no least rate: nearly every grid has cells outside the field.
			if s.most == 0 || v < s.least {
				s.least = v
			}
			s.most = max(s.most, v)
		}
	}
}

// tell reports what is wrong with the cells.
func (f *File) tell(t *FileTask, s *tally, e *Effect, faults *diag.List) {
	add := func(wrong bool, kind, what, fix string) {
		if wrong {
			faults.Add(faultAt(f.XML, t.Line, kind, t.label()+" "+what, fix))
		}
	}
	add(s.uncoded > 0, "code without zone", fmt.Sprintf("has %s a zone code that the task does not explain; a terminal cannot know what to put there", counted(s.uncoded, "cell with", "cells with")), "export it again")
	add(s.negative > 0, "negative rate", fmt.Sprintf("has %s below zero", counted(s.negative, "cell", "cells")), "export it again")
	// Cells along the edge stick out by up to half their width on either side; a twentieth of the ground is more than that.
	add(s.outside > 0.05*s.treated, "outside the field", fmt.Sprintf("treats %.2f acres outside its field, %.0f %% of all it treats", unit.Area(s.outside).Acres(), 100*s.outside/s.treated),
		"the grid may belong to another field, or be turned upside down")
	add(s.treated == 0 && s.uncoded == 0, "nothing", "puts nothing on: every cell is zero", "")
}

// polygonEffect adds up polygon zones.
func (f *File) polygonEffect(t *FileTask, e *Effect) {
	for i := range t.Zones {
		z := &t.Zones[i]
		_, s, ok := z.mass()
		// A zone without a shape is one that a grid would use, or the default.
		if !ok || s.Value <= 0 || len(z.Shape) == 0 {
			continue
		}
		m2, _ := proj.GeodesicArea(z.Shape, proj.GeodesicOptions{})
		e.DDI = s.DDI
		e.Treated += unit.Area(m2)
		// A rate by volume or count treats ground too, but adds nothing to the tons.
		if s.DDI.IsMass() {
			r := rateOf(s.Value)
			e.Mass += r.Over(unit.Area(m2))
			e.Most = max(e.Most, r)
			if e.Least == 0 || r < e.Least {
				e.Least = r
			}
		}
	}
}

// codeDangers tells what a terminal would spread where it knows nothing: without a position, outside the field.
func (f *File) codeDangers(t *FileTask, faults *diag.List) {
	for _, c := range []struct {
		code        int
		name, where string
	}{{t.Default, "default", "over the whole field before it has a position"}, {t.Lost, "position-lost", "wherever it loses its position"}, {t.Outside, "out-of-field", "outside the field"}} {
		z, ok := t.Zone(c.code)
		if !ok {
			continue
		}
		for _, s := range z.Values {
			// A value of something unknown may be harmless; one of a known rate is not.
			if s.Value != 0 && s.DDI.Means() != "" {
				faults.Add(faultAt(f.XML, t.Line, "rate where nothing is known", fmt.Sprintf("%s has the %s zone %d with a rate of %d, which goes on %s", t.label(), c.name, c.code, s.Value, c.where), "make that zone zero"))
				break
			}
		}
	}
}

// rateDangers tells of rates that cannot be meant, and of those that are no masses.
func (f *File) rateDangers(t *FileTask, e *Effect, faults *diag.List) {
	if most := e.Most.ShortTonsPerAcre(); most > mostRate {
		faults.Add(faultAt(f.XML, t.Line, "rate too high", fmt.Sprintf("%s has a rate of %.4g short tons an acre; a slip of units?", t.label(), most), "rates are in mg/m²: 1 short ton an acre is 224170"))
	}
	if e.Form != "no map" && e.Form != "record of work" && !e.DDI.IsMass() {
		what := e.DDI.Means()
		if what == "" {
			what = "something unknown"
		}
		faults.Notice(faultAt(f.XML, t.Line, "no mass", fmt.Sprintf("%s sets %s (identifier %s), so it cannot be told in tons", t.label(), what, e.DDI), ""))
	}
}

// finite guards sums that come from files.
func finite(x float64) float64 {
	if math.IsNaN(x) || math.IsInf(x, 0) {
		return 0
	}
	return x
}
