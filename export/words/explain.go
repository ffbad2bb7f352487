package words

import (
	"fmt"
	"io"
	"slices"
	"strings"

	"rootworthy/soils/unit"
	"rootworthy/suitability"
)

// Explain prints the whole chain of reasoning for one zone, to be checked by hand: where it lies, what the survey says
// of each soil in it, how each criterion scores against which limit from which source, how the class follows, how the
// lime figure was worked out. The profile may be nil. Lines are at most 80 columns.
func Explain(w io.Writer, z *suitability.Zone, profile *suitability.Profile) error {
	e := &explanation{page: page{w: w, width: defaultWidth}, z: z, r: &z.Rating, profile: profile}
	e.head()
	e.tested()
	for i := range e.r.Components {
		e.component(i+1, &e.r.Components[i])
	}
	e.decision()
	e.terrain()
	e.lime()
	e.sure()
	e.onSite()
	return e.err
}

// explanation is an explanation in the making: one zone, its rating at hand, and the page it goes on.
type explanation struct {
	page
	z       *suitability.Zone
	r       *suitability.UnitRating
	profile *suitability.Profile
}

// heading writes an underlined line after a blank one.
func (e *explanation) heading(s string) {
	e.line("")
	e.line(s)
	e.line(strings.Repeat("-", min(cells(s), e.width)))
}

// para writes a paragraph indented by two.
func (e *explanation) para(format string, args ...any) {
	e.text("  ", "  ", printable(fmt.Sprintf(format, args...)))
}

// head says which ground this is and answers first, for the owner and for the specialist.
func (e *explanation) head() {
	z := e.z
	name := z.FieldName
	if name == "" {
		name = "field " + z.FieldID
	}
	e.text("", "  ", printable(fmt.Sprintf("Zone %s: %s, %s in %s", z.ID, name, acresAndHectares(z.Area), count(z.Pieces, "piece", "pieces"))))
	e.text("", "  ", printable(fmt.Sprintf("Map unit %s, %s (survey area %s, map unit key %s)", z.Symbol, z.MapUnit, z.SurveyArea, z.MapUnitKey)))
	e.pieces()
	e.line("")
	e.text("", "  ", printable(Reason(z, Landowner)))
	e.text("", "  ", printable(Reason(z, Consultant)))
}

// component goes through one soil of the map unit: what it is made of, how it scores, what it asks of lime.
func (e *explanation) component(n int, c *suitability.ComponentRating) {
	percent := "percent not recorded"
	if p, ok := c.Percent.Get(); ok {
		percent = share(p) + " of the map unit"
	}
	e.heading(printable(fmt.Sprintf("%d. %s, %s", n, c.Name, percent)))
	// Water, rock and pits have neither layers nor criteria to go through.
	if c.Miscellaneous {
		e.para("Miscellaneous area, not soil: not rated.")
		return
	}
	e.horizons(c)
	e.findings(c)
	e.componentClass(c)
	e.componentLime(c)
}

// horizons lists the layers as they entered the rating.
func (e *explanation) horizons(c *suitability.ComponentRating) {
	if c.OrganicSkipped > 0 {
		e.para("%s of litter taken off the top: the survey describes woodland here; sod differs. Depths count from the mineral surface.", inches(c.OrganicSkipped))
	}
	if len(c.Horizons) == 0 {
		e.para("No horizons are described.")
		return
	}
	// AWC is available water capacity, a fraction of the soil's volume; "-" is not recorded.
	e.line("  Horizon     cm          pH (low-high)      AWC    texture")
	for _, h := range c.Horizons {
		ph := "not recorded"
		if x, ok := h.PH.Get(); ok {
			ph = fixed(float64(x), 2) + rangeText(h.PHLow, h.PHHigh)
		}
		awc := "-"
		if x, ok := h.AWC.Get(); ok {
			awc = fixed(x, 2)
		}
		depth := plain(float64(h.Top), 1) + "-" + plain(float64(h.Bottom), 1)
		e.line("  " + left(printable(h.Name), 11) + " " + left(depth, 11) + " " + left(ph, 18) + " " + left(awc, 6) + " " + printable(h.Texture) + marked(h.Reckoned))
	}
	if slices.ContainsFunc(c.Horizons, func(h suitability.HorizonUsed) bool { return h.Reckoned }) {
		e.para("* by sand, silt and clay: the survey does not name the texture.")
	}
}

// marked points to the line below the table.
func marked(reckoned bool) string {
	if reckoned {
		return "*"
	}
	return ""
}

// rangeText prints the survey's range of pH, on which the class may hinge.
func rangeText(low, high unit.Opt[unit.PH]) string {
	l, okLow := low.Get()
	h, okHigh := high.Get()
	if !okLow || !okHigh {
		return ""
	}
	return fmt.Sprintf(" (%s-%s)", fixed(float64(l), 2), fixed(float64(h), 2))
}

// findings prints a line for each criterion and, below it, whose limit it is.
func (e *explanation) findings(c *suitability.ComponentRating) {
	e.line("  Criterion         found                        score  class")
	for i := range c.Findings {
		f := &c.Findings[i]
		// A criterion that does not apply or has no value has neither.
		score, class := "-", "-"
		if x, ok := f.Score.Get(); ok {
			score, class = fixed(x, 2), f.Class.String()
		}
		e.line("  " + left(Criterion(f.Criterion, Consultant), 17) + " " + left(printable(longFound(f)), 26) + " " + right(score, 7) + "  " + class)
		e.limitSource(f)
	}
}

// longFound is what was found, with more decimals than a reader needs and a checker does.
func longFound(f *suitability.Finding) string {
	x, ok := f.Value.Get()
	if !ok || f.Word != "" || f.AtLeast {
		return foundText(f)
	}
	return strings.TrimSpace(plain(x, 4) + " " + unitText(f.Unit))
}

// limitSource prints the limit with its standing and source: without them a figure cannot be argued with.
func (e *explanation) limitSource(f *suitability.Finding) {
	var parts []string
	if limit := limitText(f); limit != "none" {
		parts = append(parts, fmt.Sprintf("%s limit %s (%s)", better(f.Class), limit, sourceText(f.Status, f.Source)))
	}
	if low, ok := f.Low.Get(); ok {
		parts = append(parts, strings.TrimSpace("the survey's range is "+plain(low, 1)+" to "+plain(f.High.Or(low), 1)+" "+unitText(f.Unit)))
	}
	// Said only beside a value: without one the note says why there is none.
	if cm, ok := f.Covered.Get(); ok && f.Value.Has() {
		parts = append(parts, "values cover "+plain(cm, 1)+" cm")
	}
	if f.Tested {
		parts = append(parts, "tested"+surveyBeside(f))
	}
	if f.Elevation {
		parts = append(parts, "measured on the elevation raster"+slopeBeside(f))
	}
	if f.Soft {
		parts = append(parts, "soft restriction: at worst marginal")
	}
	if f.Note != "" {
		parts = append(parts, FindingNote(f.Note, Consultant))
	}
	if len(parts) > 0 {
		e.text("      ", "      ", printable(strings.Join(parts, "; ")))
	}
}

// better names the class that begins at the limit shown: the next better one, or suited itself.
// The limit that is shown is the one that would have to be met for a better class.
func better(c suitability.Class) suitability.Class {
	if c == suitability.Unsuited {
		return suitability.Marginal
	}
	return suitability.Suited
}
