package report

import (
	"context"
	"regexp"
	"strings"
	"testing"

	"rootworthy/export/quillmoor"
	"rootworthy/suitability"
	"rootworthy/suitability/sampling"
	"rootworthy/suitability/uncertainty"
)

// Every picture has its table: a legend beside it or a table right under it; small maps have the tables of their zones, or
// the comparison that they belong to.
func TestEveryPictureHasItsTable(t *testing.T) {
	for name, d := range documents(t, quillmoor.Result()) {
		section := ""
		for i, b := range d.Blocks {
			switch b := b.(type) {
			case Heading:
				section = b.ID
			case Figure:
				if b.Legend != nil {
					continue
				}
				if _, ok := d.Blocks[i+1].(Table); !ok {
					t.Errorf("%s: %s has neither a legend nor a table under it", name, b.ID)
				}
			case Figures:
				if s := htmlOf(t, d); section != "compare" && !strings.Contains(s, `id="zones"`) {
					t.Errorf("%s: the small maps of %s have no table", name, section)
				}
			}
		}
	}
}

// Chances stand in words before their figure, in every report and wherever they stand.
func TestChancesInWordsFirst(t *testing.T) {
	r := quillmoor.Result()
	plan, err := sampling.New(context.Background(), r, sampling.Options{})
	if err != nil {
		t.Fatal(err)
	}
	c, err := Consultant(r, Options{Sampling: plan, Study: plan.Study})
	if err != nil {
		t.Fatal(err)
	}
	for name, d := range map[string]*Document{"landowner": Landowner(r, Options{}), "consultant": c} {
		text := strings.Join(strings.Fields(textOf(t, htmlOf(t, d))), " ")
		n := 0
		for _, at := range regexp.MustCompile(`\((?:suited |marginal |unsuited |not rated )?[<>]?[01]\.\d\d(?: ± 0\.\d\d)?\)`).FindAllStringIndex(text, -1) {
			before := text[max(0, at[0]-90):at[0]]
			if !regexp.MustCompile(`chances? |survey goes|another class|against that|changes that|instead|sure`).MatchString(before) {
				t.Errorf("%s: no words before the figure in %q", name, text[max(0, at[0]-90):at[1]])
			}
			n++
		}
		if n < 5 {
			t.Errorf("%s: only %d figures found", name, n)
		}
	}
}

// A part of a run says of its fields and zones what the whole run says, word for word.
func TestPartOfARunSaysTheSame(t *testing.T) {
	r := quillmoor.Result()
	study := uncertainty.Of(r, uncertainty.Options{})
	whole := textOf(t, htmlOf(t, Landowner(r, Options{Study: study})))
	for i := range r.Fields {
		id := r.Fields[i].ID
		one, sure := Only(r, study, func(f *suitability.Field) bool { return f.ID == id })
		if len(one.Fields) != 1 || len(sure.Fields) != 1 || len(one.Zones) != len(r.Fields[i].Zones) || len(sure.Zones) != len(one.Zones) {
			t.Fatalf("%s: %d fields, %d zones", id, len(one.Fields), len(one.Zones))
		}
		b := newBook(one, Options{Study: sure}, "", "")
		again := newBook(one, Options{}, "", "") // worked out anew: draws do not depend on what else is in the run
		for _, z := range b.sums[0].Zones {
			said := strings.ReplaceAll(b.zoneSure(z), "●", "")
			if !strings.Contains(strings.ReplaceAll(whole, "●", ""), strings.TrimLeft(said, "○ ")) || b.zoneSure(z) != again.zoneSure(z) {
				t.Errorf("%s: %q is not what the whole run says, or %q", z.ID, b.zoneSure(z), again.zoneSure(z))
			}
		}
		for _, f := range one.Faults {
			if f.Feature != "" && f.Feature != id {
				t.Errorf("%s: told of %s", id, f.Feature)
			}
		}
	}
}
