package ssurgo

import (
	"context"
	"errors"
	"fmt"
	"io/fs"
	"maps"
	"slices"
	"strings"

	"rootworthy/internal/diag"
	"rootworthy/soils"
)

// joiner builds the map units of one survey area, table by table, parents before children. Rows stay in flat lists with the index of
// their parent until all are read: a parent that is replaced by another row of its key keeps its place, so its children need not be found
// again.
type joiner struct {
	area   *area
	schema schema

	symbols map[string]string // lkey → areasymbol
	areas   []soils.Area
	areaAt  map[string]int // by symbol

	units      []soils.MapUnit
	components []soils.Component
	unitOf     []int // index of the unit of each component
	horizons   []soils.Horizon
	soilOf     []int // index of the component of each horizon
	months     []soils.Month
	monthOf    []int // index of the component of each month

	unitAt, componentAt, horizonAt, monthAt map[string]int // by mukey, cokey, chkey, comonthkey

	absent   map[string]bool       // tables that the export does not have
	textured map[string]textureRef // by chtgkey, representative groups only
}

// textureRef is the horizon and the code of a texture group.
type textureRef struct {
	horizon int
	code    string
}

// join reads the tables of the area into areas and map units; these are sorted within, but not among themselves.
func (a *area) join(ctx context.Context) (*joiner, error) {
	s := builtin()
	if a.files != nil {
		if err := a.noticeCopy(); err != nil {
			return nil, fmt.Errorf("%s: %w", a.path("mapunit"), cause(err))
		}
		var err error
		// A database has its columns by name and needs no positions.
		if s, err = a.ownSchema(ctx); err != nil {
			return nil, err
		}
	}
	j := &joiner{area: a, schema: s, symbols: map[string]string{}, areaAt: map[string]int{}, unitAt: map[string]int{}, componentAt: map[string]int{},
		horizonAt: map[string]int{}, monthAt: map[string]int{}, textured: map[string]textureRef{}, absent: map[string]bool{}}
	if a.files == nil && a.source == nil {
		return j, nil // a map without tables
	}
	// parents before children, so that a key that is not known at a child's row is an orphan and not one to come
	for _, step := range j.steps() {
		if err := j.table(ctx, step); err != nil {
			return nil, err
		}
	}
	j.assemble()
	return j, nil
}

// step is one table to be read.
type step struct {
	table, parent string
	each          func(*record)
	absent        string // what an export without the table cannot tell; empty when it cannot do without
}

// steps lists the tables in the order in which they are read.
func (j *joiner) steps() []step {
	return []step{
		{"legend", "", j.legend, "the survey area and its map scale are not known"},
		{"sacatalog", "", j.catalog, "the version and date of the survey are not known"},
		{"mapunit", "", j.mapUnit, ""},
		{"component", "mapunit", j.component, ""},
		{"chorizon", "component", j.horizon, ""},
		{"chtexturegrp", "chorizon", j.textureGroup, "textures are taken from sand, silt and clay"},
		{"chtexture", "chtexturegrp", j.texture, "textures are taken from the codes of their groups"},
		{"corestrictions", "component", j.restriction, "restrictive layers are not known"},
		{"comonth", "component", j.month, "flooding, ponding and water tables are not known"},
		{"cosoilmoist", "comonth", j.moisture, "water tables are not known"},
	}
}

// table reads one table. Its absence is a fault or, where we can do without, a notice; the tables below it are then
// passed over, since every record of theirs would be an orphan.
func (j *joiner) table(ctx context.Context, s step) error {
	// "" is the parent of tables that need none, and is never absent
	if j.absent[s.parent] {
		j.absent[s.table] = true
		return nil
	}
	l := j.schema[s.table]
	err := j.area.read(ctx, l, s.each)
	// done, or an error that ends all
	if !errors.Is(err, fs.ErrNotExist) {
		return err
	}
	j.absent[s.table] = true
	f := diag.Fault{File: j.area.path(l.file), Kind: "table missing", What: "the export does not have this table", Fix: s.absent}
	// a table that we cannot do without: told as a fault, and the rest is read for what it is worth
	if s.absent == "" {
		f.Fix = "take a fresh copy of the export"
		j.area.faults.Add(f)
		return nil
	}
	j.area.faults.Notice(f)
	return nil
}

// orphan tells of a record whose parent is not in the export.
func (r *record) orphan(column, parent string) {
	r.fault(column, "orphan", fmt.Sprintf("%q is not the key of a %s of this export", clip(r.text(column)), parent),
		"the record is left out; take a fresh copy of the export")
}

// repeated settles which of two records with one key is kept: the one that comes first by content, so that the order
// of records decides nothing; content begins with the key of the parent. Twice the same is told, but harms nothing.
func (r *record) repeated(column, old, new string) (takeNew bool) {
	if old == new {
		r.table.area.faults.Notice(diag.Fault{File: r.table.name, Line: r.line, Field: column, Kind: "repeated record",
			What: fmt.Sprintf("the record of key %q stands here again", clip(r.text(column))), Fix: "it is taken once"})
		return false
	}
	r.fault(column, "repeated key", fmt.Sprintf("key %q stands twice with different content", clip(r.text(column))),
		"one of them is left out; take a fresh copy of the export")
	// by text, whatever the fields mean: it only has to be the same on every run
	return new < old
}

// assemble hangs horizons and months under components and components under map units, and sorts both.
func (j *joiner) assemble() {
	// Both look at horizons as they were read, before these are copied into their components.
	j.reckonTextures()
	j.namePans()
	for i, at := range j.soilOf {
		c := &j.components[at]
		c.Horizons = append(c.Horizons, j.horizons[i])
	}
	for i, at := range j.monthOf {
		c := &j.components[at]
		c.Months = append(c.Months, j.months[i])
	}
	for i := range j.components {
		// Sorted before it is examined and before units compare by content: both go by neighbours.
		sortWithin(&j.components[i])
		j.area.examine(&j.components[i])
	}
	for i, at := range j.unitOf {
		u := &j.units[at]
		u.Components = append(u.Components, j.components[i])
	}
	for i := range j.units {
		sortComponents(j.units[i].Components)
		j.area.examineUnit(&j.units[i])
	}
	j.emptyUnits()
}

// emptyUnits tells of map units without components: ground that was not mapped or not published (NOTCOM and the like),
// or a damaged export.
func (j *joiner) emptyUnits() {
	var without []string
	for i := range j.units {
		if len(j.units[i].Components) == 0 {
			without = append(without, fmt.Sprintf("%s (%s)", j.units[i].Symbol, j.units[i].Key))
		}
	}
	if len(without) == 0 {
		return
	}
	slices.Sort(without)
	j.area.faults.Notice(diag.Fault{File: j.area.path(j.schema["component"].file), Kind: "unit without components",
		What: fmt.Sprintf("%d map units have no component, for example %s", len(without), without[0]),
		Fix:  "they cannot be rated; NOTCOM and the like are ground that the survey does not describe"})
}

// intern returns a copy of s that is shared with all equal texts of the export.
func (a *area) intern(s string) string {
	if s == "" {
		return ""
	}
	// A county has many thousand texts and a few hundred different ones; without this each would keep the text of its
	// whole record in memory.
	if t, ok := a.interned[s]; ok {
		return t
	}
	t := strings.Clone(s)
	a.interned[t] = t
	return t
}

// sortedKeys gives a map an order: over anything that is told or written, maps are never walked as they come.
func sortedKeys[V any](m map[string]V) []string { return slices.Sorted(maps.Keys(m)) }
