package ssurgo

import (
	"cmp"
	"fmt"
	"slices"

	"rootworthy/soils"
	"rootworthy/soils/unit"
)

// sortWithin sorts what belongs to a component by depth or month, then by content. Keys decide only between rows that
// are equal in all else.
func sortWithin(c *soils.Component) {
	slices.SortFunc(c.Horizons, func(a, b soils.Horizon) int {
		if n := cmp.Or(compareOpt(a.Top, b.Top), compareOpt(a.Bottom, b.Bottom), cmp.Compare(a.Name, b.Name)); n != 0 {
			return n
		}
		return cmp.Or(cmp.Compare(contentOf(&a), contentOf(&b)), cmp.Compare(a.Key, b.Key))
	})
	slices.SortFunc(c.Restrictions, func(a, b soils.Restriction) int {
		return cmp.Or(compareOpt(a.Top, b.Top), cmp.Compare(a.Kind, b.Kind), compareOpt(a.Bottom, b.Bottom), cmp.Compare(a.Hardness, b.Hardness))
	})
	for i := range c.Months {
		slices.SortFunc(c.Months[i].Layers, func(a, b soils.MoistureLayer) int {
			return cmp.Or(compareOpt(a.Top, b.Top), compareOpt(a.Bottom, b.Bottom), cmp.Compare(a.Status, b.Status))
		})
	}
	slices.SortFunc(c.Months, func(a, b soils.Month) int {
		if n := cmp.Compare(a.Month, b.Month); n != 0 {
			return n
		}
		return cmp.Compare(contentOf(&a), contentOf(&b))
	})
}

// sortComponents puts components in the order of the model: falling percent, then name, then content.
func sortComponents(components []soils.Component) {
	slices.SortFunc(components, func(a, b soils.Component) int {
		if n := cmp.Or(-compareOpt(a.Percent, b.Percent), cmp.Compare(a.Name, b.Name)); n != 0 {
			return n
		}
		return cmp.Or(cmp.Compare(contentOf(&a), contentOf(&b)), cmp.Compare(a.Key, b.Key))
	})
}

// compareOpt orders values, missing ones first.
func compareOpt[T cmp.Ordered](a, b unit.Opt[T]) int {
	x, okA := a.Get()
	y, okB := b.Get()
	switch {
	case okA && okB:
		return cmp.Compare(x, y)
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
		text := fmt.Sprint(x.Symbol, x.Name, x.Kind, x.Area)
		for i := range x.Components {
			text += contentOf(&x.Components[i])
		}
		return text
	default:
		return fmt.Sprint(x)
	}
}
