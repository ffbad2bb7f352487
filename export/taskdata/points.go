package taskdata

import (
	"cmp"
	"context"
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"math"
	"slices"
	"strconv"
	"strings"

	"rootworthy/internal/diag"
	"rootworthy/soils/unit"
	"rootworthy/suitability"
)

// Points are what a spreader logged, put into cells of its working width: the mean of the points of each cell.
// A mean of points, not their sum: how many points a cell has depends on how fast the machine drove.
type Points struct {
	Read  int // points that count
	frame Frame
	cells map[int64]pointCell // by row × 2³¹ + column
}

// pointCell adds up the points of a cell.
type pointCell struct {
	sum float64 // mg/m²
	n   int
}

// PointUnits lists the units in which a log may give rates.
func PointUnits() []string {
	return []string{"lb/ac", "st/ac", "kg/ha", "t/ha", "mg/m2", "kg/m2", "g/m2"}
}

// pointScale returns what one of the unit is in mg/m².
func pointScale(name string) (float64, bool) {
	switch name {
	case "lb/ac":
		return float64(unit.PoundPerAcre) * 1e6, true
	case "st/ac":
		return float64(unit.ShortTonPerAcre) * 1e6, true
	case "kg/ha":
		return 100, true
	case "t/ha":
		return 1e5, true
	case "mg/m2":
		return 1, true
	case "g/m2":
		return 1e3, true
	case "kg/m2":
		return 1e6, true
	}
	return 0, false
}

// ReadPoints reads a log as CSV: a header with a longitude, a latitude and a rate, commas, semicolons or tabs between.
// The unit of the rate stands in its column's name (rate_lb_ac, "Applied (kg/ha)") or is given; it is never guessed, and where both say it they
// must say the same.
// Width is the working width in metres; box is where points are looked for, that of the run.
func ReadPoints(ctx context.Context, name string, in io.Reader, rateUnit string, width float64, r *suitability.Result, faults *diag.List) (*Points, error) {
	text, err := newPointReader(name, in, rateUnit, faults)
	if err != nil {
		return nil, fmt.Errorf("%s: %w", name, err)
	}
	p := &Points{cells: map[int64]pointCell{}, frame: frameOver(boxOf(r), square(width), 0, 0)} // one lattice for all fields
	for {
		if text.line%4096 == 0 && ctx.Err() != nil {
			return nil, context.Cause(ctx)
		}
		x, y, mg, err := text.next()
		if err == io.EOF {
			break
		}
		if err != nil {
			return nil, fmt.Errorf("%s: %w", name, err)
		}
		p.add(x, y, mg)
	}
	if p.Read == 0 {
		return nil, fmt.Errorf("%s: no point with a rate can be read; see the faults, or export it again", name)
	}
	return p, nil
}

// add puts a point into its cell. Points beyond the lattice count too: they went outside.
func (p *Points) add(x, y, mg float64) {
	column, row := math.Floor((x*nano-float64(p.frame.West))/float64(p.frame.East)), math.Floor((y*nano-float64(p.frame.South))/float64(p.frame.North))
	p.Read++
	// Beyond what the key of a cell can hold lies another part of the world.
	if math.Abs(column) > 1<<30 || math.Abs(row) > 1<<30 {
		return
	}
	// Row and column in one number, so that keys in order run row by row from the south, and west to east within a row.
	key := int64(row)<<31 + int64(column)
	c := p.cells[key]
	c.sum += mg
	c.n++
	p.cells[key] = c
}

// Surfaces returns the points as surfaces, one for each stretch of cells in a row, so that ground without points costs
// nothing.
func (p *Points) Surfaces() []Surface {
	keys := make([]int64, 0, len(p.cells))
	for k := range p.cells {
		keys = append(keys, k)
	}
	slices.Sort(keys)
	var out []Surface
	for i := 0; i < len(keys); {
		row := rowOf(keys[i])
		k := i
		for k < len(keys) && rowOf(keys[k]) == row {
			k++
		}
		out = append(out, p.runs(keys[i:k], row)...)
		i = k
	}
	return out
}

// rowOf and columnOf take a key apart. Columns may be below zero, west of the lattice; half of their range is added before rows are cut off.
func rowOf(key int64) int64 { return (key + 1<<30) >> 31 }

func columnOf(key int64) int64 { return key - rowOf(key)<<31 }

// runs makes a surface of one row for each stretch of cells that follow each other.
func (p *Points) runs(keys []int64, row int64) (out []Surface) {
	for i := 0; i < len(keys); {
		s := &pointRow{frame: p.frame}
		s.frame.South += row * p.frame.North
		s.frame.West += columnOf(keys[i]) * p.frame.East
		s.frame.Rows = 1
		k := i
		for ; k < len(keys) && keys[k] == keys[i]+int64(k-i); k++ {
			// The mean of the points that fell into the cell.
			c := p.cells[keys[k]]
			s.rates = append(s.rates, int32(min(math.Round(c.sum/float64(c.n)), math.MaxInt32)))
		}
		s.frame.Columns = len(s.rates)
		out = append(out, s)
		i = k
	}
	return out
}

// pointRow is a stretch of cells in a row.
type pointRow struct {
	frame Frame
	rates []int32
}

func (s *pointRow) Frame() Frame { return s.frame }

func (s *pointRow) Each(row func(int, []int32) error) error { return row(0, s.rates) }

// pointReader reads the points of a log.
type pointReader struct {
	name, rateName string
	csv            *csv.Reader
	lon, lat, rate int
	scale          float64
	line           int
	faults         *diag.List
}

// newPointReader reads the header and finds the three columns. What it cannot find is an error, with the names that would do.
func newPointReader(name string, in io.Reader, rateUnit string, faults *diag.List) (*pointReader, error) {
	t := &pointReader{name: name, faults: faults, line: 1}
	head, rest, err := firstLine(in)
	if err != nil {
		return nil, err
	}
	t.csv = csv.NewReader(io.MultiReader(strings.NewReader(head), rest))
	// Logs are written by many programs: rows of other lengths and stray quotes are told row by row or let pass, and never end the reading.
	t.csv.Comma, t.csv.FieldsPerRecord, t.csv.ReuseRecord, t.csv.LazyQuotes = separatorOf(head), -1, true, true
	columns, err := t.csv.Read()
	if err != nil {
		return nil, fmt.Errorf("has no header line (%w)", err)
	}
	t.lon, t.lat, t.rate = columnLike(columns, "longitude", "lon", "lng", "long", "x"), columnLike(columns, "latitude", "lat", "y"), rateColumn(columns)
	switch {
	case t.lon < 0 || t.lat < 0:
		return nil, errors.New("has no columns for longitude and latitude; name them lon and lat (degrees)")
	case t.rate < 0:
		return nil, errors.New("has no column for the rate; name it rate_lb_ac, rate_st_ac, rate_kg_ha or rate_t_ha")
	}
	t.rateName = columns[t.rate]
	named := unitIn(t.rateName)
	if rateUnit == "" {
		rateUnit = named
	}
	// Neither is believed where they differ: pounds taken for tons are two thousand times the lime.
	if named != "" && named != rateUnit {
		return nil, fmt.Errorf("the column %q says %s, and --rate-unit %s; leave the flag out, or correct the column's name", visible(t.rateName), named, visible(rateUnit))
	}
	scale, ok := pointScale(rateUnit)
	if !ok {
		return nil, fmt.Errorf("the unit of %q is not known; say it with --rate-unit (%s)", visible(t.rateName), strings.Join(PointUnits(), ", "))
	}
	t.scale = scale
	return t, nil
}

// next returns the next point that can be used.
func (t *pointReader) next() (x, y, mg float64, err error) {
	for {
		row, err := t.csv.Read()
		if err == io.EOF {
			return 0, 0, 0, err
		}
		t.line, _ = t.csv.FieldPos(0)
		if err != nil {
			var parse *csv.ParseError
			if !errors.As(err, &parse) {
				return 0, 0, 0, err
			}
			t.line = parse.Line
			t.bad("row", parse.Err.Error())
			continue
		}
		if len(row) <= max(t.lon, t.lat, t.rate) {
			t.bad("row", "has too few cells")
			continue
		}
		x, okX := cell(row[t.lon])
		y, okY := cell(row[t.lat])
		rate, okR := cell(row[t.rate])
		switch {
		case !okX || !okY || math.Abs(x) > 180 || math.Abs(y) > 90:
			t.bad("place", fmt.Sprintf("%q, %q is no longitude and latitude", visible(row[t.lon]), visible(row[t.lat])))
		// Rates are kept as 32-bit mg/m², as the files of controllers have them.
		case !okR || rate < 0 || rate*t.scale > math.MaxInt32:
			t.bad("rate", fmt.Sprintf("%q is no rate", visible(row[t.rate])))
		default:
			return x, y, rate * t.scale, nil
		}
	}
}

// bad tells of a point that is left out.
func (t *pointReader) bad(kind, what string) {
	t.faults.Add(diag.Fault{File: t.name, Line: t.line, Kind: kind, Field: visible(t.rateName), What: what, Fix: "the point is left out"})
}

// cell reads a number with a point or, from where that is the custom, a comma.
func cell(s string) (float64, bool) {
	s = strings.TrimSpace(s)
	if strings.Count(s, ",") == 1 && !strings.Contains(s, ".") {
		s = strings.Replace(s, ",", ".", 1)
	}
	x, err := strconv.ParseFloat(s, 64)
	return x, err == nil && !math.IsNaN(x) && !math.IsInf(x, 0)
}

// longestHeader bounds the first line.
const longestHeader = 1 << 16

// firstLine reads the header apart, to see what stands between its names; a byte order mark is dropped.
func firstLine(in io.Reader) (head string, rest io.Reader, err error) {
	b := make([]byte, longestHeader)
	n, err := io.ReadFull(in, b)
	// A log shorter than the block is whole in it.
	if err != nil && !errors.Is(err, io.ErrUnexpectedEOF) && err != io.EOF {
		return "", nil, err
	}
	text := strings.TrimPrefix(string(b[:n]), "\ufeff")
	if strings.TrimSpace(text) == "" {
		return "", nil, errors.New("is empty")
	}
	return text, in, nil
}

// separatorOf is what stands most often in the header; a comma where nothing does.
func separatorOf(text string) rune {
	head, _, _ := strings.Cut(text, "\n")
	best := ','
	for _, c := range ";\t" {
		if strings.Count(head, string(c)) > strings.Count(head, string(best)) {
			best = c
		}
	}
	return best
}

// plain makes a column's name comparable: small letters and digits, everything else a blank.
func plain(s string) string {
	s = strings.ReplaceAll(strings.ToLower(s), "²", "2")
	return strings.Join(strings.FieldsFunc(s, func(r rune) bool { return !(r >= 'a' && r <= 'z' || r >= '0' && r <= '9') }), " ")
}

// columnLike finds a column by one of its names, alone or with a unit or a remark behind it; -1 for none. Earlier names go before later ones.
func columnLike(columns []string, names ...string) int {
	for _, n := range names {
		for i, c := range columns {
			if p := plain(c); p == n || strings.HasPrefix(p, n+" ") {
				return i
			}
		}
	}
	return -1
}

// rateColumn finds the rate: applied before any other, a target or a plan never.
func rateColumn(columns []string) int {
	type found struct{ rank, at int }
	var all []found
	for i, c := range columns {
		p := " " + plain(c) + " "
		has := func(w string) bool { return strings.Contains(p, " "+w) }
		switch {
		// What was meant to be put on is no record of what was.
		case has("target"), has("plan"), has("set"), has("recommend"):
		case has("applied"), has("actual"):
			all = append(all, found{0, i})
		case has("rate"), has("dose"):
			all = append(all, found{1, i})
		}
	}
	if len(all) == 0 {
		return -1
	}
	return slices.MinFunc(all, func(a, b found) int { return cmp.Or(cmp.Compare(a.rank, b.rank), cmp.Compare(a.at, b.at)) }).at
}

// unitIn finds a unit in a column's name: rate_lb_ac, "Applied Rate (kg/ha)".
// At the end of the name alone: "kg" or "lb" elsewhere in it may be of something else.
func unitIn(column string) string {
	p := plain(column)
	for _, u := range PointUnits() {
		if strings.HasSuffix(" "+p, " "+plain(u)) {
			return u
		}
	}
	return ""
}
