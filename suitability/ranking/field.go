package ranking

import (
	"rootworthy/soils/unit"
	"rootworthy/suitability"
	"rootworthy/suitability/season"
)

// Field is what a field brings to a ranking. Run and ID together name it; no two fields of a ranking share both.
type Field struct {
	Run, ID, Name  string
	Customer, Farm string
	Area           unit.Area
	Measures       [Count]Measure // by criterion
	Facts          Facts
}

// Facts are what the verdict and the letter need besides the measures. The zero value knows nothing.
type Facts struct {
	Trouble       string             // why the field has no answer; "" when it has one
	ByClass       [4]unit.Area       // by suitability.Class, once limed
	SuitedToday   unit.Area          // suited as it is
	Unknown       float64            // share of the field outside the survey or not rated for want of data, 0…1
	LowConfidence float64            // share of the rated ground whose confidence is low, 0…1
	Hinges        float64            // share of the rated ground whose class hangs on a pH that the survey cannot settle, 0…1
	HingesOn      []suitability.Code // that pH, in the order of suitability.Codes
	Limits        []suitability.Code // what limits the ground that is not suited, by falling area
	Enough        unit.Area          // ground that would make the field suited enough
	ChanceOff     float64            // what the chance may be off by, 19 times in 20
	Lime          unit.Opt[Lime]     // over the suited ground; missing where none of it has a figure
	Value         Measure            // net present value by the user's prices, in money; missing without prices
	Sow           season.Window      // first days in which half of the suited ground can be sown; zero where not known
	Next          season.Step        // the first thing to do on that ground; zero where no day or region is known
}

// Lime is the lime of a field's suited ground at 100 % CCE.
type Lime struct {
	Low, Likely, High unit.Mass
	Figured           unit.Area // suited ground that has a figure
	ByTest            bool      // every figure above zero rests on laboratory tests; else it is a budget
}

// key orders fields by name, whatever the order of the input.
func (f *Field) key() [2]string { return [2]string{f.Run, f.ID} }

// answered says whether anything is known to rank the field by.
func (f *Field) answered() bool {
	// one measure of any kind is enough, hopeless ones too: that a field has no suited ground is an answer
	for _, m := range f.Measures {
		if m.State != Missing {
			return f.Facts.Trouble == ""
		}
	}
	return false
}

// Lacks lists the criteria that the field has no measure of.
func (f *Field) Lacks() []Criterion {
	var out []Criterion
	for _, c := range Criteria() {
		if f.Measures[c].State == Missing {
			out = append(out, c)
		}
	}
	return out
}
