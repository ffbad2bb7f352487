package soildata

import (
	"cmp"
	"context"
	"fmt"
	"maps"
	"slices"

	"rootworthy/internal/diag"
)

// wanted is what is to be fetched of one survey area.
type wanted struct {
	symbol   string
	units    []string // keys, sorted; of a whole area they are found later
	polygons []string
	// units and polygons are then empty until download.whole has asked for them
	whole bool
}

// met collects what the fields meet, by survey area.
type met struct {
	service *service
	opt     Options
	faults  *diag.List
	areas   map[string]*wanted
}

// discover asks which polygons the fields meet. Fields that meet none are told.
func (s *service) discover(ctx context.Context, groups []group, faults *diag.List) ([]wanted, error) {
	m := &met{service: s, opt: s.opt, faults: faults, areas: map[string]*wanted{}}
	for i, g := range groups {
		s.opt.Progress("what the fields meet", i, len(groups))
		if err := m.ask(ctx, g); err != nil {
			return nil, fmt.Errorf("map units under the fields: %w", err)
		}
	}
	var out []wanted
	for _, symbol := range slices.Sorted(maps.Keys(m.areas)) {
		w := m.areas[symbol]
		w.units, w.polygons = sortedKeys(w.units), sortedKeys(w.polygons)
		// In the order of the symbols: areas is a map.
		out = append(out, *w)
	}
	return out, nil
}

// ask asks what one group of fields meets, in halves where that is too much.
func (m *met) ask(ctx context.Context, g group) error {
	a, _, err := m.service.ask(ctx, meeting(g.text(m.opt.limits.text)))
	// halves of the fields, until the answer fits; of one field there is no half
	if is(err, tooMuch) && len(g.fields) > 1 {
		x, y := g.halves()
		if err := m.ask(ctx, x); err != nil {
			return err
		}
		// A polygon that both halves meet is noted twice, and once after sortedKeys.
		return m.ask(ctx, y)
	}
	if err != nil {
		return err
	}
	// Of a group as a whole: a field beside others that are covered is not told here, and is by the screening.
	if len(a.rows) == 0 {
		m.faults.Add(diag.Fault{Feature: "fields " + g.ids(), Kind: "no coverage", What: "the service has no soil survey where they lie",
			Fix: "check that they lie in the United States and are in longitude and latitude"})
	}
	for _, row := range a.rows {
		if err := m.add(row); err != nil {
			return err
		}
	}
	return nil
}

// add takes one polygon: area symbol, map unit key, polygon key.
func (m *met) add(row []cell) error {
	symbol, ok := Symbol(row[0].Text)
	// These go into further queries, so nothing but a symbol and digits may come through.
	if !ok || !safeKey(row[1].Text) || !safeKey(row[2].Text) {
		return &failure{what: fmt.Sprintf("answered with %q, %q, %q where a survey area and two keys should stand",
			clip(row[0].Text), clip(row[1].Text), clip(row[2].Text))}
	}
	w := m.areas[symbol]
	if w == nil {
		w = &wanted{symbol: symbol}
		m.areas[symbol] = w
	}
	w.units, w.polygons = append(w.units, row[1].Text), append(w.polygons, row[2].Text)
	return nil
}

// versions asks for version and date of survey areas; those that the service does not know are absent. Of two entries
// the newer counts.
func (s *service) versions(ctx context.Context, symbols []string) (map[string]naming, error) {
	out := map[string]naming{}
	// fields of many counties are asked for in one question
	for list := range slices.Chunk(symbols, s.opt.limits.keys) {
		a, _, err := s.ask(ctx, versionsOf().over(list))
		if err != nil {
			return nil, fmt.Errorf("versions of survey areas: %w", err)
		}
		for _, row := range a.rows {
			symbol, ok := Symbol(row[0].Text)
			// the day alone: the hour is that of the service's own clock
			n := naming{symbol: symbol, version: row[1].Text, date: dayOf(row[2].Text)}
			old, had := out[symbol]
			if ok && (!had || cmp.Or(cmp.Compare(n.date, old.date), cmp.Compare(len(n.version), len(old.version)), cmp.Compare(n.version, old.version)) > 0) {
				out[symbol] = n
			}
		}
	}
	return out, nil
}
