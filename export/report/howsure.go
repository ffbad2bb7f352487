package report

import (
	"strings"

	"rootworthy/export"
	"rootworthy/export/words"
	"rootworthy/soils/unit"
	"rootworthy/suitability"
	"rootworthy/suitability/uncertainty"
)

// surely is how sure the i-th field is; nil where there is no answer to be sure of.
// The study has its fields in the order of the run, as the sums have them.
func (b *book) surely(i int) *uncertainty.Field {
	if i >= len(b.opt.Study.Fields) || !hasAnswer(&b.sums[i]) {
		return nil
	}
	return &b.opt.Study.Fields[i]
}

// fieldSure says in plain words how sure a field's answer is; "" where there is none.
func (b *book) fieldSure(i int) string {
	f, s := b.surely(i), &b.sums[i]
	if f == nil {
		return ""
	}
	text := words.FieldChance(s.Class(), f.Class.Of, f.Error, words.Landowner)
	// An interval that prints as one figure is no news, and one of a field without suited ground would read as a promise.
	if low, high := acresOf(f.Suited); s.ByClass.Of(suitability.Suited) > 0 && words.Between(low, high) != words.Between(low, low) {
		text += " " + words.NineInTen(low, high, "acres are suited") + "."
	}
	if span, ok := f.Lime.Get(); ok && s.Likely > 0 {
		text += " " + words.NineInTen(tonsOf(span.Low), tonsOf(span.High), "short tons of lime are needed") + "."
	}
	return text
}

// acresOf gives the ends of an interval of m².
func acresOf(i uncertainty.Interval) (low, high float64) {
	return unit.Area(i.Low).Acres(), unit.Area(i.High).Acres()
}

func tonsOf(kg float64) float64 { return unit.Mass(kg).ShortTons() }

// zoneSure says how sure a zone's class is: marks, what the data lack, and the chance.
func (b *book) zoneSure(z *suitability.Zone) string {
	text := strings.TrimSpace(words.SureMarks(z) + " " + words.HowSure(z, words.Landowner))
	// Water, rock and pits are what they are: there is no doubt about them that a test could lessen.
	if c := b.sure[z.ID]; c != nil && z.Rating.WhyNotRated != suitability.WhyMiscellaneous && c.Draws > 0 {
		text += ". " + words.ClassChance(z.Rating.Class, c.Class.Of, c.Error, words.Landowner)
		if low, high, ok := b.zoneNeed(z); ok {
			text += " " + words.NineInTen(low, high, "short tons of lime an acre are needed") + "."
		}
	}
	return text
}

// zoneNeed is the lime of a zone in nine cases of ten, short tons an acre; ok is false where the report has no figure for
// the zone, or none above zero.
func (b *book) zoneNeed(z *suitability.Zone) (low, high float64, ok bool) {
	c := b.sure[z.ID]
	// The report speaks of a need only where it has a figure itself; else two parts of one page would differ.
	if c == nil || z.Lime.Likely.Or(0) <= 0 {
		return 0, 0, false
	}
	span, ok := c.Need.Get()
	return unit.AreaRate(span.Low).ShortTonsPerAcre(), unit.AreaRate(span.High).ShortTonsPerAcre(), ok
}

// zoneChance is the chance of a zone's class for the consultant; "–" where nothing was drawn.
func (b *book) zoneChance(z *suitability.Zone) string {
	c := b.sure[z.ID]
	if c == nil || c.Draws == 0 || z.Rating.WhyNotRated == suitability.WhyMiscellaneous {
		return "–"
	}
	text := words.ChanceOf(c.Class.Of(z.Rating.Class))
	if low, high, ok := b.zoneNeed(z); ok {
		text += "; lime " + words.Between(low, high)
	}
	return text
}

// chancesMean says what chances count, and what they do not.
// It stands wherever chances are told.
const chancesMean = "Chances count what the survey leaves open: which of its soils lies where, and how acid, deep, wet and steep it is. " +
	"They do not know of old lime, litter, drains or levelled ground. A soil test and a look make them better."

// howSure tells the landowner of every field how sure its answer is.
func (b *book) howSure() {
	t := Table{Caption: "How sure is each answer?", Columns: []Column{{"Field", 0.22, false}, {"What most of it can carry", 0.42, false}, {"Suited acres, 9 chances in 10", 0.17, true}, {"Lime in short tons, 9 chances in 10", 0.19, true}},
		Note: chancesMean + " The lime is what the suited and marginal ground takes."}
	// A field without an answer has no chance either; the table of fields above shows it.
	for i := range b.sums {
		s, f := &b.sums[i], b.surely(i)
		if f == nil {
			continue
		}
		t.Rows = append(t.Rows, []string{fieldName(s.Field), title(s.Class().String()) + ": " + words.ChanceOf(f.Class.Of(s.Class())),
			suitedSpan(f), limeSure(s, f)})
	}
	if len(t.Rows) > 0 {
		b.add(t)
	}
}

// title begins a cell; all classes begin with a plain letter.
func title(s string) string { return strings.ToUpper(s[:1]) + s[1:] }

// suitedSpan prints the suited ground in nine cases of ten.
func suitedSpan(f *uncertainty.Field) string { return words.Between(acresOf(f.Suited)) }

// limeSure prints the lime in nine cases of ten; "–" where no zone of the field has a figure, and the figure alone where a method
// has no published error.
func limeSure(s *export.Sum, f *uncertainty.Field) string {
	if !s.HasLime {
		return "–"
	}
	span, ok := f.Lime.Get()
	if !ok {
		return words.Tons(s.Likely.ShortTons()) + ", range not known"
	}
	return words.Between(tonsOf(span.Low), tonsOf(span.High))
}
