package grower

import (
	"testing"

	"rootworthy/export/report"
	"rootworthy/suitability/season"
)

// Where nothing can be planned the fields follow the answer on its page, and what holds for all of them is under no field's name.
func TestNothingToPlan(t *testing.T) {
	f := farm(t)
	for i := range f.Zones {
		f.Zones[i].Why, f.Zones[i].Plan = WhyUnsuited, season.Plan{}
	}
	d := Document(f)
	for i, b := range d.Blocks {
		switch b := b.(type) {
		case report.PageBreak:
			t.Errorf("block %d begins a page", i)
		case report.Heading:
			if b.ID == "cautions" && b.Running != d.Title {
				t.Errorf("the cautions stand under %q", b.Running)
			}
		}
	}
	breaks := 0
	for _, b := range Document(farm(t)).Blocks {
		if _, ok := b.(report.PageBreak); ok {
			breaks++
		}
	}
	if breaks == 0 {
		t.Error("a farm with plans has them on one page")
	}
}
