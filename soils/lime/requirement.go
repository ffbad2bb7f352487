package lime

import "rootworthy/soils/unit"

// Ask is what is wanted of a method. The zero value of each field but Target is right for most.
type Ask struct {
	Target unit.PH // in water
	// Depth is how deep the soil is to be limed; missing means the method's own slice, which its figure is for.
	Depth unit.Opt[unit.Depth]
	Last  Application // lime spread before the sample was taken and not yet all at work; the zero value means none
	// Saturation is the share of the exchange complex that aluminum may hold, percent; only aluminum saturation asks for it. No
	// figure for alfalfa was found, so none stands in for a missing one.
	Saturation unit.Opt[unit.Percent]
	FromMemory bool              // allow a method a formula that is from memory and was not checked
	Table      *Table            // the user's own; nil means none
	Quality    unit.Opt[Quality] // that the recommendation is written in, where the source does not say; missing means as sold
}

// Application is lime spread in the past.
type Application struct {
	Rate   unit.AreaRate // in the quality of the recommendation
	Months float64       // since
}

// Requirement is the lime that a soil asks for.
type Requirement struct {
	Method string // its name
	Rate   Rate   // for Depth, credit taken off
	// FieldLime is the same in agricultural lime of the effectiveness that the method's source measured; missing where
	// it measured none. It stands in for Rate as long as nobody knows the product.
	FieldLime unit.Opt[Rate]
	Error     unit.Opt[unit.Fraction] // likely error of Rate either way, see [BufferError]; missing where no source says
	Slice     unit.Opt[unit.Depth]    // that the method's figure is for; missing where the source does not say
	Depth     unit.Opt[unit.Depth]    // that Rate is for
	Credit    unit.AreaRate           // taken off for lime spread before, in the quality of Rate
	Why       string                  // AtTarget, BufferUnmoved or CreditCovers where Rate is zero
	Notes     []string                // of [Notes], in its order
}

// AsSpread returns how much of a product goes over the ground. As long as its ECCE is not known it is lime of the
// effectiveness that the method's source measured, where it did.
func (r Requirement) AsSpread(p Product) unit.AreaRate {
	if field, ok := r.FieldLime.Get(); ok && p.ECCE == 0 {
		return p.AsSpread(field)
	}
	return p.AsSpread(r.Rate)
}

// Band returns the rate less and plus its error; ok is false when no error is known.
func (r Requirement) Band() (least, most Rate, ok bool) {
	e, ok := r.Error.Get()
	return r.Rate.Times(max(0, 1-float64(e))), r.Rate.Times(1 + float64(e)), ok
}

// Why no lime is asked for, stable codes; AtTarget stands with the screening codes.
const (
	BufferUnmoved = "buffer not moved" // no acidity was found although pH is under the target
	CreditCovers  = "credit covers it" // lime spread before is enough
)

// Notes of a requirement, stable codes.
const (
	NoteCredit       = "residual credit"           // lime spread before was taken off
	NoteScaled       = "scaled by depth"           // from the method's slice, in proportion
	NoteSliceMemory  = "slice from memory"         // the slice it was scaled from was not read in the source
	NoteAsSold       = "quality not stated"        // the source does not say how effective its lime is
	NoteGap          = "gap in the source"         // on an edge that the source does not cover
	NoteFlat         = "flat rate"                 // the source gives one rate for all soils of little acidity
	NoteWaterPH      = "water pH inferred"         // from calcium chloride + 0.6
	NoteLBCFitted    = "equilibrium estimated"     // LBC at equilibrium is from its 30-minute value
	NotePlowSlice    = "standard soil mass"        // 2,000,000 lb/ac: no bulk density was given
	NoteMemory       = "from memory"               // a formula from memory, not checked
	NoteLarge        = "over 5 tons"               // soils of this method seldom need as much
	NoteAluminumOnly = "corrects aluminum only"    // reaches no pH
	NoteLaboratory   = "laboratory's own target"   // target, slice and credit are the laboratory's
	NoteInterpolated = "between rows of the table" // straight between the neighbouring rows or targets
)

// Notes lists every note in the order reports show them.
func Notes() []string {
	return []string{NoteMemory, NoteLaboratory, NoteAluminumOnly, NoteAsSold, NoteCredit, NoteScaled, NoteSliceMemory, NoteGap, NoteFlat,
		NoteWaterPH, NoteLBCFitted, NotePlowSlice, NoteInterpolated, NoteLarge}
}
