package samplesheet

import (
	"fmt"
	"math"
	"strings"

	"rootworthy/export/words"
	"rootworthy/soils/unit"
	"rootworthy/suitability"
	"rootworthy/suitability/sampling"
	"rootworthy/suitability/uncertainty"
)

const title = "Soil sampling plan"

// fieldName is the name of a field with its id.
func fieldName(f *suitability.Field) string {
	if f.Name != "" && f.Name != f.ID {
		return f.ID + " " + f.Name
	}
	return f.ID
}

// depth says how deep a bag is dug.
func depth(b *sampling.Bag) string {
	return fmt.Sprintf("%.0f to %.0f in (%g to %g cm)", b.From.Inches(), b.To.Inches(), float64(b.From), float64(b.To))
}

// fills says what is filled at a stop.
func fills(p *sampling.Plan, s sampling.Stop) string {
	var parts []string
	for _, i := range s.Bags {
		b := &p.Bags[i]
		parts = append(parts, fmt.Sprintf("bag %s, %.0f to %.0f in", words.Shown(b.ID, mostName), b.From.Inches(), b.To.Inches()))
	}
	return strings.Join(parts, "; ")
}

// reason says what the bags of a zone are for. Tests change a class or lime; what they cannot settle is told as well.
func reason(z *sampling.Zone) string {
	w := z.Worth
	var parts []string
	// A change of less than two in a hundred is not worth a clause.
	if right := w.WrongNow - w.WrongThen; right > 0.02 {
		parts = append(parts, fmt.Sprintf("its class is wrong now with %s, then with %s", words.Chance(w.WrongNow), words.Chance(w.WrongThen)))
	}
	// Nor is less than one chance in twenty that the class moves, or lime that would print as nothing.
	if w.Changes >= 0.05 {
		parts = append(parts, words.Chance(w.Changes)+" that the class changes")
	}
	if tons := (w.AstrayNow - w.AstrayThen).ShortTons(); tons > 0.05 {
		parts = append(parts, fmt.Sprintf("about %s short tons of lime go where they belong", words.Tons(tons)))
	}
	if z.Top > 0 && z.Zone.Lime.Likely.Or(0) > 0 && z.Zone.Lime.Test == nil {
		parts = append(parts, "its lime is a budget until it is tested")
	}
	if len(parts) == 0 {
		parts = append(parts, "it would change little else")
	}
	s := strings.Join(parts, "; ") + "."
	// Much stays wrong and the test hardly helps: what is unsure is not the pH.
	if w.WrongThen > 0.2 && w.WrongNow-w.WrongThen < 0.05 {
		s += " No test of pH can tell which soil lies here, nor how deep or wet it is: look with an auger."
	}
	return strings.ToUpper(s[:1]) + s[1:]
}

// left says why a zone gets no bag.
// It speaks of several zones at once ("in them"), unlike the same reason for one zone.
func left(why string) string {
	switch why {
	case sampling.NoRoom:
		return "no place in them is clear of the edge"
	case sampling.NoWorth:
		return "a test of pH would hardly change what is done there"
	case sampling.Tested:
		return "tested lately, and nothing deeper is asked for"
	case sampling.NoBudget:
		return "the bags put more right in other zones"
	case sampling.NoAnswer:
		return "not rated, and no test of pH can rate them"
	case sampling.NotAsked:
		return "in fields that were not asked for"
	}
	return why
}

// leftLines lists the zones without a bag by reason.
func leftLines(p *sampling.Plan) (out []string) {
	// A farm may have hundreds of such zones; the files name all of them.
	const few = 12
	for _, why := range sampling.Reasons() {
		var ids []string
		area := unit.Area(0)
		for _, l := range p.Left {
			if l.Why == why {
				ids = append(ids, words.Shown(l.Zone.ID, mostName))
				area += l.Zone.Area
			}
		}
		if n := len(ids); n > 0 {
			if n > few {
				ids = append(ids[:few], fmt.Sprintf("%d more", n-few))
			}
			out = append(out, fmt.Sprintf("%s acres (%s): %s.", words.Acres(area), strings.Join(ids, ", "), left(why)))
		}
	}
	return out
}

// rules tells how to take the cores.
func rules(p *sampling.Plan) []string {
	o := p.Options
	// Rounded down, so that what is promised holds.
	clear := fmt.Sprintf("Every core lies at least %.0f ft (%.0f m) from the field's edge", math.Floor(float64(o.Clear())/0.3048), math.Floor(float64(o.Clear())))
	out := []string{
		clear + " and from excluded ground. Move a core by a few steps off dung, burn spots, old lime piles and tracks; skip it if that is not enough.",
		"Scrape off the thatch, not the soil. Mix the cores of a bag in a clean plastic bucket and write its name on the bag before the next.",
		"Take topsoil and subsoil of one stop from one hole, and keep loose topsoil out of the subsoil bag.",
		"Write the depth on the bag: a lime rate is for the slice that the laboratory has in mind. Where lime stays on top of the sod, some want a bag of the top " +
			"inches besides (Iowa State: 2 to 3 in; Ohio: 4 in, read in a copy); ask yours.",
		"Ask the laboratory for pH in water and for its lime requirement, with the method's name.",
		"Deeper than a foot: have buried lines located first (in the United States call 811 some days before).",
		"The way is straight between stops; nothing is known of gates, fences, water and crops.",
	}
	return out
}

// walk says how far it is from the first stop of a field to its last.
func walk(way unit.Length) string {
	return fmt.Sprintf("%s ft (%s m)", words.Fixed(float64(way)/0.3048, 0), words.Fixed(float64(way), 0))
}

// judgements lists what the plan rests on.
func judgements() (out []string) {
	for _, j := range uncertainty.Judgements() {
		s := j.What
		if j.Value != 0 {
			s += fmt.Sprintf(": %g %s", j.Value, j.Unit)
		}
		s = strings.TrimSpace(s) + " (" + words.Founding(j.Source, j.Status) + ")"
		// "PH" is no word, at the head of a sentence neither.
		if strings.HasPrefix(s, "pH") {
			out = append(out, s+".")
		} else {
			out = append(out, words.Sentence(s))
		}
	}
	return out
}

// total says the whole plan in a sentence.
func total(p *sampling.Plan) string {
	deep, stops := 0, 0
	for _, b := range p.Bags {
		if b.Deep {
			deep++
		}
	}
	// Between the stops alone: the walk from the gate is not known.
	way := unit.Length(0)
	for _, f := range p.Fields {
		stops, way = stops+len(f.Stops), way+f.Way
	}
	far := fmt.Sprintf("%.1f miles (%.1f km)", float64(way)/1609.344, float64(way)/1000)
	// Under a tenth of a mile, which would read as 0.1 or as nothing, in feet as the way within a field.
	if float64(way) < 160.9344 {
		far = walk(way)
	}
	s := fmt.Sprintf("%s (%d topsoil, %d subsoil) from %s in %s, %s on foot.", words.Count(len(p.Bags), "bag", "bags"), len(p.Bags)-deep, deep,
		words.Count(stops, "stop", "stops"), words.Count(len(p.Fields), "field", "fields"), far)
	if p.Cost > 0 {
		s += fmt.Sprintf(" Cost %.2f.", p.Cost)
	}
	return s
}
