package grower

import (
	"strings"
	"testing"
	"time"

	"rootworthy/export/report"
	"rootworthy/suitability/season"
	"rootworthy/suitability/stand"
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

// Ground that the survey calls unfit may have been sown all the same; the plan says that it knows.
func TestSownWithoutAPlan(t *testing.T) {
	f := farm(t)
	z := &f.Zones[0]
	z.Why, z.Plan = WhyUnsuited, season.Plan{}
	says := func() bool {
		for _, b := range Document(f).Blocks {
			if x, ok := b.(report.Bullets); ok && strings.Contains(strings.Join(x.Items, " "), "Your record says that it was sown on October 20, 2026") {
				return true
			}
		}
		return false
	}
	if says() {
		t.Error("a sowing that nobody wrote down")
	}
	f.Record = []stand.Story{{Field: z.FieldID, Zone: z.ID, Sown: time.Date(2026, time.October, 20, 0, 0, 0, 0, time.UTC)}}
	if !says() {
		t.Error("the plan does not know of the sowing")
	}
}
