package choice

import (
	"bytes"
	"encoding/csv"
	"fmt"
	"math"
	"os"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"rootworthy/export/quillmoor"
	"rootworthy/export/report"
	"rootworthy/export/words"
	"rootworthy/soils/unit"
	"rootworthy/suitability"
	"rootworthy/suitability/ranking"
)

// table is the list of fields, each row by the names of its columns.
func table(t testing.TB, c *Choice) []map[string]string {
	t.Helper()
	var b bytes.Buffer
	if err := WriteCSV(&b, c); err != nil {
		t.Fatal(err)
	}
	rows, err := csv.NewReader(&b).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	var out []map[string]string
	for _, r := range rows[1:] {
		m := map[string]string{}
		for i, x := range r {
			m[rows[0][i]] = x
		}
		out = append(out, m)
	}
	return out
}

// Each field has a row; the score can be worked out by hand from its marks; what is missing is empty, never zero.
func TestTableHoldsTheArithmetic(t *testing.T) {
	for name, c := range map[string]*Choice{"invented": invented(t), "every": every(t)} {
		rows := table(t, c)
		if len(rows) != c.Fields() {
			t.Fatalf("%s: %d rows for %d fields", name, len(rows), c.Fields())
		}
		shares := c.Ranking.Weights.Shares()
		for _, r := range rows {
			if r["rank"] == "" {
				if r["verdict"] != "visit first" || r["score"] != "" || r["suited_ac"] != "" {
					t.Errorf("%s: no answer, but %v", r["field_id"], r)
				}
				continue
			}
			sum := 0.0
			for _, x := range ranking.Criteria() {
				m, err := strconv.ParseFloat(r["marks_"+x.String()], 64)
				if err != nil {
					t.Error(err)
				}
				sum += shares[x] * m
			}
			if got, _ := strconv.ParseFloat(r["score"], 64); math.Abs(got-sum) > 0.01 { // two decimals each
				t.Errorf("%s: score %v, marks make %v", r["field_id"], got, sum)
			}
			if r["field_id"] == "missing" && (r["missing"] != "cost ready" || r["cost_per_suited_ac"] != "" || r["ready_days"] != "" || r["rank_best"] == r["rank_worst"]) {
				t.Errorf("missing values: %v", r)
			}
		}
	}
}

// Draws, maps and the paper of a choice made twice are the same to the byte.
func TestSameChoiceSameBytes(t *testing.T) {
	a, b := documents(invented(t)), documents(invented(t))
	for name := range a {
		if pageOf(t, a[name]) != pageOf(t, b[name]) {
			t.Errorf("%s differs from run to run", name)
		}
		var x, y bytes.Buffer
		if a[name].PDF(&x, report.Letter) != nil || b[name].PDF(&y, report.Letter) != nil || !bytes.Equal(x.Bytes(), y.Bytes()) {
			t.Errorf("%s on paper differs from run to run", name)
		}
	}
}

// Chances are told in tenths, as in the list, and one acre is not "1 acres".
func TestLimitsInWords(t *testing.T) {
	s := pageOf(t, every(t).Document())
	for _, want := range []string{">1 acre<", ">20 acres<", ">3 chances in 10<", ">8 chances in 10<", ">50 %<"} {
		if !strings.Contains(s, want) {
			t.Errorf("no limit %q", want)
		}
	}
}

// The page holds one script, which its own policy names; nothing comes from elsewhere; ids are unique and links lead somewhere. The
// letters hold none.
func TestPageStandsAlone(t *testing.T) {
	c := every(t)
	s := pageOf(t, c.Document())
	if strings.Count(s, "<script") != 1 || strings.Count(s, "<style") != 2 || strings.Count(s, "'sha256-") != 3 || strings.Contains(s, "unsafe") {
		t.Error("the policy does not name each script and style once")
	}
	policy := regexp.MustCompile(`Content-Security-Policy" content="([^"]*)"`).FindStringSubmatch(s)
	script := regexp.MustCompile(`(?s)<script>(.*)</script>`).FindStringSubmatch(s)
	if policy == nil || script == nil || !strings.Contains(policy[1], "script-src "+hash([]byte(script[1]))) {
		t.Error("the script is not the one that the policy names")
	}
	for _, style := range regexp.MustCompile(`(?s)<style>(.*?)</style>`).FindAllStringSubmatch(s, -1) {
		if !strings.Contains(policy[1], hash([]byte(style[1]))) {
			t.Error("a style is not one that the policy names")
		}
	}
	for name, d := range documents(c) {
		var b bytes.Buffer
		if err := d.HTML(&b); err != nil {
			t.Fatal(err)
		}
		body := strings.ReplaceAll(b.String(), "http://www.w3.org/2000/svg", "")
		for _, bad := range []string{"<script", " style=", "http:", "https:", "@import", "<img", "<link"} {
			if strings.Contains(body, bad) {
				t.Errorf("%s holds %q", name, bad)
			}
		}
		ids := map[string]int{}
		for _, m := range regexp.MustCompile(` id="([^"]*)"`).FindAllStringSubmatch(body, -1) {
			ids[m[1]]++
		}
		for id, n := range ids {
			if n > 1 {
				t.Errorf("%s: id %q is there %d times", name, id, n)
			}
		}
		for _, m := range regexp.MustCompile(`(?:href="#|aria-labelledby="|url\(#)([^")]*)`).FindAllStringSubmatch(body, -1) {
			for _, id := range strings.Fields(m[1]) {
				if ids[id] != 1 {
					t.Errorf("%s refers to %q, which is not there", name, id)
				}
			}
		}
	}
}

// Names from somebody's file cannot break page, paper or table.
func TestHostileNames(t *testing.T) {
	r := quillmoor.Result()
	r.Fields[0].Name = `</title><script>alert(1)</script>"'&` + "\x00\u202e\n" + strings.Repeat("x", 5000)
	r.Fields[1].Name, r.Fields[1].Customer = "=cmd|' /C calc'!A0", "@SUM(1)"
	c := choose(t, false, Run{"</style><script>x", r}, Run{"b", quillmoor.Result()})
	for name, d := range documents(c) {
		var b bytes.Buffer
		if err := d.HTML(&b); err != nil {
			t.Fatal(err)
		}
		if s := b.String(); strings.Contains(s, "<script") || strings.Contains(s, "\u202e") || strings.Contains(s, strings.Repeat("x", 100)) {
			t.Errorf("%s: a name is written as it stands", name)
		}
		if err := d.PDF(&bytes.Buffer{}, report.A4); err != nil {
			t.Error(err)
		}
	}
	for _, row := range table(t, c) {
		for k, x := range row {
			if x != "" && strings.ContainsRune("=@", rune(x[0])) {
				t.Errorf("%s: %q would run as a formula", k, x)
			}
		}
	}
}

// Each letter has a page of its own, and no letter needs two.
func TestALetterIsAPage(t *testing.T) {
	c := every(t)
	var b bytes.Buffer
	if err := c.Letters(-1).PDF(&b, report.Letter); err != nil {
		t.Fatal(err)
	}
	if n := len(regexp.MustCompile(`/Type /Page\b[^s]`).FindAll(b.Bytes(), -1)); n != c.Fields() {
		t.Errorf("%d pages for %d letters", n, c.Fields())
	}
	if d := c.Letters(2); len(slices.DeleteFunc(slices.Clone(d.Blocks), func(b report.Block) bool { h, ok := b.(report.Heading); return !ok || h.Level != 2 })) != 2 {
		t.Error("two letters were asked for")
	}
}

// The picture and its table say the same.
func TestPictureHasItsTable(t *testing.T) {
	d := invented(t).Document()
	for i, b := range d.Blocks {
		if _, ok := b.(report.Figure); ok {
			if x, ok := d.Blocks[i+1].(report.Table); !ok || x.Caption != "Places" {
				t.Errorf("after the picture stands %T", d.Blocks[i+1])
			}
			return
		}
	}
	t.Error("no picture")
}

// Every column stands in README with its meaning.
func TestColumnsAreTold(t *testing.T) {
	readme, err := os.ReadFile("../../README.md")
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range []*Choice{invented(t), every(t)} {
		for _, head := range c.heads() {
			if !strings.Contains(string(readme), "`"+head+"`") && !strings.HasPrefix(head, "cost_per_suited_ac_") && !strings.HasPrefix(head, "lime_st_per_suited_ac_") {
				t.Errorf("README says nothing of the column %s", head)
			}
		}
	}
}

// A letter tells a shared place as shared, and says that a field stays in its place only where the draws have it there. By figures alone
// three fields may share place 2 and one of them be third in all draws.
func TestPlaceIsToldAsItIs(t *testing.T) {
	c := invented(t)
	r := c.Ranking
	if len(r.Fields) < 3 {
		t.Fatal("too few fields")
	}
	for i := range r.Fields {
		r.Fields[i].Rank, r.Fields[i].P10, r.Fields[i].P90 = 2, 2, 2
	}
	r.Fields[0].Rank, r.Fields[0].P10, r.Fields[0].P90 = 1, 1, 1
	r.Fields[1].P10, r.Fields[1].P90 = 3, 3
	r.Fields[2].P10, r.Fields[2].P90 = 1, 3
	n := len(r.Fields)
	others := words.Count(n-2, "other field", "other fields")
	for k, want := range []string{
		fmt.Sprintf("Place: 1 of %d on our list, and it stays there when", n),
		fmt.Sprintf("Place: 2 of %d on our list, which it shares with %s. When we change the weights and the figures within reason, it is in place 3 in 8 draws of 10.", n, others),
		fmt.Sprintf("Place: 2 of %d on our list, which it shares with %s. When we change the weights and the figures within reason, it stands between 1 and 3 in 8 draws of 10.", n, others),
	} {
		if got := c.letterAt(k).place(); !strings.HasPrefix(got, want) {
			t.Errorf("letter %d: %q, want %q", k, got, want)
		}
	}
}

// A field may be left for having too little suited ground; what there is of it is in the report, and the letter does not deny it.
func TestLeftFieldMayHaveSuitedGround(t *testing.T) {
	f := *every(t).Ranking.Fields[0].Field
	why := []ranking.Reason{{Code: ranking.WhyTooLittle}}
	f.Facts.ByClass[suitability.Suited] = unit.Acres(7.5)
	if s := strings.Join(changes(&f, ranking.Leave, why), " "); !strings.Contains(s, "sow the 7.5 acres (3.0 ha) by themselves") {
		t.Error(s)
	}
	f.Facts.Enough = unit.Acres(0.04)
	if s := enough(&f, unit.None[float64]()); !strings.Contains(s, "that enough of it is suited") || strings.Contains(s, "<") {
		t.Error(s)
	}
	f.Facts.ByClass[suitability.Suited] = unit.Acres(0.4)
	if s := strings.Join(changes(&f, ranking.Leave, why), " "); strings.Contains(s, "by themselves") {
		t.Error(s)
	}
}

// Costs without a price are told wherever a cost is: in the list, on the page and in every letter that names a cost.
func TestCostsWithoutAPriceAreTold(t *testing.T) {
	c := every(t)
	const lacks = "Not in the cost, because the prices do not say: seed and drilling. So the true cost is higher."
	if strings.Contains(c.Meaning(), "Not in the cost") {
		t.Error("nothing is left out, and yet it is told")
	}
	c.Unpriced = []string{"seed", "drilling"}
	if !strings.HasSuffix(c.Meaning(), lacks) {
		t.Errorf("%q", c.Meaning())
	}
	n := 0
	for k := range c.Fields() {
		if s := c.letterAt(k).money(); c.letterAt(k).placed != nil && s != "" {
			n++
			if !strings.HasSuffix(s, lacks) {
				t.Errorf("%q", s)
			}
		}
	}
	if n == 0 {
		t.Error("no letter names a cost")
	}
}
