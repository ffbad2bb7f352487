package taskdata

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"rootworthy/soils/unit"
)

// sheet is what the driver takes along: the same numbers as the file, put as they are needed in the yard and the field.
type sheet struct {
	Untested, Title, Product, Machine, Cells, Date string
	Fields                                         []sheetField
	Total                                          sheetField
	Rates                                          []sheetRate
	Tray                                           string
	Notes, Cautions, Left                          []string
}

// sheetField is one line of the table of fields; Area is the ground that gets lime.
type sheetField struct{ Name, Area, Tons, Tonnes, Loads, Last string }

// sheetRate is one rate that the spreader changes to.
type sheetRate struct{ ShortTons, Pounds, Metric, Grams, Ounces string }

// mostRates is how many rates a page has room for.
const mostRates = 12

// sheet gathers the load sheet.
func (p *Plan) sheet() sheet {
	m := p.options.Machine
	s := sheet{Untested: p.UntestedText(), Title: "Lime load sheet", Product: firstName(p.options.Product), Date: p.Date, Notes: p.Notes, Cautions: driverCautions()}
	s.Machine = fmt.Sprintf("set for a working width of %.0f ft (%.1f m)", float64(m.Width)/0.3048, float64(m.Width))
	if m.Hopper > 0 {
		s.Machine += fmt.Sprintf(", hopper %.3g short tons", m.Hopper.ShortTons())
	}
	if p.options.Form != Polygons {
		s.Cells = p.cellRange()
	}
	var area unit.Area
	loads := 0
	for _, t := range p.Tasks {
		limed := t.limedArea()
		f, n := p.fieldLine(t.Name, limed, t.Spread)
		loads += n
		s.Fields = append(s.Fields, f)
		area += limed
	}
	// The loads of all are those of the fields together, not what the sum would fill: between two fields the hopper is filled anew.
	s.Total, _ = p.fieldLine("All", area, p.Spread())
	if m.Hopper > 0 {
		s.Total.Loads, s.Total.Last = fmt.Sprint(loads), ""
	}
	s.Tray = fmt.Sprintf("%.2f square feet (%.3f m²)", float64(m.Tray/unit.SquareFoot), float64(m.Tray))
	s.Rates, s.Notes = p.rateLines(m.Tray, s.Notes)
	s.Left = p.LeftLines()
	return s
}

// fieldLine says what a field needs, and in how many loads: full ones and a last one, each field for itself, since a
// hopper is weighed full.
func (p *Plan) fieldLine(name string, area unit.Area, mass unit.Mass) (sheetField, int) {
	f := sheetField{Name: name, Area: fmt.Sprintf("%.1f", area.Acres()), Tons: fmt.Sprintf("%.2f", mass.ShortTons()),
		Tonnes: fmt.Sprintf("%.2f", float64(mass/unit.Tonne)), Loads: "-", Last: "-"}
	hopper := p.options.Machine.Hopper
	if hopper == 0 {
		return f, 0
	}
	// A load that fills the hopper to the last digit is one, not two.
	n := int(math.Ceil(float64(mass/hopper) - 1e-9))
	last := mass - unit.Mass(n-1)*hopper
	f.Loads, f.Last = fmt.Sprint(n), fmt.Sprintf("%.2f", last.ShortTons())
	return f, n
}

// rateLines lists the rates with what a tray must catch of each.
//
//	grams = rate (g/m²) × opening of the tray (m²)
func (p *Plan) rateLines(tray unit.Area, notes []string) ([]sheetRate, []string) {
	var rates []int32
	for _, t := range p.Tasks {
		for _, c := range t.codes() {
			rates = append(rates, c.rate)
		}
	}
	slices.SortFunc(rates, func(a, b int32) int { return cmp.Compare(b, a) })
	// Rates of several fields that are the same stand once, the highest first.
	rates = slices.Compact(rates)
	if more := len(rates) - mostRates; more > 0 {
		notes = append(slices.Clip(notes), fmt.Sprintf("there are %d more rates between these", more))
		few := make([]int32, mostRates)
		for i := range few { // spread evenly, first and last kept
			few[i] = rates[i*(len(rates)-1)/(mostRates-1)]
		}
		rates = few
	}
	var out []sheetRate
	for _, mg := range rates {
		r := rateOf(mg)
		caught := r.Over(tray)
		out = append(out, sheetRate{fmt.Sprintf("%.2f", r.ShortTonsPerAcre()), fmt.Sprintf("%.0f", float64(r/unit.PoundPerAcre)),
			fmt.Sprintf("%.2f", r.TonnesPerHectare()), fmt.Sprintf("%.0f", float64(caught)*1000), fmt.Sprintf("%.1f", caught.Pounds()*16)})
	}
	return out, notes
}

// cellRange says how large the cells are.
func (p *Plan) cellRange() string {
	low, high := math.Inf(1), 0.0
	for _, t := range p.Tasks {
		east, north := t.Frame.CellMetres()
		low, high = min(low, east, north), max(high, east, north)
	}
	// Cells are sized in degrees, so those of several fields differ by a hair where they mean the same.
	if high-low < 0.1 {
		return fmt.Sprintf("%.1f m", high)
	}
	return fmt.Sprintf("%.1f to %.1f m", low, high)
}

// driverCautions are for whoever handles the lime and the spreader. Common practice, no source; they replace no label
// and no manual.
func driverCautions() []string {
	return []string{
		"Lime dust harms eyes and lungs, and wet or burnt lime burns skin: goggles, dust mask, gloves, long sleeves. Rinse eyes with water at once and see a doctor.",
		"Keep people away from the running spreader. Stop it, and wait until all parts stand still, before you clear it or set out trays. Never climb into the hopper.",
		"Stay off steep, wet or soft ground: a full hopper tips. Look out for wires, ditches and the public road.",
		"Do not spread in strong wind, on frozen ground or near water and wells; keep the distances that your rules ask for.",
		"Watch the controller: without a position it must show zero. If it does not, stop.",
	}
}

// weighed tells how to check a rate.
const weighed = "Lay at least five empty trays in a row across the width, drive over them at working speed, weigh what each caught, and take the mean. " +
	"More than a tenth off: set the spreader again."
