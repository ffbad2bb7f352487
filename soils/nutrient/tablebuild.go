package nutrient

import (
	"math"
	"slices"
	"strings"

	"rootworthy/soils/lab"
	"rootworthy/soils/unit"
)

// mostPounds is beyond every rate and every soil test, in lb/ac: a slip of the pen.
const mostPounds = 20000

// table checks the content and returns it in SI.
func (b *builder) table(raw *tableText) *Table {
	// every section is checked whatever was wrong with those before: the user mends all faults in one go
	t := &Table{Name: raw.Name, State: raw.State, Region: raw.Region, Edition: raw.Edition, Source: raw.Source, Seen: Seen(raw.Seen), Only: raw.Only}
	for _, must := range []struct{ key, text string }{{"name", raw.Name}, {"edition", raw.Edition}, {"source", raw.Source}} {
		if strings.TrimSpace(must.text) == "" {
			b.fault(0, must.key, "missing key", "say where the figures are from, so that they can be checked", "the table has no %s", must.key)
		}
	}
	// a table that does not say is the user's own
	if t.Seen == "" {
		t.Seen = Users
	}
	if !t.Seen.known() {
		b.fault(0, "seen", "unknown word", "write read, computed, user, memory or common practice, no source", "%q is not how a figure is come by", raw.Seen)
	}
	// ratings first: rates and fixed rates name their classes
	for i, r := range raw.Rating {
		b.rating(t, i, r)
	}
	b.rates(t, raw.Rate)
	for i, f := range raw.Fixed {
		b.fixed(t, i, f)
	}
	for i, h := range raw.Hold {
		n := b.nutrient("hold", i, h.Nutrient)
		least, most := b.pounds("hold", i, "least_lb_ac", h.Least), b.pounds("hold", i, "most_lb_ac", h.Most)
		t.Holds = append(t.Holds, Hold{n, least, most})
	}
	for i, s := range raw.Split {
		t.Splits = append(t.Splits, Split{b.nutrient("split", i, s.Nutrient), b.stage("split", i, s.Stage), b.parts("split", i, s)})
	}
	for i, x := range raw.Extra {
		t.Extra = append(t.Extra, Extra{b.nutrient("extra", i, x.Nutrient), b.stage("extra", i, x.Stage), b.pounds("extra", i, "lb_ac", x.Amount), x.For,
			b.parts("extra", i, x.splitText)})
	}
	b.molybdenum(t, raw)
	return t
}

// nutrient, stage and pounds read one value of the i-th entry of a section and report what is wrong with it.
func (b *builder) nutrient(section string, i int, code string) Nutrient {
	n, ok := ByCode(code)
	if !ok {
		b.fault(b.line(section, i), section+".nutrient", "unknown nutrient", "write k, p, mg, s, b or mo", "%q is no nutrient", code)
	}
	return n
}

// A wrong stage is handed on as it stands: the table is refused for its fault anyway.
func (b *builder) stage(section string, i int, s string) Stage {
	if !slices.Contains(Stages(), Stage(s)) {
		b.fault(b.line(section, i), section+".stage", "unknown stage", "write establish or maintain", "%q is no stage", s)
	}
	return Stage(s)
}

func (b *builder) pounds(section string, i int, key string, lb float64) unit.AreaRate {
	if !(lb >= 0 && lb <= mostPounds) {
		b.fault(b.line(section, i), section+"."+key, "out of range", "write pounds an acre from 0 to 20,000", "%g is not possible", lb)
		return 0
	}
	return unit.PoundsPerAcre(lb)
}

// rating checks the classes of a nutrient.
func (b *builder) rating(t *Table, i int, raw ratingText) {
	line := b.line("rating", i)
	r := Rating{Nutrient: b.nutrient("rating", i, raw.Nutrient), Classes: raw.Classes, To: raw.To, Slice: unit.PlowSlice, ExtractantSeen: Seen(raw.ExtractantSeen)}
	if t.rating(r.Nutrient) != nil {
		b.fault(line, "rating", "rated twice", "leave one of them", "%s is rated twice", r.Nutrient)
	}
	// taken to be as well founded as the table
	if r.ExtractantSeen == "" {
		r.ExtractantSeen = t.Seen
	}
	r.Extractant = b.extractant(line, raw.Extractant)
	// zero is a key that was left out: the plow slice stands
	if raw.Slice != 0 {
		if !(raw.Slice >= 1e5 && raw.Slice <= 1e7) {
			b.fault(line, "rating.slice_lb_ac", "out of range", "write pounds of soil on an acre, such as 2000000", "%g is not possible", raw.Slice)
		}
		r.Slice = unit.PoundsPerAcre(raw.Slice)
	}
	r.PerPrinted = b.printedUnit(line, raw, r.Slice)
	b.classes(line, &r)
	t.Ratings = append(t.Ratings, r)
}

// extractant reads a code; none means that the source does not say, which is no fault.
func (b *builder) extractant(line int, code string) lab.Extractant {
	if code == "" {
		return lab.ExtractantUnknown
	}
	for _, x := range lab.Extractants() {
		if x.Code() == code {
			return x
		}
	}
	b.fault(line, "rating.extractant", "unknown extractant", "write m1, m3, bray1, olsen or another code of a laboratory file", "%q is no extractant", code)
	return lab.ExtractantUnknown
}

// printedUnit returns what one printed unit is over the slice.
func (b *builder) printedUnit(line int, raw ratingText, slice unit.AreaRate) unit.AreaRate {
	switch {
	case raw.Unit == "ppm":
		return unit.Content(1).Over(slice)
	// without ends of classes no figure is compared, and no unit is needed
	case raw.Unit == "lb/ac", raw.Unit == "" && len(raw.To) == 0:
		return unit.PoundPerAcre
	}
	b.fault(line, "rating.unit", "unknown unit", "write lb/ac or ppm", "%q is no unit of a soil test here", raw.Unit)
	return unit.PoundPerAcre
}

// classes checks that classes have names of their own and rising ends.
func (b *builder) classes(line int, r *Rating) {
	if len(r.Classes) < 2 || len(r.To) != 0 && len(r.To) != len(r.Classes)-1 {
		b.fault(line, "rating.to", "row length", "give the end of every class but the last", "%d classes have %d ends", len(r.Classes), len(r.To))
	}
	for i, c := range r.Classes {
		if strings.TrimSpace(c) == "" || r.index(c) != i {
			b.fault(line, "rating.classes", "name not its own", "give every class a name of its own", "class %q is empty or stands twice", c)
		}
	}
	for i, to := range r.To {
		if !(to >= 0 && to <= mostPounds) || i > 0 && to <= r.To[i-1] {
			b.fault(line, "rating.to", "does not rise", "write the ends from the poorest class upward", "the end %g is not possible here", to)
		}
		// the ends of a table are printed alike, so the finest of them tells
		r.decimals = max(r.decimals, decimals(to))
	}
}

// decimals returns with how many decimals a figure is printed, three at most.
func decimals(x float64) int {
	for d := range 3 {
		if s := x * math.Pow(10, float64(d)); math.Abs(s-math.Round(s)) < 1e-9*max(1, math.Abs(s)) {
			return d
		}
	}
	return 3
}
