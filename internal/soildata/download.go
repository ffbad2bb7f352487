package soildata

import (
	"context"
	"fmt"
	"slices"

	"github.com/paulmach/orb"

	"rootworthy/soils"
	"rootworthy/soils/ssurgo"
)

// survey is one survey area, or a part of it, as fetched and not yet written.
type survey struct {
	// version and date as the service has them now
	name     naming
	units    []string // keys
	polygons []polygon
	tables   []table
}

// polygon is one delineation.
type polygon struct {
	// keys of polygon and map unit, symbol of the survey area, version of its map, symbol of the map unit
	key, unit, symbol, version, unitSymbol string
	shape                                  orb.MultiPolygon
}

// table is one table in its layout.
type table struct {
	layout ssurgo.Table
	rows   [][]cell // as long as the layout's columns
}

// download asks for one survey area; answers are kept in parts.
// What it asks is a function of the keys alone, so a second run finds the answers of the first.
type download struct {
	service *service
	parts   *parts
	opt     Options
	symbol  string
}

// get returns the answer to a question, from the parts if it is there.
func (d *download) get(ctx context.Context, q question) (*answer, error) {
	if raw, ok := d.parts.get(q.text, d.opt.limits.bytes); ok {
		// an answer kept by an older program may lack a column that is asked for now; then it is asked again
		if a, err := q.read(raw, d.opt.limits); err == nil {
			return a, nil
		}
	}
	a, raw, err := d.service.ask(ctx, q)
	if err != nil {
		return nil, err
	}
	// Kept as it came, byte for byte: its digest is part of the name under which it is kept.
	return a, d.parts.put(q.text, raw)
}

// each calls take for every row that a selection has for some keys, list by list. progress is told the keys done.
func (d *download) each(ctx context.Context, s selection, keys []string, progress func(done int), take func([]cell) error) error {
	done := 0
	// Lists are cut at the same places every time, since the text of a question is the name under which its answer is kept.
	for list := range slices.Chunk(keys, d.opt.limits.keys) {
		if err := split(list, func(list []string) error { return d.list(ctx, s, list, take) }); err != nil {
			return err
		}
		done += len(list)
		progress(done)
	}
	return nil
}

// list asks for one list of keys.
func (d *download) list(ctx context.Context, s selection, keys []string, take func([]cell) error) error {
	if err := ctx.Err(); err != nil {
		return context.Cause(ctx)
	}
	a, err := d.get(ctx, s.over(keys))
	if err != nil {
		return err
	}
	for _, row := range a.rows {
		if err := take(row); err != nil {
			return err
		}
	}
	return nil
}

// split calls ask with a list, and with its halves in turn when that is too much for the service.
func split(list []string, ask func([]string) error) error {
	err := ask(list)
	// done, or another trouble
	if !is(err, tooMuch) {
		return err
	}
	// a single map unit with more rows than an answer may have cannot be had this way
	if len(list) == 1 {
		return fmt.Errorf("key %s alone is too much for it: %w; take the survey from a download of the whole area", list[0], err)
	}
	half := len(list) / 2
	if err := split(list[:half], ask); err != nil {
		return err
	}
	return split(list[half:], ask)
}

// keys returns the keys of a selection of one column, sorted, each once.
func (d *download) keys(ctx context.Context, s selection, of []string) ([]string, error) {
	var out []string
	err := d.each(ctx, s, of, func(int) {}, func(row []cell) error {
		if !safeKey(row[0].Text) {
			return &failure{what: fmt.Sprintf("answered with %q where a key should stand", clip(row[0].Text))}
		}
		out = append(out, row[0].Text)
		return nil
	})
	return sortedKeys(out), err
}

// sortedKeys sorts keys by their numbers and takes each once.
func sortedKeys(keys []string) []string {
	slices.SortFunc(keys, soils.CompareKeys)
	return slices.Compact(keys)
}

// run asks for all that a survey holds.
func (d *download) run(ctx context.Context, w wanted, name naming) (*survey, error) {
	s := &survey{name: name, units: w.units}
	all := sources()
	byName := layouts()
	for i, src := range all {
		d.opt.Progress(d.symbol+": "+src.words, i, len(all))
		t := table{layout: byName[src.table]}
		// all tables but the first two hang on map units
		keys := w.units
		if src.byArea() {
			keys = []string{d.symbol}
		}
		err := d.each(ctx, src.selection(t.layout), keys, func(int) {}, func(row []cell) error {
			t.rows = append(t.rows, row)
			return nil
		})
		if err != nil {
			return nil, fmt.Errorf("%s, %s: %w", d.symbol, src.words, err)
		}
		// the service promises no order, and the files must have one
		slices.SortFunc(t.rows, compareRows)
		s.tables = append(s.tables, t)
	}
	// before the shapes, which are most of the work
	if err := s.complete(); err != nil {
		return nil, fmt.Errorf("%s: %w", d.symbol, err)
	}
	return s, d.shapes(ctx, w.polygons, s)
}

// shapes asks for the polygons.
func (d *download) shapes(ctx context.Context, keys []string, s *survey) error {
	progress := func(done int) { d.opt.Progress(d.symbol+": polygons", done, len(keys)) }
	err := d.each(ctx, shapesOf(), keys, progress, func(row []cell) error {
		p := polygon{key: row[0].Text, unit: row[1].Text, symbol: row[2].Text, version: row[3].Text, unitSymbol: row[4].Text}
		var err error
		if p.shape, err = parseWKT(row[5].Text); err != nil {
			return &failure{what: fmt.Sprintf("answered with a polygon %s that is %v", clip(p.key), err)}
		}
		s.polygons = append(s.polygons, p)
		return nil
	})
	if err != nil {
		return fmt.Errorf("%s, polygons: %w", d.symbol, err)
	}
	slices.SortFunc(s.polygons, func(a, b polygon) int { return soils.CompareKeys(a.key, b.key) })
	var got []string
	for _, p := range s.polygons {
		got = append(got, p.key)
	}
	// Polygons are asked for by key, so their number is known: an answer that was cut short cannot pass.
	if !slices.Equal(got, keys) {
		return fmt.Errorf("%s: %w", d.symbol, &failure{what: fmt.Sprintf("answered with %d polygons, %d were asked for", len(got), len(keys))})
	}
	return nil
}

// complete says whether every map unit that was asked for came once; an answer that was cut short shows here.
func (s *survey) complete() error {
	for _, t := range s.tables {
		// the one table of which the rows are known beforehand; a unit may have no component at all
		if t.layout.Name != "mapunit" {
			continue
		}
		// Every layout of mapunit has its key.
		at := slices.IndexFunc(t.layout.Columns, func(c ssurgo.TableColumn) bool { return c.Name == "mukey" })
		var got []string
		for _, row := range t.rows {
			got = append(got, row[at].Text)
		}
		slices.SortFunc(got, soils.CompareKeys)
		if !slices.Equal(got, s.units) {
			return &failure{what: fmt.Sprintf("answered with %d map units, %d were asked for", len(got), len(s.units))}
		}
	}
	return nil
}
