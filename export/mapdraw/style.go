package mapdraw

// Style holds the sizes of a medium, in units of the drawing.
type Style struct {
	Text        float64 // height of text; headings are larger
	Rim, Core   float64 // the double line between zones: white, and dark on it
	DotPitch    float64 // dots of marginal ground
	DotRadius   float64
	LinePitch   float64 // lines of unsuited ground
	LineWidth   float64
	DashPitch   float64 // dashes where nothing is known
	DashLength  float64
	DashWidth   float64
	Least       float64 // what is less across has no pattern
	Thin        float64 // lines are thinned by this much
	PerInch     float64 // units in an inch
	PrintsScale bool    // whether lengths on the medium are true, so that a scale 1:n means something
}

// Screen returns the sizes for a screen, in pixels of 1/96 inch.
func Screen() Style {
	return Style{Text: 13, Rim: 3, Core: 1.25, DotPitch: 8, DotRadius: 1.3, LinePitch: 8, LineWidth: 1.6,
		DashPitch: 16, DashLength: 5, DashWidth: 1.2, Least: 11, Thin: 0.38, PerInch: 96}
}

// Paper returns the sizes for paper, in points of 1/72 inch: dots 1.2 mm apart, lines 1.5 mm apart and 0.35 mm wide.
func Paper() Style {
	return Style{Text: 9, Rim: 2.25, Core: 0.95, DotPitch: 3.4, DotRadius: 0.62, LinePitch: 4.25, LineWidth: 1,
		DashPitch: 8.5, DashLength: 3, DashWidth: 0.7, Least: 8.5, Thin: 0.283, PerInch: 72, PrintsScale: true}
}

// zero says whether no style was given.
func (s Style) zero() bool { return s.Text == 0 }
