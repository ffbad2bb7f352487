package ssurgo

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"rootworthy/soils"
	"rootworthy/soils/unit"
)

// sortWithin sorts what belongs to a component by depth or month, then by content. Keys decide only between rows that
// are equal in all else.
func sortWithin(c *soils.Component) {
	sortByContent(c.Horizons, func(a, b *soils.Horizon) int {
		return cmp.Or(compareOpt(a.Top, b.Top), compareOpt(a.Bottom, b.Bottom), cmp.Compare(a.Name, b.Name))
	}, func(h *soils.Horizon) string { return h.Key })
	slices.SortFunc(c.Restrictions, func(a, b soils.Restriction) int {
		return cmp.Or(compareOpt(a.Top, b.Top), cmp.Compare(a.Kind, b.Kind), compareOpt(a.Bottom, b.Bottom), cmp.Compare(a.Hardness, b.Hardness))
	})
	for i := range c.Months {
		slices.SortFunc(c.Months[i].Layers, func(a, b soils.MoistureLayer) int {
			return cmp.Or(compareOpt(a.Top, b.Top), compareOpt(a.Bottom, b.Bottom), cmp.Compare(a.Status, b.Status))
		})
	}
	sortByContent(c.Months, func(a, b *soils.Month) int { return cmp.Compare(a.Month, b.Month) },
		func(*soils.Month) string { return "" })
}

// sortComponents puts components in the order of the model: falling percent, then name, then content.
func sortComponents(components []soils.Component) {
	sortByContent(components, func(a, b *soils.Component) int {
		// missing percents are lowest and so come last
		return cmp.Or(-compareOpt(a.Percent, b.Percent), cmp.Compare(a.Name, b.Name))
	}, func(c *soils.Component) string { return c.Key })
}

// sortByContent sorts by compare, then by content, then by key. Content is written out once for each value that
// compare leaves in a tie: to write it at every comparison would let a hostile file cost minutes.
func sortByContent[T any](s []T, compare func(a, b *T) int, key func(*T) string) {
	slices.SortStableFunc(s, func(a, b T) int { return compare(&a, &b) })
	for i := 0; i < len(s); {
		j := i + 1
		for j < len(s) && compare(&s[i], &s[j]) == 0 {
			j++
		}
		if j-i > 1 {
			sortTie(s[i:j], key)
		}
		i = j
	}
}

// sortTie orders what compares equal by content, then by key.
func sortTie[T any](tie []T, key func(*T) string) {
	type written struct {
		value        T
		content, key string
	}
	// value and text go through the sort together, so that each text is written once
	all := make([]written, len(tie))
	for i := range tie {
		all[i] = written{tie[i], contentOf(&tie[i]), key(&tie[i])}
	}
	slices.SortFunc(all, func(a, b written) int { return cmp.Or(cmp.Compare(a.content, b.content), cmp.Compare(a.key, b.key)) })
	for i := range tie {
		tie[i] = all[i].value
	}
}

// compareOpt orders values, missing ones first.
func compareOpt[T cmp.Ordered](a, b unit.Opt[T]) int {
	x, okA := a.Get()
	y, okB := b.Get()
	switch {
	case okA && okB:
		return cmp.Compare(x, y)
	// the missing one first
	case okB:
		return -1
	case okA:
		return 1
	}
	return 0
}

// contentOf writes a value without its keys as one text, to compare and order by.
func contentOf[T any](v *T) string {
	switch x := any(*v).(type) {
	case soils.Horizon:
		// keys change from one yearly release to the next although nothing in the soil did
		x.Key = ""
		return fmt.Sprint(x)
	case soils.Component:
		x.Key = ""
		x.Horizons = slices.Clone(x.Horizons)
		for i := range x.Horizons {
			x.Horizons[i].Key = ""
		}
		return fmt.Sprint(x)
	case soils.MapUnit:
		var text strings.Builder
		// its key is what the two have in common
		fmt.Fprint(&text, x.Symbol, x.Name, x.Kind, x.Area)
		for i := range x.Components {
			text.WriteString(contentOf(&x.Components[i]))
		}
		return text.String()
	default:
		return fmt.Sprint(x)
	}
}
