package money

import (
	"bytes"
	"encoding/xml"
	"io"
	"math"
	"os"
	"slices"
	"strconv"
	"strings"
	"testing"

	"rootworthy/export/mapdraw"
	"rootworthy/export/quillmoor"
	"rootworthy/export/report"
	"rootworthy/internal/diag"
	"rootworthy/internal/secondopinion"
	"rootworthy/suitability"
	"rootworthy/suitability/economics"
)

// prices are the invented ones of package economics.
func prices(t testing.TB) *economics.Prices {
	t.Helper()
	f, err := os.Open("../../suitability/economics/testdata/prices.toml")
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	var faults diag.List
	p, err := economics.ReadPrices("prices.toml", f, &faults)
	if err != nil || p == nil {
		t.Fatalf("%v\n%s", err, &faults)
	}
	return p
}

// book is the money of the invented farm Quillmoor.
func book(t testing.TB) *Book {
	t.Helper()
	r := quillmoor.Result()
	b := &Book{Run: r, Study: economics.Of(r, prices(t), economics.Options{Draws: 200, Seed: 1})}
	if !(b.Study.Farm.Area > 0) || b.Study.Farm.Area >= b.area() {
		t.Fatal("the farm has no ground worth sowing, or none left out")
	}
	return b
}

// rows reads a table of the book with a reader that is not ours.
func rows(t *testing.T, b *Book, name string) []map[string]string {
	t.Helper()
	var w bytes.Buffer
	if err := b.Write(&w, name, report.Letter); err != nil {
		t.Fatal(err)
	}
	return secondopinion.Rows(t, &w)
}

func value(t *testing.T, s string) float64 {
	t.Helper()
	v, err := strconv.ParseFloat(s, 64)
	if err != nil {
		t.Fatal(err)
	}
	return v
}

// The tables say the same: items add up to zones, zones worth sowing with the cost of the field to fields.
func TestTablesAddUp(t *testing.T) {
	b := book(t)
	items := map[string]float64{}
	for _, r := range rows(t, b, ItemsFile) {
		if r["part"] == "cost once" {
			items[r["zone_id"]] += value(t, r["money"])
		}
	}
	fields, sown := map[string]float64{}, map[string]bool{}
	for _, z := range rows(t, b, ZonesFile) {
		if z["once"] == "" {
			if items[z["zone_id"]] != 0 {
				t.Errorf("%s has items and no cost", z["zone_id"])
			}
			continue
		}
		if once := value(t, z["once"]); math.Abs(once-items[z["zone_id"]]) > 0.01 {
			t.Errorf("%s costs %v, its items %v", z["zone_id"], once, items[z["zone_id"]])
		}
		if z["worth_sowing"] == "yes" {
			fields[z["field_id"]] += value(t, z["once"])
			sown[z["field_id"]] = true
		}
	}
	// What is paid once for a field stands in no zone.
	whole, _ := b.Study.Prices.Of(economics.PerField)
	for _, f := range rows(t, b, FieldsFile) {
		if !sown[f["field_id"]] {
			if f["once"] != "" || f["why_not"] == "" {
				t.Errorf("%s: cost %q, why not %q", f["field_id"], f["once"], f["why_not"])
			}
			continue
		}
		if once := value(t, f["once"]); math.Abs(once-fields[f["field_id"]]-whole.Value.Likely) > 0.01 {
			t.Errorf("%s costs %v, its zones %v and the field %v", f["field_id"], once, fields[f["field_id"]], whole.Value.Likely)
		}
	}
}

// Draws come from the seed alone, so two studies of one run write the same; a file that the book does not have is an error.
func TestSameBytes(t *testing.T) {
	a, b := book(t), book(t)
	for _, name := range Files() {
		var one, two bytes.Buffer
		if err := a.Write(&one, name, report.Letter); err != nil {
			t.Fatal(err)
		}
		if err := b.Write(&two, name, report.Letter); err != nil {
			t.Fatal(err)
		}
		if one.Len() == 0 || !bytes.Equal(one.Bytes(), two.Bytes()) {
			t.Errorf("%s: %d and %d bytes, not the same", name, one.Len(), two.Len())
		}
	}
	if err := a.Write(io.Discard, "other", report.Letter); err == nil {
		t.Error("an unknown file is written")
	}
}

// The mark parts a folder that may be written over from somebody's work.
func TestMarkIsOurs(t *testing.T) {
	var w bytes.Buffer
	if err := book(t).Write(&w, markFile, report.Letter); err != nil {
		t.Fatal(err)
	}
	if err := Ours(&w); err != nil {
		t.Error(err)
	}
	for _, other := range []string{"", "{}", `{"rootworthy":"plan"}`, "[1]"} {
		if Ours(strings.NewReader(other)) == nil {
			t.Errorf("%q passes for money", other)
		}
	}
}

// The picture stays within its width, and every bar and name is there.
func TestPictureHoldsItsBars(t *testing.T) {
	b := book(t)
	for _, width := range []float64{340, 660} {
		style := mapdraw.Screen()
		style.Text = 14
		d := b.Picture(mapdraw.Options{Style: style, Width: width})
		text := ""
		for _, x := range d.Items {
			switch x := x.(type) {
			case mapdraw.Text:
				w := mapdraw.TextWidth(x.Text, x.Size, x.Bold)
				from := x.At.X - w*[...]float64{0, 0.5, 1}[x.Anchor]
				if from < -0.5 || from+w > width+0.5 || x.At.Y > d.Height {
					t.Errorf("%q runs from %.1f to %.1f on a picture %v wide", x.Text, from, from+w, width)
				}
				text += x.Text + " "
			case mapdraw.Area:
				for _, q := range x.Rings[0] {
					if q.X < 0 || q.X > width || q.Y > d.Height {
						t.Errorf("a bar leaves the picture at %v", q)
					}
				}
			}
		}
		for _, bar := range b.Study.Bars[:min(mostBars, len(b.Study.Bars))] {
			if !strings.Contains(text, strings.Fields(ItemName(bar.Input))[0]) || !strings.Contains(text, amount(bar.High.PerAcre())) {
				t.Errorf("%s is not on the picture", bar.Input)
			}
		}
	}
	var w bytes.Buffer
	if err := b.Write(&w, BarsSVG, report.Letter); err != nil {
		t.Fatal(err)
	}
	for dec := xml.NewDecoder(&w); ; {
		if _, err := dec.Token(); err == io.EOF {
			break
		} else if err != nil {
			t.Fatal(err)
		}
	}
}

// Ends below, around and above zero, and a span of one far from it: ticks stay between the ends and are few.
func TestTicksAreRound(t *testing.T) {
	for _, c := range [][2]float64{{-123, 1164}, {0, 1}, {3, 7}, {-5000, -100}, {99.5, 100.5}} {
		got := ticks(c[0], c[1])
		if len(got) < 2 || len(got) > 10 {
			t.Errorf("%v: %v", c, got)
		}
		for _, x := range got {
			if x < c[0] || x > c[1] {
				t.Errorf("%v: %v lies outside", c, x)
			}
		}
	}
}

// Without what the sod earns the document tells of no worth, no payback and no picture.
func TestNoWorthIsTold(t *testing.T) {
	r := quillmoor.Result()
	p := prices(t)
	for k, x := range p.Given {
		if x.Item == economics.SodBeforeNitrogen {
			p.Given = append(p.Given[:k:k], p.Given[k+1:]...)
			break
		}
	}
	b := &Book{Run: r, Study: economics.Of(r, p, economics.Options{Draws: 50})}
	var w bytes.Buffer
	if err := b.Document().HTML(&w); err != nil {
		t.Fatal(err)
	}
	page := w.String()
	if !strings.Contains(page, "What it may bring cannot be said: the file of prices does not give what the sod alone earns") {
		t.Error("it is not told why there is no worth")
	}
	for _, not := range []string{"What just pays it back", "What moves the result most", "draws"} {
		if strings.Contains(strings.SplitN(page, "What these sums take for granted</h2>", 2)[0], not+"</h2>") {
			t.Errorf("the page has %q", not)
		}
	}
}

// Every item and every reason has its words, and names can stand in a list.
func TestWordsForAll(t *testing.T) {
	seen := map[string]bool{}
	for _, i := range append(economics.Items(), economics.LimeNeed) {
		n := ItemName(i)
		if n == "" || seen[n] || strings.Contains(n, ",") {
			t.Errorf("%s is called %q", i, n)
		}
		seen[n] = true
	}
	for _, code := range economics.Whys() {
		if why(code) == code {
			t.Errorf("%q has no words", code)
		}
	}
	for _, p := range []economics.Part{economics.Once, economics.Gain, economics.Yearly, economics.Sod} {
		if partName(p) == "" {
			t.Errorf("part %d has no name", p)
		}
	}
}

// Names from outside cannot become formulas, tags or tables.
func TestForeignNames(t *testing.T) {
	r := quillmoor.Result()
	old := r.Fields[0].ID
	r.Fields[0].ID, r.Fields[0].Name = `=1+1`, `<script>`
	for _, k := range r.Fields[0].Zones {
		r.Zones[k].FieldID, r.Zones[k].ID = `=1+1`, "=1+1/"+strconv.Itoa(r.Zones[k].Number)
	}
	p := prices(t)
	p.Currency, p.Place, p.Given[0].Source = "=US", "<b>", `"=x`
	b := &Book{Run: r, Study: economics.Of(r, p, economics.Options{})}
	for _, name := range []string{FieldsFile, ZonesFile, ItemsFile, BarsFile} {
		for _, row := range rows(t, b, name) {
			for column, cell := range row {
				if strings.HasPrefix(cell, "=") {
					t.Errorf("%s: %s holds the formula %q", name, column, cell)
				}
			}
		}
	}
	var w bytes.Buffer
	if err := b.Document().HTML(&w); err != nil {
		t.Fatal(err)
	}
	if s := w.String(); strings.Contains(s, "<script>") || strings.Contains(s, "<b>") || strings.Contains(s, old+" <") {
		t.Error("the page holds markup of somebody else")
	}
}

// Money has three digits that count, cents only below ten, a real minus before a loss and none before what rounds to nothing. Prices are
// shown as they were given.
func TestAmounts(t *testing.T) {
	for x, want := range map[float64]string{0: "0", 1234.5: "1,230", -1234.5: "−1,230", 0.456: "0.46", 9.876: "9.88", 45.6: "46", 999.6: "1,000", -0.001: "0", 123456: "123,000"} {
		if got := amount(x); got != want {
			t.Errorf("amount(%v) = %q, want %q", x, got, want)
		}
	}
	for x, want := range map[float64]string{0.65: "0.65", 22: "22", -5: "−5", 4.5: "4.5"} {
		if got := given(x); got != want {
			t.Errorf("given(%v) = %q, want %q", x, got, want)
		}
	}
}

// Filled in, the template reads; as it comes it has no figure and says what is missing.
func TestTemplate(t *testing.T) {
	text := Template()
	var faults diag.List
	if p, err := economics.ReadPrices("t.toml", strings.NewReader(text), &faults); err != nil || p != nil || faults.Faults() != 3 {
		t.Errorf("as it comes: %v, %v, %s", p, err, &faults)
	}
	var filled strings.Builder
	for _, l := range strings.Split(text, "\n") {
		bare := strings.TrimPrefix(l, "# ")
		key, _, isKey := strings.Cut(bare, " ")
		switch {
		case strings.HasPrefix(l, "date "):
			l = "date = 2026-11-25"
		case strings.HasPrefix(l, "place "), strings.HasPrefix(l, "currency "):
			l = key + ` = "x"`
		case strings.HasPrefix(bare, "[quality]"), strings.HasPrefix(bare, "[sod_after_nitrogen]"), strings.HasPrefix(bare, "[upkeep]"): // one of two
			l = "[lime_" + strings.Trim(bare, "[]") + "]"
		case strings.HasPrefix(bare, "["):
			l = bare
		case isKey && (key == "low" || key == "likely" || key == "high"):
			l = key + " = 2"
		case strings.HasPrefix(bare, "unit "):
			l = bare
		case strings.HasPrefix(bare, "source "):
			l = `source = "me"`
		case strings.HasPrefix(bare, "year "):
			l = "year = 2026"
		}
		filled.WriteString(l + "\n")
	}
	faults = diag.List{}
	if _, err := economics.ReadPrices("t.toml", strings.NewReader(filled.String()), &faults); err != nil || faults.Faults() != 3 {
		t.Errorf("filled in: %v\n%s\nwant only the three tables that this test renames", err, &faults)
	}
	for _, i := range economics.Items() {
		if !strings.Contains(text, "# ["+i.String()+"]\n") {
			t.Errorf("%s is not in it", i)
		}
	}
}

// The figures to compare with, as their sources print them; nothing is worked out from them, and none of them is a price of the program.
func TestComparisonsOfTheTemplate(t *testing.T) {
	text := strings.Join(strings.Fields(strings.ReplaceAll(Template(), "#", "")), " ")
	for id, want := range map[string]string{
		"est-1 (read): NC State Extension, Planting guide for forage crops in North Carolina": "100 to 250 USD an acre to establish forage crops (all kinds; no year)",
		"y-1 (read): Haby, SARE LS99-100, early-2000s prices":                                 "On East Texas farms of 2000 to 2004 hay brought 135 USD a short ton and left 130 to 302 USD an acre (Haby, SARE LS99-100, 2004)",
	} {
		if !strings.Contains(text, want) {
			t.Errorf("%s: the template does not say %q", id, want)
		}
	}
}

// On ground of which nothing is suited all files are still written, and the answer names the ground as the reason.
func TestNothingToSow(t *testing.T) {
	r := quillmoor.Result()
	for i := range r.Zones {
		r.Zones[i].Rating.Class = suitability.Unsuited
	}
	b := &Book{Run: r, Study: economics.Of(r, prices(t), economics.Options{Draws: 20})}
	if a := b.Answer(); len(a) != 1 || !strings.Contains(a[0], "acres is known to be fit for sowing, whatever the prices. The table of ground left out says why.") { // it is the ground, not the money
		t.Errorf("%q", a)
	}
	for _, name := range Files() {
		if err := b.Write(io.Discard, name, report.A4); err != nil {
			t.Errorf("%s: %v", name, err)
		}
	}
}

// Fields without an answer have no zones: the page names no table that it does not have.
func TestNoFieldHasAnAnswer(t *testing.T) {
	r := quillmoor.Result()
	r.Zones = nil
	for i := range r.Fields {
		r.Fields[i].Zones = nil
	}
	b := &Book{Run: r, Study: economics.Of(r, prices(t), economics.Options{Draws: 20})}
	if a := b.Answer(); len(a) != 1 || strings.Contains(a[0], "table") || !strings.Contains(a[0], "No field has an answer.") {
		t.Errorf("%q", a)
	}
}

// A copy of the prices keeps the remarks in them, so that nothing is lost to who edits it; what may be out of date is told.
func TestPricesAreCopiedAndAged(t *testing.T) {
	b := book(t)
	want, err := os.ReadFile("../../suitability/economics/testdata/prices.toml")
	if err != nil {
		t.Fatal(err)
	}
	var got bytes.Buffer
	if err := b.Write(&got, PricesFile, report.Letter); err != nil || !bytes.Equal(got.Bytes(), want) {
		t.Errorf("%v; %d bytes, want the %d of the file", err, got.Len(), len(want))
	}
	if s := b.Aged(); s != "1 figure is 3 years old or more: ask again before you rely on it." {
		t.Errorf("one figure is of 2021: %q", s)
	}
	b.Run.Provenance.Date = "2029-03-01"
	if s := b.Aged(); !strings.HasPrefix(s, "The prices are of November 25, 2026, but the run counts from March 1, 2029.") {
		t.Errorf("%q", s)
	}
}

// Whose figure the life of the stand is, is told as it is: the program's own is not the reader's, and the reader's not the program's.
func TestPaybackSaysWhoseTheLifeIs(t *testing.T) {
	own := book(t)
	own.Study.Prices.Given = slices.DeleteFunc(own.Study.Prices.Given, func(x economics.Price) bool { return x.Item == economics.LifeSuited })
	if s := text(t, own); !strings.Contains(s, "These sums take 5 to 7 years on suited ground.") {
		t.Error("the program's own life of a stand is not told as such")
	}
	x, ok := own.Study.Prices.Of(economics.LifeSuited)
	if !ok || !x.Own {
		t.Fatal("the program has no life of a stand")
	}
	x.Own, x.Line = false, 7
	own.Study.Prices.Given = append(own.Study.Prices.Given, x)
	if s := text(t, own); !strings.Contains(s, "Your file says 5 to 7 years on suited ground.") {
		t.Error("the file's life of a stand is not told as such")
	}
}

// text is the document of a book as its page has it.
func text(t *testing.T, b *Book) string {
	t.Helper()
	var w bytes.Buffer
	if err := b.Document().HTML(&w); err != nil {
		t.Fatal(err)
	}
	return w.String()
}

// The share of draws with a gain never reads as all or none where it is not, in words or in figures.
func TestShareOfDrawsWithAGain(t *testing.T) {
	for share, want := range map[float64]string{0: "a loss in every draw.", 0.001: "a gain in under 1 draw of 100 (<0.01).", 0.01: "a gain in 1 draw of 100 (0.01).", 0.04: "a gain in 4 draws of 100 (0.04).",
		0.1: "a gain in 1 draw of 10 (0.10).", 0.845: "a gain in 8 draws of 10 (0.85).", 0.96: "a gain in 96 draws of 100 (0.96).", 0.999: "a gain in over 99 draws of 100 (>0.99).", 1: "a gain in every draw."} {
		if got := above(economics.Spread{Above: share}); got != "There was "+want {
			t.Errorf("%g: %q, want %q", share, got, want)
		}
	}
}

// A cost without a price makes ground look better than it is, and the page says that beside the sums.
func TestCostWithoutAPriceIsNoGain(t *testing.T) {
	b := book(t)
	b.Study.Left = []economics.Item{economics.Seed}
	if s := b.leftOut(); !strings.HasSuffix(s, "So the true cost is higher and the worth is less; ground that looks worth sowing may not be.") {
		t.Error(s)
	}
}

// Halves round up even where a sum falls a hair short of them.
func TestHalvesOfAmounts(t *testing.T) {
	for x, want := range map[float64]string{624.5: "625", 624.4999999999999: "625", 624.49: "624", -624.4999999999999: "−625", 0: "0", 1045: "1,050", 0.649999999999999: "0.65"} {
		if got := amount(x); got != want {
			t.Errorf("%v reads %s, want %s", x, got, want)
		}
	}
}

// A run without a day tells the wait in years, one of them in the singular.
func TestWaitsInYears(t *testing.T) {
	b := book(t)
	b.Run.Provenance.Date = ""
	for wait, want := range map[float64]string{0: "now", 1: "in 1 year", 1.04: "in 1 year", 1.5: "in 1.5 years", 2: "in 2 years"} {
		if got := b.sownFrom(wait); got != want {
			t.Errorf("%g years: %q, want %q", wait, got, want)
		}
	}
}
