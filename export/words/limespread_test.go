package words

import (
	"slices"
	"strings"
	"testing"
	"time"

	"rootworthy/soils/lime"
	"rootworthy/soils/unit"
	"rootworthy/suitability/limeplan"
	"rootworthy/suitability/stand"
)

// What is on record and what is missing stand in one sentence, in both systems; figures by hand, 0.8 short tons an acre being 1.79 t/ha.
func TestLimeSpread(t *testing.T) {
	checkWords(t, "lime of the record", limeplan.SpreadNotes(), spreadNotes())
	ton := unit.ShortTonsPerAcre(1)
	line := func(month time.Month, amount float64) stand.Record {
		return stand.Record{Kind: stand.Lime, Day: time.Date(2026, month, 2, 0, 0, 0, 0, time.UTC), Value: unit.Some(amount), Unit: "ton_ac"}
	}
	two := limeplan.Asked{Passes: []unit.AreaRate{2 * ton, 2 * ton}}
	one := limeplan.Asked{Passes: []unit.AreaRate{2 * ton}}
	for name, c := range map[string]struct {
		asked limeplan.Asked
		lines []stand.Record
		sown  bool
		want  []string
	}{
		"none":  {two, nil, false, nil},
		"begun": {two, []stand.Record{line(4, 1.2)}, false, []string{"Pass 1 of 2 is begun: 1.2 of 2 short tons an acre are on record, 0.8 are missing (1.79 of 4.48 t/ha)."}},
		"a little": {one, []stand.Record{line(4, 0.004)}, true, []string{
			"The lime is begun: under 0.01 of 2 short tons an acre are on record, 2 are missing (4.47 of 4.48 t/ha). The stand is sown; its soil tests say what it lacks."}},
		"spread": {one, []stand.Record{line(4, 1.9)}, false, []string{"The lime was spread by April 2, 2026: 1.9 short tons an acre (4.26 t/ha) on record, 2 short tons an acre (4.48 t/ha) asked."}},
		"bare":   {one, []stand.Record{{Kind: stand.Lime, Day: line(4, 0).Day}}, false, []string{"The lime was spread on April 2, 2026.", "The lime of April 2, 2026 is on record without an amount and counts as the whole pass; write down how much it was."}},
	} {
		if got := LimeSpread(c.asked.OnRecord(c.lines), c.sown); !slices.Equal(got, c.want) {
			t.Errorf("%s: %q, want %q", name, got, c.want)
		}
	}
	more := LimeSpread(one.OnRecord([]stand.Record{line(4, 3)}), false)
	if len(more) != 2 || !strings.HasPrefix(more[1], "From April 2, 2026 on 3 short tons an acre (6.73 t/ha) are on record where the pass asks 2 short tons an acre (4.48 t/ha); test") {
		t.Errorf("%q", more)
	}
	alike := []LimedZone{{1, one.OnRecord(nil), false}, {2, one.OnRecord([]stand.Record{line(4, 2)}), false}, {3, one.OnRecord([]stand.Record{line(4, 2)}), false}}
	if got := LimeOfZones(alike); !slices.Equal(got, []string{"Zones 2 and 3. The lime was spread by April 2, 2026: the 2 short tons an acre (4.48 t/ha) asked are on record."}) {
		t.Errorf("%q", got)
	}
	for i := range 40 { // each with an answer of its own
		alike = append(alike, LimedZone{10 + i, one.OnRecord([]stand.Record{line(4, float64(1+i)/50)}), false})
	}
	if got := LimeOfZones(alike); len(got) != mostLimed+1 || got[mostLimed] != "Zones with 29 other answers are not listed." {
		t.Errorf("%q", got)
	}
	for _, a := range []limeplan.Asked{{}, {AsSold: true}, {Product: lime.Product{ECCE: 63}}, {Product: lime.Product{ECCE: 63, Moisture: 8}}} {
		if s := LimeBasis(a); !strings.HasPrefix(s, "Tons on record are taken for ") || strings.Contains(s, "63") != (a.Product.ECCE == 63) || strings.Contains(s, "water") != (a.Product.Moisture > 0) {
			t.Errorf("%+v: %s", a, s)
		}
	}
	if SpreadErrorText() != "A pass counts as spread from 90 % of what it asks on: spreaders do no better (common practice, no source)." {
		t.Error(SpreadErrorText())
	}
}
