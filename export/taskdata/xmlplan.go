package taskdata

import (
	"fmt"
	"io"
	"math"
	"strconv"

	"github.com/paulmach/orb"

	"rootworthy/soils/unit"
)

// manufacturer names this program in the head of its files, by which it knows them again.
const manufacturer = "rootworthy"

// WriteXML writes TASKDATA.XML. Grids are named in it and written by [Plan.WriteGrid].
//
// Customer and farm are always there, since some terminals hide tasks without them. Position lost, out of field and
// default all mean code 0, no lime: a default above zero would be spread over the whole field without a position.
func (p *Plan) WriteXML(w io.Writer) error {
	x := newXMLWriter(w)
	if text := p.UntestedText(); text != "" {
		x.comment(text)
	}
	minor := "3"
	if p.options.Version == 4 {
		minor = "0"
	}
	x.start("ISO11783_TaskData", "VersionMajor", strconv.Itoa(p.options.Version), "VersionMinor", minor,
		"ManagementSoftwareManufacturer", manufacturer, "ManagementSoftwareVersion", firstName(p.options.Software),
		"TaskControllerManufacturer", "", "TaskControllerVersion", "", "DataTransferOrigin", "1")
	owners := p.writeOwners(x)
	for i, t := range p.Tasks {
		p.writeField(x, t, i+1, owners[i])
	}
	// One product: whatever the quarry calls it, the file is about one hopper.
	x.element("PDT", "A", "PDT1", "B", p.productName(), "E", MassContent.String())
	d := p.options.display()
	x.element("VPN", "A", "VPN1", "B", "0", "C", d.scale, "D", d.decimals, "E", d.name)
	for i, t := range p.Tasks {
		p.writeTask(x, t, i+1, owners[i])
	}
	x.end()
	return x.w.Flush()
}

// productName carries the mark of untested rates onto the terminal, where nobody sees a load sheet.
func (p *Plan) productName() string {
	if p.Untested() {
		return firstName(untestedMark + " " + p.options.Product)
	}
	return firstName(p.options.Product)
}

// owner holds the ids of a task's customer and farm.
type owner struct{ customer, farm string }

// writeOwners writes each customer and farm once and returns the ids for each task.
func (p *Plan) writeOwners(x *xmlWriter) []owner {
	customers, farms := map[string]string{}, map[[2]string]string{}
	out := make([]owner, len(p.Tasks))
	for i, t := range p.Tasks {
		c, ok := customers[t.Customer]
		if !ok {
			c = fmt.Sprintf("CTR%d", len(customers)+1)
			customers[t.Customer] = c
			x.element("CTR", "A", c, "B", t.Customer)
		}
		// Two customers may each have a farm called Home.
		key := [2]string{t.Customer, t.Farm}
		f, ok := farms[key]
		if !ok {
			f = fmt.Sprintf("FRM%d", len(farms)+1)
			farms[key] = f
			x.element("FRM", "A", f, "B", t.Farm, "I", c)
		}
		out[i] = owner{c, f}
	}
	return out
}

// writeField writes a field with its boundary. Version 3 allows one polygon in a field, so parts are more rings of it;
// version 4 allows one outer ring in a polygon, so parts are more polygons.
// Source: the isoxml library for JavaScript 1.11.2 writes so; read.
func (p *Plan) writeField(x *xmlWriter, t *Task, number int, o owner) {
	// Whole square metres in 32 bits are what the format has room for.
	area := min(math.Round(float64(t.Area)), math.MaxUint32-1)
	x.start("PFD", "A", fmt.Sprintf("PFD%d", number), "C", t.FieldName, "D", strconv.FormatFloat(area, 'f', 0, 64), "E", o.customer, "F", o.farm)
	if p.options.Version == 4 {
		for _, polygon := range t.Boundary {
			writePolygons(x, "1", orb.MultiPolygon{polygon})
		}
	} else {
		writePolygons(x, "1", t.Boundary)
	}
	x.end()
}

// writePolygons writes polygons as one element of the given kind.
func writePolygons(x *xmlWriter, kind string, polygons orb.MultiPolygon) {
	x.start("PLN", "A", kind)
	for _, polygon := range polygons {
		for i, ring := range polygon {
			ringKind := "1"
			if i > 0 {
				ringKind = "2"
			}
			x.start("LSG", "A", ringKind)
			for _, point := range ring {
				x.element("PNT", "A", "2", "C", decimal(point[1]), "D", decimal(point[0]))
			}
			x.end()
		}
	}
	x.end()
}

// writeTask writes a planned task with its zones, and its grid if it has one.
func (p *Plan) writeTask(x *xmlWriter, t *Task, number int, o owner) {
	x.start("TSK", "A", fmt.Sprintf("TSK%d", number), "B", t.Name, "C", o.customer, "D", o.farm, "E", fmt.Sprintf("PFD%d", number),
		// Status planned; default, position lost and out of field all code 0.
		"G", "1", "H", "0", "I", "0", "J", "0")
	// Code 0 comes first in every form; it is what the three cases above refer to.
	p.writeZone(x, 0, p.zoneName("No lime"), 0, nil)
	switch p.options.Form {
	case Grid2:
		p.writeZone(x, 1, p.zoneName("Grid"), 0, nil)
	case Grid1:
		for _, c := range t.codes() {
			p.writeZone(x, c.code, p.rateName(c.rate), c.rate, nil)
		}
	case Polygons:
		for _, c := range t.codes() {
			p.writeZone(x, c.code, p.rateName(c.rate), c.rate, t.withRate(c.rate))
		}
	}
	if p.options.Form != Polygons {
		p.writeGridElement(x, t, number)
	}
	x.element("PAN", "A", "PDT1")
	x.end()
}

// withRate returns the polygons that get a rate.
func (t *Task) withRate(rate int32) (out orb.MultiPolygon) {
	for _, g := range t.grounds {
		if g.rate == rate {
			out = append(out, g.shape...)
		}
	}
	return out
}

// writeZone writes a zone code with its rate; polygons make it a polygon zone, one polygon for each.
func (p *Plan) writeZone(x *xmlWriter, code uint8, name string, rate int32, polygons orb.MultiPolygon) {
	x.start("TZN", "A", strconv.Itoa(int(code)), "B", name)
	for _, polygon := range polygons {
		writePolygons(x, "2", orb.MultiPolygon{polygon})
	}
	x.element("PDV", "A", MassSetpoint.String(), "B", strconv.Itoa(int(rate)), "C", "PDT1", "E", "VPN1")
	x.end()
}

// writeGridElement writes where the cells lie. Of the two kinds of grid, only that of rates names a zone: the one whose
// values its cells replace.
func (p *Plan) writeGridElement(x *xmlWriter, t *Task, number int) {
	f := t.Frame
	a := []string{"A", nanoDegrees(f.South), "B", nanoDegrees(f.West), "C", nanoDegrees(f.North), "D", nanoDegrees(f.East),
		"E", strconv.Itoa(f.Columns), "F", strconv.Itoa(f.Rows), "G", gridName(number)}
	if p.options.Form == Grid1 {
		a = append(a, "H", strconv.Itoa(f.Rows*f.Columns), "I", "1")
	} else {
		a = append(a, "H", strconv.Itoa(4*f.Rows*f.Columns), "I", "2", "J", "1")
	}
	x.element("GRD", a...)
}

// rateName says a rate in the words of the zone list.
func (p *Plan) rateName(rate int32) string {
	return p.zoneName(fmt.Sprintf("%.2f st/ac", unit.AreaRate.ShortTonsPerAcre(rateOf(rate))))
}

// zoneName is the same for a zone.
func (p *Plan) zoneName(name string) string {
	if p.Untested() {
		return firstName(untestedMark + " " + name)
	}
	return name
}

// gridName is the name of a grid in the XML; its file has ".bin" behind it, in small letters, as most readers look for.
func gridName(number int) string { return fmt.Sprintf("GRD%05d", number) }
