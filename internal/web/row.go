package web

import (
	"fmt"
	"strings"

	"rootworthy/export/mapdraw"
	"rootworthy/export/words"
	"rootworthy/soils/unit"
	"rootworthy/suitability"
)

// row is one zone in the list.
type row struct {
	Place         int    // in the run, from 0
	ID, Field     string // Field: its name; "" where it has none but the id, with which ID begins
	Soil          string
	Class, Was    mark // Was is that of the run, where a what-if moved it
	Moved         bool
	Today         string // "today marginal", where lime is to come first
	Area          string
	Acres         float64
	Why           string
	Lime, LimeTip string
	Tons          string // exact, as the files have it; "" for no figure
	Sure          string
	Marks         string // ●●○
}

// mark is a class as the map, the legend and the list show it: patch, letter, word.
type mark struct{ Name, Letter, Word string }

func markOf(c suitability.Class) mark {
	look := mapdraw.ClassLook(c)
	return mark{strings.ReplaceAll(c.String(), " ", "-"), look.Letter, look.Word}
}

// row puts a zone of a scene into the words of the list.
func (s *scene) row(i int) row {
	z := s.zones[i]
	r := row{Place: i, ID: z.ID, Field: z.FieldName, Soil: strings.TrimSpace(z.Symbol + " " + z.MapUnit), Class: markOf(z.Rating.Class),
		Moved: s.moved(i), Was: markOf(s.loaded.zones[i].Rating.Class), Area: words.Acres(z.Area), Acres: z.Area.Acres(), Why: shortReason(z),
		Sure: z.Rating.Confidence.Level, Marks: sureMarks(z.Rating.Confidence.Level)}
	if z.FieldName == z.FieldID {
		r.Field = ""
	}
	if z.LimeFirst() {
		r.Today = "today " + z.Rating.ClassToday.String()
	}
	r.Lime, r.LimeTip = shortLime(&z.Lime)
	if x, ok := z.Lime.Likely.Get(); ok {
		r.Tons = fmt.Sprintf("%.4f", x.ShortTonsPerAcre())
	}
	return r
}

func sureMarks(level string) string {
	switch level {
	case suitability.High:
		return "●●●"
	case suitability.Medium:
		return "●●○"
	}
	return "●○○"
}

// shortReason names what limits a zone, with what was found and the limit it missed.
func shortReason(z *suitability.Zone) string {
	r := &z.Rating
	code, class := r.Limiting, r.Class
	switch {
	case class == suitability.NotRated:
		return words.WhyNotRated(r.WhyNotRated, words.Landowner)
	case code == "" && r.LimitingToday != "":
		code, class = r.LimitingToday, r.ClassToday
	case code == "":
		return "nothing limits it"
	}
	what := words.Criterion(code, words.Consultant)
	if f := decidingFinding(r, code, class, class != r.Class || r.Limiting == ""); f != nil {
		what += ": " + foundAndLimit(f)
	}
	if r.Limiting == "" {
		return what + "; lime mends it"
	}
	return what
}

// decidingFinding is the finding behind a limit, in the component with most of the ground.
func decidingFinding(r *suitability.UnitRating, code suitability.Code, class suitability.Class, today bool) *suitability.Finding {
	var best *suitability.ComponentRating
	for i := range r.Components {
		c := &r.Components[i]
		limiting, of := c.Limiting, c.Class
		if today {
			limiting, of = c.LimitingToday, c.ClassToday
		}
		if limiting == code && of == class && (best == nil || c.Percent.Or(0) > best.Percent.Or(0)) {
			best = c
		}
	}
	if best == nil {
		return nil
	}
	for i := range best.Findings {
		if best.Findings[i].Criterion == code {
			return &best.Findings[i]
		}
	}
	return nil
}

// foundAndLimit prints a finding shortly: "65 cm, limit 100 cm".
func foundAndLimit(f *suitability.Finding) string {
	found, limit := strings.ToLower(f.Word), strings.ToLower(f.LimitWord)
	if v, ok := f.Value.Get(); ok {
		found = withUnit(v, f.Unit)
	}
	if v, ok := f.Limit.Get(); ok {
		limit = withUnit(v, f.Unit)
	}
	switch {
	case found == "":
		return "not recorded"
	case limit == "" || limit == found:
		return found
	}
	return found + ", limit " + limit
}

// withUnit prints a value with its unit, as far as the name of the criterion does not say it; depths in inches too.
func withUnit(v float64, u string) string {
	switch u {
	case "pH", "SAR", "":
		return words.Decimal(v, 2)
	case "cm":
		return fmt.Sprintf("%s in (%s cm)", words.Decimal(unit.Depth(v).Inches(), 0), words.Decimal(v, 0))
	case "mm": // one decimal more, so that a value just under its limit does not read as the limit itself
		return fmt.Sprintf("%s in (%s mm)", words.Decimal(unit.Depth(v/10).Inches(), 1), words.Decimal(v, 1))
	}
	return words.Decimal(v, 2) + " " + u
}

// shortLime prints the likely figure, and its band to show beside it.
func shortLime(l *suitability.Lime) (figure, tip string) {
	likely, ok := l.Likely.Get()
	switch {
	case !ok:
		return "–", ""
	case likely == 0:
		return "none", ""
	}
	figure = words.Tons(likely.ShortTonsPerAcre())
	low, okLow := l.Low.Get()
	high, okHigh := l.High.Get()
	if okLow && okHigh {
		tip = fmt.Sprintf("%s to %s", words.Tons(low.ShortTonsPerAcre()), words.Tons(high.ShortTonsPerAcre()))
	}
	if l.Bound != "" {
		figure = words.Bound(l.Bound, words.Technician) + " " + figure
	}
	return figure, tip
}

// fieldName is the name of a field with its id, or the id alone.
func fieldName(f *suitability.Field) string {
	if f.Name == "" || f.Name == f.ID {
		return f.ID
	}
	return f.Name + " (" + f.ID + ")"
}
