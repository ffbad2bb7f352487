package ssurgo

import (
	"cmp"
	"encoding/binary"
	"fmt"
	"hash/fnv"
	"math"
	"slices"

	"github.com/paulmach/orb"

	"rootworthy/internal/diag"
	"rootworthy/soils"
)

// claim is a survey area as one of the exports put together has it.
type claim struct {
	area   *area
	symbol string
}

// edition is a claim with the version that stands behind it.
type edition struct {
	claim
	soils.Area
}

// findOutdated finds survey areas that are given twice whole and marks all but the newest. Of one version it is the one
// with a map, then the first by name. Parts (areas of interest) and the general soil map, whose states all have one
// symbol, lie beside each other and are never outdated by one another; a part is by the whole if that is as new.
func (e *Export) findOutdated(joined []*joiner) {
	bySymbol := map[string][]edition{}
	for i, a := range e.areas {
		for _, s := range joined[i].areas {
			// An area that names no symbol cannot be the same as another.
			if s.Symbol != "" && !s.General {
				bySymbol[s.Symbol] = append(bySymbol[s.Symbol], edition{claim{a, s.Symbol}, s})
			}
		}
	}
	e.outdated, e.unused = map[claim]bool{}, map[claim]bool{}
	for _, symbol := range sortedKeys(bySymbol) {
		all := bySymbol[symbol]
		slices.SortStableFunc(all, newestFirst)
		// Where the newest is a part, an older whole still covers the ground around it.
		if best := all[0]; !best.area.partial() {
			for _, old := range all[1:] {
				e.outdate(best, old)
			}
		}
	}
}

// newestFirst orders editions of one survey area.
func newestFirst(a, b edition) int {
	// a date that is not recorded is "", older than any; versions are numbers in text, compared as numbers
	return cmp.Or(cmp.Compare(b.Date, a.Date), soils.CompareKeys(b.Version, a.Version), falseFirst(a.area.partial(), b.area.partial()),
		falseFirst(!a.area.drawn(), !b.area.drawn()), cmp.Compare(a.area.export, b.area.export), cmp.Compare(a.area.tabular, b.area.tabular))
}

// falseFirst orders false before true.
func falseFirst(a, b bool) int {
	switch {
	case a == b:
		return 0
	case b:
		return -1
	}
	return 1
}

// outdate marks old: its tables are not used, nor its polygons, unless they are the only ones.
func (e *Export) outdate(best, old edition) {
	e.unused[old.claim] = true
	// An old map is better than none: tables of the new copy then describe it.
	if best.area.drawn() {
		e.outdated[old.claim] = true
	}
	if old.area.bare {
		return // tables given for the sake of polygons: nothing to tell where they are the same again
	}
	e.faults.Notice(diag.Fault{File: join(old.area.export, old.area.tabular), Kind: "area twice",
		What: fmt.Sprintf("survey area %s stands here (version %s of %s) and in %s (version %s of %s)", old.Symbol, orUnknown(old.Version), orUnknown(old.Date),
			join(best.area.export, best.area.tabular), orUnknown(best.Version), orUnknown(best.Date)), Fix: "the latter is taken: it is the newer, or as new"})
}

// orUnknown is a version or date for a message.
func orUnknown(s string) string {
	if s == "" {
		return "not recorded"
	}
	return s
}

// partial says whether the area is cut out of a survey area.
func (a *area) partial() bool {
	return a.part || slices.ContainsFunc(a.layers, layerFiles.ofInterest)
}

// drawn says whether the area has polygons of its own.
func (a *area) drawn() bool { return len(a.layers) > 0 || a.chart != nil }

// emitOnce passes polygons on, those left out that an older copy of their area holds, and of equal ones all but the first.
type emitOnce struct {
	export *Export
	seen   map[[16]byte]bool // nil when there is one map only, which is taken as it is
	twice  int
	emit   func(Polygon) error
}

// of returns the filter for the polygons of one folder.
func (o *emitOnce) of(a *area) func(Polygon) error {
	return func(p Polygon) error {
		if o.export.outdated[claim{a, p.Area}] {
			return nil
		}
		if o.seen != nil {
			// 16 bytes a polygon, and not the polygon
			sum := fingerprint(p.Unit, p.Shape)
			if o.seen[sum] {
				o.twice++
				return nil
			}
			o.seen[sum] = true
		}
		return o.emit(p)
	}
}

// tell says how many polygons were left out as equal, once for all of them.
func (o *emitOnce) tell() {
	if o.twice > 0 {
		o.export.faults.Notice(diag.Fault{File: o.export.Name, Kind: "polygons twice",
			What: fmt.Sprintf("%d polygons stand in two of the surveys given, alike to the last corner", o.twice), Fix: "each is taken once"})
	}
}

// fingerprint sums a polygon up, to find equal ones.
func fingerprint(unit string, shape orb.MultiPolygon) (sum [16]byte) {
	// 128 bits, so that two different polygons with one sum need not be thought of
	h := fnv.New128a()
	h.Write([]byte(unit))
	var b [16]byte
	// how many there are before each list, so that the same corners parted otherwise into rings or parts differ
	count := func(n int) {
		binary.LittleEndian.PutUint64(b[:8], uint64(n))
		h.Write(b[:8])
	}
	for _, part := range shape {
		count(len(part))
		for _, ring := range part {
			count(len(ring))
			for _, p := range ring {
				binary.LittleEndian.PutUint64(b[:], math.Float64bits(p[0]))
				binary.LittleEndian.PutUint64(b[8:], math.Float64bits(p[1]))
				h.Write(b[:])
			}
		}
	}
	h.Sum(sum[:0])
	return sum
}
