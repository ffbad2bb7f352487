package report

import (
	"fmt"
	"strings"

	"rootworthy/export"
	"rootworthy/export/mapdraw"
	"rootworthy/export/words"
	"rootworthy/soils/unit"
	"rootworthy/suitability"
)

// compare sets two fields side by side, where asked for. An unknown id is an error that lists some there are.
func (b *book) compare() error {
	if b.opt.Compare == ([2]string{}) {
		return nil
	}
	var pair [2]*export.Sum
	for k, id := range b.opt.Compare {
		s, err := b.find(id)
		if err != nil {
			return err
		}
		pair[k] = s
	}
	t := Table{Caption: "Two fields side by side", Columns: []Column{{"", 0.3, false}, {fieldName(pair[0].Field), 0.35, false}, {fieldName(pair[1].Field), 0.35, false}}}
	for _, l := range compared() {
		t.Rows = append(t.Rows, []string{l.name, l.of(pair[0]), l.of(pair[1])})
	}
	// A head without text would be a column without a name to a screen reader.
	t.Columns[0].Head = "What is compared"
	maps := Figures{Across: 2}
	for k, s := range pair {
		maps.Items = append(maps.Items, b.smallMap(s, fmt.Sprintf("compare-%d", k+1), fieldName(s.Field)))
	}
	b.add(Heading{Level: 2, Text: "Side by side", ID: "compare"}, t, maps)
	return nil
}

// find returns a field by its id.
func (b *book) find(id string) (*export.Sum, error) {
	var ids []string
	for i := range b.sums {
		if b.sums[i].Field.ID == id {
			return &b.sums[i], nil
		}
		// A county has thousands of ids; some show how they are written.
		if len(ids) < 10 {
			ids = append(ids, b.sums[i].Field.ID)
		}
	}
	return nil, fmt.Errorf("there is no field %q in the run; there are %s", id, strings.Join(ids, ", "))
}

// compared lists what two fields are compared by.
// A field without an answer says so in each line that needs one, so that an empty cell is not read as nothing found.
func compared() []struct {
	name string
	of   func(*export.Sum) string
} {
	// An alias, not a type: the result is spelt out in the signature, where a reader meets it.
	type line = struct {
		name string
		of   func(*export.Sum) string
	}
	answered := func(of func(*export.Sum) string) func(*export.Sum) string {
		return func(s *export.Sum) string {
			if !hasAnswer(s) {
				return "no answer"
			}
			return of(s)
		}
	}
	out := []line{
		{"Rank", answered(func(s *export.Sum) string { return words.Decimal(float64(s.Rank), 0) })},
		// Area and ground outside the survey are known without any answer.
		{"Area", func(s *export.Sum) string { return words.AcresAndHectares(s.Field.Area) }},
	}
	for _, c := range suitability.Classes() {
		out = append(out, line{mapdraw.ClassLook(c).Word + " once corrected; today", answered(func(s *export.Sum) string {
			return words.Acres(s.ByClass.Of(c)) + " acres; " + words.Acres(s.ByToday.Of(c)) + " acres"
		})})
	}
	return append(out,
		line{"Score", answered(scoreText)},
		line{"Limits once corrected, acres", answered(func(s *export.Sum) string { return limitsText(s.Limits) })},
		line{"Limits today, acres", answered(func(s *export.Sum) string { return limitsText(s.LimitsToday) })},
		line{"Lime at 100 % CCE, short tons", answered(limeSpan)},
		line{"pH of topsoil, range over zones", answered(func(s *export.Sum) string {
			return phRange(s, func(v *suitability.Values) unit.Opt[unit.PH] { return v.PHSurface })
		})},
		line{"pH of subsoil, range over zones", answered(func(s *export.Sum) string {
			return phRange(s, func(v *suitability.Values) unit.Opt[unit.PH] { return v.PHSubsoil })
		})},
		line{"Acres of low confidence", answered(func(s *export.Sum) string { return words.Acres(lowConfidence(s)) })},
		line{"Outside the survey, acres", func(s *export.Sum) string { return words.Acres(s.Field.Uncovered) }},
	)
}

// phRange prints the lowest and highest of the zones.
func phRange(s *export.Sum, of func(*suitability.Values) unit.Opt[unit.PH]) string {
	low, high, any := unit.PH(0), unit.PH(0), false
	for _, z := range s.Zones {
		x, ok := of(&z.Rating.Values).Get()
		if !ok {
			continue
		}
		// The first figure stands for both ends: 0 is a number, not the lack of one.
		if !any {
			low, high, any = x, x, true
		}
		low, high = min(low, x), max(high, x)
	}
	if !any {
		return "not recorded"
	}
	// Compared as printed, or "5.4 to 5.4" would stand there.
	if words.PH(low) == words.PH(high) {
		return words.PH(low)
	}
	return words.PH(low) + " to " + words.PH(high)
}

// lowConfidence is the ground of a field whose class is the least sure.
func lowConfidence(s *export.Sum) (a unit.Area) {
	for _, z := range s.Zones {
		if z.Rating.Confidence.Level == suitability.Low {
			a += z.Area
		}
	}
	return a
}
