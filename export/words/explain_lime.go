package words

import (
	"fmt"
	"strings"

	"rootworthy/soils/lime"
	"rootworthy/soils/unit"
	"rootworthy/suitability"
)

// tableStep and tableEnd are the columns of the screening table: pH 5.0, 5.5, 6.0, and nothing at 6.5.
const (
	tableFirst = 5.0
	tableStep  = 0.5
	tableEnd   = 6.5
)

// poundPer100ft2 is one pound on 100 square feet.
const poundPer100ft2 = unit.AreaRate(float64(unit.Pound) / (100 * float64(unit.SquareFoot)))

// componentLime shows how a component's figure was read from the table.
func (e *explanation) componentLime(c *suitability.ComponentRating) {
	name := "Lime"
	if byTest(&e.z.Lime) {
		name = "Lime by the screening table, to compare"
	}
	figure, ok := c.Lime.Figure.Get()
	if !ok {
		e.para(name+": no figure: %s.", LimeWhy(c.Lime.Why, Consultant))
		return
	}
	// Zero is an answer with a reason, and no arithmetic explains it better.
	if figure == 0 {
		e.para(name+": 0 (%s).", LimeWhy(c.Lime.Why, Consultant))
		return
	}
	result := fmt.Sprintf("%s short tons/ac", fixed(figure.ShortTonsPerAcre(), 4))
	// The figure may be a floor or a ceiling, and the word for it must not be lost.
	if c.Lime.Bound != "" {
		result = Bound(c.Lime.Bound, Consultant) + " " + result
	}
	// 0.2178 turns pounds on 100 square feet into short tons an acre: 435.6 hundreds of square feet, 2,000 lb.
	work, ok := e.tableWork(c)
	if !ok {
		e.para(name+": %s at 100 %% CCE.", result)
		return
	}
	e.para(name+": %s; x 0.2178 = %s at 100 %% CCE.", work, result)
}

// tableWork prints the reading of the table for a component: entries around its pH, and the straight line between them.
func (e *explanation) tableWork(c *suitability.ComponentRating) (string, bool) {
	f := findingOf(c, suitability.SurfacePH)
	if f == nil || !f.Value.Has() {
		return "", false
	}
	column, ok := textureNamed(c.Lime.Texture)
	if !ok {
		return "", false
	}
	s := fmt.Sprintf("column %s, lb per 100 ft2 to pH 6.5: %s", column, reading(column, f.Value.Or(0)))
	// The table is to pH 6.5; for a lower target, what it asks for between the two is taken off.
	if target := float64(e.r.Target.PH); target > 0 && target < tableEnd {
		s += fmt.Sprintf("; less %s for a target of %s", reading(column, target), plain(target, 2))
	}
	return s, true
}

// reading prints "8 at 5.0, 6 at 5.5; at 5.45: 8 + (6 - 8) x (5.45 - 5.0) / 0.5 = 6.2".
func reading(column lime.Texture, pH float64) string {
	// Below the first column the table says no more than its first value.
	if pH < tableFirst {
		return fmt.Sprintf("%s, the value at 5.0", plain(entry(column, tableFirst), 4))
	}
	low := tableFirst
	// Finds the column at or below the pH. Halves are exact in binary, so the sum meets 5.5 and 6.0 to the bit.
	for low+tableStep <= pH {
		low += tableStep
	}
	high := low + tableStep
	a, b := entry(column, low), entry(column, high)
	return fmt.Sprintf("%s at %s, %s at %s; at %s: %s + (%s - %s) x (%s - %s) / 0.5 = %s", plain(a, 4), fixed(low, 1), plain(b, 4), fixed(high, 1),
		plain(pH, 4), plain(a, 4), plain(b, 4), plain(a, 4), plain(pH, 4), fixed(low, 1), plain(a+(b-a)*(pH-low)/tableStep, 4))
}

// entry is an entry of the screening table in lb per 100 ft².
// Asked for at the very pH of a column, the method returns the printed entry.
func entry(column lime.Texture, pH float64) float64 {
	return float64(lime.Screen(column, unit.PH(pH), tableEnd).Rate.Or(0) / poundPer100ft2)
}

// textureNamed finds the column of the table by the name that the rating recorded.
func textureNamed(name string) (lime.Texture, bool) {
	for _, t := range lime.Textures() {
		if t.String() == name {
			return t, true
		}
	}
	return lime.TextureUnknown, false
}

// lime prints the zone's figure: the mean by percent, the band, the product.
func (e *explanation) lime() {
	e.heading("Lime for the zone")
	l := &e.z.Lime
	e.text("  ", "  ", Lime(e.z, Consultant, e.profile))
	e.target()
	for _, s := range GypsumLines(e.r.Values.PHSubsoil) {
		e.para("%s", s)
	}
	likely, ok := l.Likely.Get()
	if !ok {
		return
	}
	if byTest(l) {
		e.testArithmetic(l, likely)
	} else {
		e.limeArithmetic(likely)
	}
	// A need of nothing is worked out above like any other, but has no band and no product.
	if likely == 0 {
		return
	}
	if byTest(l) {
		e.product()
		return
	}
	e.para("Band: low %s, likely %s, high %s short tons/ac (proposal).", rate(l.Low), rate(l.Likely), rate(l.High))
	e.product()
}

// target says which pH is aimed at, and who says so.
func (e *explanation) target() {
	t := e.r.Target
	// 0 is a rating without a target.
	if t.PH == 0 {
		return
	}
	s := fmt.Sprintf("Target pH %s (%s)", plain(float64(t.PH), 2), sourceText(string(t.Status), t.Source))
	if t.State != "" {
		s += " for " + t.State
	}
	if t.Range != "" {
		s += ": " + t.Range
	}
	e.para("%s.", s)
}

// sourceText prints how well a number is founded and who says so.
func sourceText(status, source string) string {
	s := Status(status, Consultant)
	if source != "" {
		s += ": " + source
	}
	return s
}

// rate prints a rate with the decimals of the files.
func rate(o unit.Opt[unit.AreaRate]) string {
	if x, ok := o.Get(); ok {
		return fixed(x.ShortTonsPerAcre(), 4)
	}
	return "none"
}

// limeArithmetic prints the mean by percent over the components that have a figure.
func (e *explanation) limeArithmetic(likely unit.AreaRate) {
	var terms, weights []string
	for _, c := range e.r.Components {
		percent, ok := c.Percent.Get()
		x, has := c.Lime.Figure.Get()
		if !ok || !has {
			continue
		}
		terms = append(terms, fmt.Sprintf("%s x %s", plain(float64(percent), 2), fixed(x.ShortTonsPerAcre(), 4)))
		weights = append(weights, plain(float64(percent), 2))
	}
	// With a basis of tests the mean over components is not how the figure came about.
	if len(terms) > 0 && strings.HasPrefix(e.z.Lime.Basis, "survey") {
		e.para("By percent over the soils that have a figure: (%s) / (%s) = %s short tons/ac.", strings.Join(terms, " + "), strings.Join(weights, " + "), fixed(likely.ShortTonsPerAcre(), 4))
	}
}

// product says what goes over the ground, in how many passes, and when it has worked.
func (e *explanation) product() {
	l := &e.z.Lime
	product, ok := l.Product.Get()
	if !ok || product <= 0 {
		return
	}
	s := fmt.Sprintf("As spread: %s short tons/ac of product in %s", plain(product.ShortTonsPerAcre(), 4), count(l.Passes, "yearly pass", "yearly passes"))
	if mass, ok := l.ProductMass.Get(); ok {
		s += fmt.Sprintf(", %s short tons (%s kg) over the zone", fixed(mass.ShortTons(), 2), fixed(float64(mass), 0))
	}
	e.para("%s.", s)
	if l.WaitMonths > 0 {
		e.para("The last pass has worked %s after the first%s; wait after a pass: %s.", count(l.WaitMonths, "month", "months"), optionalText(", on ", Date(l.Ready)), waitFounding(l, e.profile, Consultant))
	}
	if l.Window != "" {
		e.para("Earliest sowing window: %s.", Window(l.Window))
	}
}

// optionalText prints a text with its introduction, or nothing.
func optionalText(before, s string) string {
	if s == "" {
		return ""
	}
	return before + s
}

// waitFounding says how well the wait after the last pass is founded, or that somebody chose it for this run.
func waitFounding(l *suitability.Lime, p *suitability.Profile, r Reader) string {
	if p == nil {
		// A run of an older program has no profile.
		p = &suitability.Profile{Lime: suitability.LimeRules{Wait: suitability.Figure{Value: usualWait, Status: suitability.Proposal}}}
	}
	// The wait of a zone counts from the first pass; passes lie a year apart.
	if last := l.WaitMonths - 12*(l.Passes-1); last != p.Lime.WaitMonths() {
		return "as chosen for this run"
	}
	return Status(string(p.Lime.Wait.Status), r)
}

// usualWait is the wait in months where no profile is at hand. Source: proposal.
const usualWait = 12
