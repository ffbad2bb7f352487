package standin

import (
	"fmt"
	"regexp"
	"strings"

	"github.com/paulmach/orb"
	"github.com/paulmach/orb/encoding/wkt"

	"rootworthy/internal/geo/arrange"
)

var (
	// Only the forms of query that the program sends are understood: anything else is refused, as a slip in SQL would be.
	whole   = regexp.MustCompile(`^SELECT (.+?) FROM (.+?) WHERE (.+)$`)
	joining = regexp.MustCompile(`^(\w+) ON (\w+\.\w+) = (\w+\.\w+)$`)
	inList  = regexp.MustCompile(`^(\w+\.\w+) IN \(('\w+'(?:, '\w+')*)\)$`)
	unequal = regexp.MustCompile(`^(\w+\.\w+) <> '(\w+)'$`)
	meets   = regexp.MustCompile(`^mupolygongeo\.STIntersects\(geometry::STGeomFromText\('([A-Z0-9 .,()-]+)', 4326\)\.MakeValid\(\)\) = 1$`)
)

// joined is a row of each table of a FROM clause, by the table's name: the row's index.
type joined map[string]int

// scope is the tables of a FROM clause, which alone the rest of the query may name.
type scope map[string]bool

// run carries out a query.
func (s *Service) run(query string) (columns []string, rows [][]*string, err error) {
	m := whole.FindStringSubmatch(query)
	if m == nil {
		return nil, nil, fmt.Errorf("incorrect syntax near %.20q", query)
	}
	// In the order of SQL: join, filter, choose columns. No order by, as the program asks for none.
	in, found, err := s.from(m[2])
	if err != nil {
		return nil, nil, err
	}
	for _, condition := range strings.Split(m[3], " AND ") {
		keep, err := s.condition(in, condition)
		if err != nil {
			return nil, nil, err
		}
		// One after the other, which is AND; the list is filtered in place.
		kept := found[:0]
		for _, j := range found {
			if keep(j) {
				kept = append(kept, j)
			}
		}
		found = kept
	}
	return s.project(in, strings.Split(m[1], ", "), found)
}

// value finds the value of table.column in a joined row; the shapes are named without their table.
func (s *Service) value(in scope, name string) (func(joined) *string, error) {
	if name == geometry {
		name = "mupolygon." + name
	}
	table, column, _ := strings.Cut(name, ".")
	t := s.tables[table]
	if t == nil {
		return nil, fmt.Errorf("invalid object name '%s'", table)
	}
	// Its rows are not joined to anything: j would have no entry for it and give row 0.
	if !in[table] {
		return nil, fmt.Errorf("table '%s' of '%s' is not in the FROM clause", table, name)
	}
	at, ok := t.at[column]
	if !ok {
		return nil, fmt.Errorf("invalid column name '%s'", name)
	}
	return func(j joined) *string { return t.rows[j[table]][at] }, nil
}

// from joins the tables of a FROM clause.
func (s *Service) from(clause string) (scope, []joined, error) {
	steps := strings.Split(clause, " INNER JOIN ")
	first := s.tables[steps[0]]
	if first == nil {
		return nil, nil, fmt.Errorf("invalid object name '%s'", steps[0])
	}
	in := scope{steps[0]: true}
	var found []joined
	for i := range first.rows {
		found = append(found, joined{steps[0]: i})
	}
	for _, step := range steps[1:] {
		m := joining.FindStringSubmatch(step)
		if m == nil {
			return nil, nil, fmt.Errorf("incorrect syntax near '%s'", step)
		}
		var err error
		if found, err = s.join(in, found, m[1], m[2], m[3]); err != nil {
			return nil, nil, err
		}
		// only now: a table is joined to those before it, and not to itself
		in[m[1]] = true
	}
	return in, found, nil
}

// join adds a table by an equality whose left side is the new table's.
func (s *Service) join(in scope, found []joined, table, left, right string) ([]joined, error) {
	own, err := s.value(scope{table: true}, left)
	if err != nil {
		return nil, err
	}
	other, err := s.value(in, right)
	if err != nil {
		return nil, fmt.Errorf("cannot join by %s = %s: %w", left, right, err)
	}
	// By the values of the new table, as a query of a whole area would otherwise compare every row with every other.
	index := map[string][]int{}
	for i := range s.tables[table].rows {
		if v := own(joined{table: i}); v != nil {
			index[*v] = append(index[*v], i)
		}
	}
	var out []joined
	for _, j := range found {
		v := other(j)
		// As in SQL, null is equal to nothing, null included.
		if v == nil {
			continue
		}
		for _, i := range index[*v] {
			more := joined{table: i}
			for t, at := range j {
				more[t] = at
			}
			out = append(out, more)
		}
	}
	return out, nil
}

// condition reads one condition of a WHERE clause.
func (s *Service) condition(in scope, text string) (func(joined) bool, error) {
	if m := meets.FindStringSubmatch(text); m != nil {
		return s.meets(in, m[1])
	}
	name, accept := "", func(string) bool { return false }
	if m := inList.FindStringSubmatch(text); m != nil {
		list := map[string]bool{}
		for _, key := range strings.Split(m[2], ", ") {
			list[strings.Trim(key, "'")] = true
		}
		name, accept = m[1], func(v string) bool { return list[v] }
	} else if m := unequal.FindStringSubmatch(text); m != nil {
		name, accept = m[1], func(v string) bool { return v != m[2] }
	} else {
		return nil, fmt.Errorf("incorrect syntax near '%.60s'", text)
	}
	value, err := s.value(in, name)
	// Null fails every condition, <> too.
	return func(j joined) bool { v := value(j); return v != nil && accept(*v) }, err
}

// meets compares polygons with an outline.
func (s *Service) meets(in scope, outline string) (func(joined) bool, error) {
	if !in["mupolygon"] {
		return nil, fmt.Errorf("table 'mupolygon' of the outline is not in the FROM clause")
	}
	shape, err := wkt.UnmarshalMultiPolygon(outline)
	if err != nil {
		return nil, err
	}
	field := onGrid(shape)
	bound := shape.Bound()
	polygons := s.tables["mupolygon"]
	return func(j joined) bool {
		p := polygons.shapes[j["mupolygon"]]
		// Common ground alone counts; the service would also find polygons that only touch the outline.
		return p.Bound().Intersects(bound) && len(arrange.Intersection(field, onGrid(p))) > 0
	}, nil
}

func onGrid(shape orb.MultiPolygon) []arrange.Polygon {
	// Tests use sound shapes; one that is not is left empty and meets nothing.
	parts, _ := arrange.FromOrb(shape, 1e-7)
	valid, _ := arrange.MakeValid(parts)
	return valid
}

// project takes the columns asked for.
func (s *Service) project(in scope, names []string, found []joined) (columns []string, rows [][]*string, err error) {
	var values []func(joined) *string
	for _, n := range names {
		// A column without an alias is named without its table in the answer.
		expression, alias, ok := strings.Cut(n, " AS ")
		if !ok {
			alias = n[strings.LastIndex(n, ".")+1:]
		}
		v, err := s.value(in, expression)
		if err != nil {
			return nil, nil, err
		}
		columns, values = append(columns, alias), append(values, v)
	}
	for _, j := range found {
		row := make([]*string, len(values))
		for i, v := range values {
			row[i] = v(j)
		}
		rows = append(rows, row)
	}
	return columns, rows, nil
}
