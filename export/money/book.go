package money

import (
	"time"

	"rootworthy/export/words"
	"rootworthy/soils/unit"
	"rootworthy/suitability"
	"rootworthy/suitability/economics"
)

// Book is what is written: a run and its money.
type Book struct {
	Run   *suitability.Result
	Study *economics.Study
}

// currency is the user's word for the money.
// It is shown as given; nothing is ever turned from one currency into another.
func (b *Book) currency() string { return words.Shown(b.Study.Prices.Currency, 12) }

// mostName is how many letters of a name from somebody's file are shown.
const mostName = 60

// shown makes a name from somebody's file fit to be printed.
func shown(s string) string { return words.Shown(s, mostName) }

// fieldName names a field: its id with its name.
func (b *Book) fieldName(i int) string {
	f := &b.Run.Fields[i]
	if f.Name == "" || f.Name == f.ID {
		return shown(f.ID)
	}
	return shown(f.ID) + " " + shown(f.Name)
}

// area is the ground of the run.
func (b *Book) area() unit.Area {
	var a unit.Area
	for i := range b.Run.Fields {
		a += b.Run.Fields[i].Area
	}
	return a
}

// sown counts the fields with ground worth sowing.
func (b *Book) sown() int {
	n := 0
	for i := range b.Study.Fields {
		if b.Study.Fields[i].Area > 0 {
			n++
		}
	}
	return n
}

// sownFrom says from when ground is sown, by the day of the run where it has one.
// wait is in years from the day of the run.
func (b *Book) sownFrom(wait float64) string {
	day, err := time.Parse(time.DateOnly, b.Run.Provenance.Date)
	switch {
	case err == nil:
		return day.Add(time.Duration(wait * daysInYear * 24 * float64(time.Hour))).Format("Jan 2006")
	// Less than three weeks.
	case wait < 0.05:
		return "now"
	}
	return "in " + years(wait)
}

// yearLong is how far prices and run may lie apart before it is told.
const yearLong = 366 * 24 * time.Hour

// daysInYear turns years into days of the calendar.
const daysInYear = 365.2425

// mean is an item over the ground worth sowing, each zone by its area.
type mean struct {
	item   economics.Item
	money  economics.Range[economics.PerArea]
	amount economics.Range[float64] // that the price is multiplied by; zero where it is not
}

// means lists the items of the ground worth sowing, in their order.
func (b *Book) means() []mean {
	var out []mean
	for _, i := range economics.Items() {
		m, found := mean{item: i}, false
		for k := range b.Study.Zones {
			z := &b.Study.Zones[k]
			if !z.Sow {
				continue
			}
			// An item that a zone does not have counts as nothing there, since the mean is over all ground to sow.
			// The farm's area in the study is that of the ground worth sowing, so the shares add up to 1.
			share := float64(z.Area) / float64(b.Study.Farm.Area)
			for _, l := range z.Lines {
				if l.Item == i {
					m.money, found = m.money.Add(l.Money.Times(share)), true
					m.amount = m.amount.Add(l.Amount.Or(economics.Range[float64]{}).Times(share))
				}
			}
		}
		if found {
			out = append(out, m)
		}
	}
	return out
}
