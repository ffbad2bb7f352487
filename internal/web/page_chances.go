package web

import (
	"fmt"
	"html/template"
	"net/http"
	"strings"

	"rootworthy/export"
	"rootworthy/export/mapdraw"
	"rootworthy/export/samplesheet"
	"rootworthy/export/words"
	"rootworthy/soils/unit"
	"rootworthy/suitability"
	"rootworthy/suitability/sampling"
	"rootworthy/suitability/uncertainty"
)

// chancesPage is how sure a field and its zones are.
type chancesPage struct {
	frame
	fieldHead
	Answer    []string
	Bars      []drawing // the same picture for wide windows and for narrow ones
	Rows      []chanceRow
	Today     []chanceRow
	Error     string
	Tests     []testRow
	None      []string // zones without a test, and why
	Judgement []string
	Fixed     string
}

// drawing is a picture for one width of window.
type drawing struct {
	Class string
	SVG   template.HTML // drawn by package mapdraw, which escapes
}

// chanceRow is a zone, or the whole field, with the chance of each class.
type chanceRow struct {
	Name, Address string
	Class         mark
	Chances       []string // in the order of reports
	Lime          string
}

// testRow is a test that would settle something.
type testRow struct{ Zone, Bags, Why string }

// Widths that the bars are drawn for, in pixels: letters stay readable on a phone.
const wideBars, narrowBars = 640, 290

// fieldChances shows how sure a field is.
func (s *Server) fieldChances(w http.ResponseWriter, r *http.Request) {
	h, l, f, ok := s.openedField(w, r, "chances")
	if !ok {
		return
	}
	c := l.chances()
	p := &chancesPage{frame: s.frame("How likely: " + h.Name), fieldHead: h}
	p.fill(l, c, f)
	plan, err := l.sampling(r.Context(), h.Place)
	if err != nil {
		s.fail(w, r, http.StatusInternalServerError, err.Error())
		return
	}
	p.tests(plan)
	s.show(w, http.StatusOK, "chances.html", p)
}

func (p *chancesPage) fill(l *loaded, c *chances, f *suitability.Field) {
	sum := &l.sums[p.Place]
	study := &c.study.Fields[p.Place]
	if f.Trouble != "" || len(f.Zones) == 0 {
		p.Answer = []string{words.Sentence("The field " + words.Trouble(f))}
		return
	}
	p.Answer = append(p.Answer, "The run calls most of it "+sum.Class().String()+". "+words.FieldChance(sum.Class(), study.Class.Of, study.Error, words.Landowner))
	if sum.ByClass.Of(suitability.Suited) > 0 {
		p.Answer = append(p.Answer, words.Sentence(words.NineInTen(unit.Area(study.Suited.Low).Acres(), unit.Area(study.Suited.High).Acres(), "acres are suited once limed")))
	}
	if span, ok := study.Lime.Get(); ok && sum.HasLime {
		p.Answer = append(p.Answer, words.Sentence(words.NineInTen(unit.Mass(span.Low).ShortTons(), unit.Mass(span.High).ShortTons(), "short tons of lime are needed on it")))
	}
	p.Rows = append(p.Rows, rowOfField(sum.Class(), study.Class, fieldLime(sum, study)))
	p.Today = append(p.Today, rowOfField(study.Today.Likeliest(), study.Today, ""))
	bars := []mapdraw.Bar{barOf("Field", study.Class)}
	off := study.Error
	for _, i := range f.Zones {
		z := &l.result.Zones[i]
		sure := c.of(z)
		off = max(off, sure.Error)
		row := chanceRow{Name: zoneNumber(z), Address: fmt.Sprintf("/run/%d/zone/%d", p.Run, l.place(z)), Class: markOf(z.Rating.Class), Chances: chanceCells(sure.Class), Lime: zoneLime(z, sure)}
		p.Rows = append(p.Rows, row)
		row.Class, row.Chances, row.Lime = markOf(z.Rating.ClassToday), chanceCells(sure.Today), ""
		p.Today = append(p.Today, row)
		bars = append(bars, barOf(zoneNumber(z), sure.Class))
	}
	p.Error = countedText(c, f, off)
	p.draw(bars)
	for _, j := range uncertainty.Judgements() {
		text := j.What
		if j.Value != 0 {
			text += fmt.Sprintf(": %g %s", j.Value, j.Unit)
		}
		p.Judgement = append(p.Judgement, sentence(strings.TrimSpace(text)+" ("+words.Founding(j.Source, j.Status)+")"))
	}
	var fixed []string
	for _, code := range uncertainty.Fixed() {
		fixed = append(fixed, words.Criterion(code, words.Landowner))
	}
	p.Fixed = words.Listed(fixed)
}

func rowOfField(class suitability.Class, chance uncertainty.Chances, lime string) chanceRow {
	return chanceRow{Name: "Most of the field", Class: markOf(class), Chances: chanceCells(chance), Lime: lime}
}

// draw draws the bars for wide and narrow windows.
func (p *chancesPage) draw(bars []mapdraw.Bar) {
	for _, width := range []struct {
		class string
		px    float64
	}{{"wide", wideBars}, {"narrow", narrowBars}} {
		var b strings.Builder
		o := mapdraw.Options{Style: mapdraw.Screen(), Width: width.px}
		if mapdraw.Bars("Chance of each class once limed", bars, o).SVG(&b, "bars-"+width.class) == nil {
			p.Bars = append(p.Bars, drawing{width.class, template.HTML(b.String())})
		}
	}
}

func barOf(label string, c uncertainty.Chances) mapdraw.Bar {
	bar := mapdraw.Bar{Label: label}
	for _, class := range suitability.Classes() {
		bar.Parts = append(bar.Parts, mapdraw.BarPart{Look: mapdraw.ClassLook(class), Share: c.Of(class)})
	}
	return bar
}

// chanceCells puts chances into words with their figures, "7 chances in 10 (0.70)"; what cannot be is a stroke.
func chanceCells(c uncertainty.Chances) []string {
	var out []string
	for _, class := range suitability.Classes() {
		cell := "–"
		if c.Of(class) > 0 {
			cell = words.ChanceOf(c.Of(class))
		}
		out = append(out, cell)
	}
	return out
}

// zoneLime is the lime of a zone in nine cases of ten. Where nobody published by how much a method errs there is no such range, but
// there is the figure.
func zoneLime(z *suitability.Zone, sure *uncertainty.Zone) string {
	// Of ground that the plan gives no lime, as unsuited ground, the study knows a need all the same. Told here it would stand against the
	// map, the reports and the sum of the field.
	if i, ok := sure.Need.Get(); ok && z.Lime.Likely.Has() {
		return words.Between(unit.AreaRate(i.Low).ShortTonsPerAcre(), unit.AreaRate(i.High).ShortTonsPerAcre()) + " tons/ac"
	}
	figure, _ := shortLime(&z.Lime)
	if !z.Lime.Likely.Has() || figure == "none" {
		return figure
	}
	return figure + " tons/ac, range not known"
}

// fieldLime is the lime of a field in words.
func fieldLime(sum *export.Sum, sure *uncertainty.Field) string {
	i, ok := sure.Lime.Get()
	switch {
	case ok && sum.HasLime:
		return words.Between(unit.Mass(i.Low).ShortTons(), unit.Mass(i.High).ShortTons()) + " tons in all"
	case !sum.HasLime:
		return "–"
	}
	return words.Tons(sum.Likely.ShortTons()) + " tons in all, range not known"
}

// countedText says what the chances were counted from, and what they may be off by.
func countedText(c *chances, f *suitability.Field, off float64) string {
	least, most := 0, 0
	for _, i := range f.Zones {
		n := c.study.Zones[i].Draws
		if most = max(most, n); least == 0 || n < least {
			least = n
		}
	}
	if off <= 0 {
		return "By the survey nothing here can be otherwise."
	}
	from := words.Decimal(float64(least), 0)
	if most > least {
		from += " to " + words.Decimal(float64(most), 0)
	}
	return fmt.Sprintf("Counted from %s draws of each zone; a chance may be off by %s, 19 times in 20.", from, words.Fixed(max(off, 0.01), 2))
}

// zoneNumber names a zone on the page of its field.
func zoneNumber(z *suitability.Zone) string { return fmt.Sprintf("Zone %d", z.Number) }

// sentence makes a sentence of a clause; pH stays what it is.
func sentence(clause string) string {
	if strings.HasPrefix(clause, "pH") {
		return clause + "."
	}
	return words.Sentence(clause)
}

// tests lists what a laboratory could settle, and why nothing is gained elsewhere.
func (p *chancesPage) tests(plan *sampling.Plan) {
	for i := range plan.Zones {
		z := &plan.Zones[i]
		p.Tests = append(p.Tests, testRow{zoneNumber(z.Zone), words.Bags(z), samplesheet.Reason(z)})
	}
	for _, left := range plan.Left {
		p.None = append(p.None, words.Sentence(zoneNumber(left.Zone)+": "+words.NoBag(left.Why, words.Landowner)))
	}
}
