package changes

import (
	"bytes"
	"encoding/csv"
	"math"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/paulmach/orb"

	"rootworthy/soils/unit"
	"rootworthy/suitability"
	"rootworthy/suitability/change"
)

// strip is a run of one field, cut from west to east into zones of equal width, with the class and the pH of each.
func strip(east float64, zones ...any) *suitability.Result {
	r := &suitability.Result{}
	box := func(west, east float64) orb.MultiPolygon {
		return orb.MultiPolygon{{{{west, 33}, {east, 33}, {east, 33.004}, {west, 33.004}, {west, 33}}}}
	}
	f := suitability.Field{ID: "A", Name: "A", Shape: box(-91, east)}
	n := len(zones) / 2
	for i := range n {
		at := func(k int) float64 { return math.Round((-91+(east+91)*float64(k)/float64(n))*1e7) / 1e7 }
		z := suitability.Zone{ID: "A/" + strconv.Itoa(i+1), FieldID: "A", Number: i + 1, Symbol: "Ab", Shape: box(at(i), at(i+1))}
		z.Rating.Class = zones[2*i].(suitability.Class)
		z.Rating.ClassToday = z.Rating.Class
		if z.Rating.Class == suitability.Unsuited {
			z.Rating.Limiting = suitability.Drainage
		}
		if ph := zones[2*i+1].(float64); ph > 0 {
			z.Rating.Values.PHSurface = unit.Some(unit.PH(ph))
			z.Lime.Likely = unit.Some(unit.ShortTonsPerAcre(7 - ph))
		}
		f.Zones = append(f.Zones, i)
		r.Zones = append(r.Zones, z)
	}
	r.Fields = []suitability.Field{f}
	return r
}

// sold makes the lime of all zones lime as sold.
func sold(r *suitability.Result) *suitability.Result {
	for i := range r.Zones {
		r.Zones[i].Lime.AsSold = true
	}
	return r
}

func compared(t *testing.T, a, b *suitability.Result) *change.Comparison {
	t.Helper()
	c, err := change.Compare(t.Context(), a, b)
	if err != nil {
		t.Fatal(err)
	}
	return c
}

// Two zones became three, and the boundary moved: every sentence has its acres. The strip is 0.004 degrees of latitude by 0.012 of longitude at 33
// degrees north, 443.7 m by 1,121.5 m (lengths of a degree on WGS 84): 122.9 acres.
func TestSay(t *testing.T) {
	const s, m, u, n = suitability.Suited, suitability.Marginal, suitability.Unsuited, suitability.NotRated
	for name, tc := range map[string]struct {
		a, b *suitability.Result
		want []string
	}{
		"nothing": {strip(-90.988, s, 6.0, u, 0.0), strip(-90.988, s, 6.0, u, 0.0), []string{"All 123 acres (49.7 ha) of ground that both runs have are of the same class, today and once corrected."}},
		"better": {strip(-90.988, u, 6.0), strip(-90.988, m, 6.5), []string{
			"Of 123 acres (49.7 ha) that both runs have, none are of the same class, today and once corrected; 123 are better.",
			"The pH of the topsoil is higher on 123 acres, by 0.5 in the mean.",
			"The lime figure is lower on 123 acres, by 0.5 tons/ac in the mean.",
			"Over ground with a lime figure in both, after asks for 61.5 short tons less."}},
		"split, and part worse": {strip(-90.988, s, 6.0), strip(-90.988, s, 6.04, s, 5.4, m, 6.0, n, 0.0), []string{
			"Of 123 acres (49.7 ha) that both runs have, 61.5 acres are of the same class, today and once corrected; 30.7 are worse; 30.7 are no longer rated.",
			"The pH of the topsoil is lower on 30.7 acres, by 0.6 in the mean; known only in before on 30.7 acres.",
			"The lime figure is higher on 30.7 acres, by 0.6 tons/ac in the mean; known only in before on 30.7 acres.",
			"Over ground with a lime figure in both, after asks for 17.2 short tons more."}},
		"boundary moved": {strip(-90.988, s, 6.0), strip(-90.985, s, 6.0), []string{
			"All 123 acres (49.7 ha) of ground that both runs have are of the same class, today and once corrected.",
			"30.7 acres lie in the fields of after alone."}},
		"now rated": {strip(-90.988, n, 0.0), strip(-90.988, s, 0.0), []string{"Of 123 acres (49.7 ha) that both runs have, none are of the same class, today and once corrected; 123 are rated only now."}},
		"two kinds of lime": {strip(-90.988, s, 6.0), sold(strip(-90.988, s, 6.0, s, 7.0)), []string{
			"All 123 acres (49.7 ha) of ground that both runs have are of the same class, today and once corrected.",
			"The pH of the topsoil is higher on 61.5 acres, by 1.0 in the mean.",
			"The lime figure is lower on 61.5 acres, by 1.0 tons/ac in the mean.",
			"Over ground with a lime figure in both, after asks for 61.5 short tons less.",
			"On 61.5 acres one run asks for pure lime (100 % CCE) and the other for lime as sold, whose quality is not stated: these figures cannot be compared."}},
		"elsewhere": {strip(-90.988), &suitability.Result{}, []string{"The two runs have no ground in common."}},
	} {
		sum := compared(t, tc.a, tc.b).Sum()
		if got := Say(&sum, [2]string{"before", "after"}); !slices.Equal(got, tc.want) {
			t.Errorf("%s:\n got %s\nwant %s", name, strings.Join(got, "\n     "), strings.Join(tc.want, "\n     "))
		}
	}
}

// The table has each zone with all zones of the other run that it lies on, and its acres add up.
func TestWriteCSV(t *testing.T) {
	a, b := strip(-90.988, suitability.Suited, 6.0, suitability.Unsuited, 5.0), strip(-90.985, suitability.Suited, 6.0, suitability.Suited, 6.0, suitability.Unsuited, 0.0)
	a.Fields[0].ID, a.Fields[0].Outside = "=old", a.Zones[0].Shape // a name that a spreadsheet would take for a formula
	a.Fields[0].Zones, a.Zones[1].FieldID = []int{1}, "=old"
	var text bytes.Buffer
	if err := WriteCSV(&text, compared(t, a, b)); err != nil {
		t.Fatal(err)
	}
	rows, err := csv.NewReader(bytes.NewReader(text.Bytes())).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	at := func(row []string, name string) string { return row[slices.Index(rows[0], name)] }
	acres, said := 0.0, ""
	for _, r := range rows[1:] {
		x, err := strconv.ParseFloat(at(r, "acres"), 64)
		if err != nil {
			t.Fatal(err)
		}
		acres += x
		said += strings.Join([]string{at(r, "field_id_before"), at(r, "zone_id_before"), at(r, "class_before"), at(r, "zone_id_after"), at(r, "change")}, " ") + "\n"
	}
	want := "'=old  outside the survey A/1 survey\n'=old  outside the survey A/2 survey\n'=old A/2 unsuited A/2 class+limiting+ph+lime\n'=old A/2 unsuited A/3 ph+lime\n   A/3 only after\n"
	if got := sorted(said); got != sorted(want) {
		t.Errorf("rows\n%s\nwant\n%s", got, sorted(want))
	}
	if math.Abs(acres-153.6) > 0.1 { // the longer of the two strips, see TestSay
		t.Errorf("%.2f acres in all", acres)
	}
}

func sorted(lines string) string {
	l := strings.Split(lines, "\n")
	slices.Sort(l)
	return strings.Join(l, "\n")
}

// Names come out of a file that anybody may have written: on a terminal they are letters and nothing else.
func TestNamesDoNotSteer(t *testing.T) {
	a, b := strip(-90.988, suitability.Suited, 6.0), strip(-90.988, suitability.Unsuited, 6.0)
	for _, r := range []*suitability.Result{a, b} {
		r.Fields[0].Name, r.Fields[0].ID = "Hill\x1b[2J\u202e", "\x07A"
	}
	var out strings.Builder
	if err := WriteText(&out, compared(t, a, b), [2]string{"before", "after"}, 80); err != nil {
		t.Fatal(err)
	}
	if text := out.String(); strings.ContainsAny(text, "\x1b\x07\u202e") || !strings.Contains(text, "Hill?[2J? (?A)") {
		t.Errorf("%q", text)
	}
}
