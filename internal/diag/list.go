package diag

import (
	"cmp"
	"fmt"
	"maps"
	"slices"
	"strings"
	"sync"
)

// keepPerGroup is how many faults of one (file, field, kind, severity) are kept whole; the rest are counted.
// A cap on the total would hide the second problem behind the first.
const keepPerGroup = 5

// group is what faults have in common that are counted together.
type group struct {
	severity          Severity
	file, field, kind string
}

// tally is the faults of one group.
type tally struct {
	kept []Fault        // the first in the order of printing, sorted; at most keepPerGroup
	more map[string]int // how many others there are, by [Fault.Ground]; at most as many entries as there are fields
}

// List collects faults. The zero value is ready; it may be shared by goroutines. What is kept depends on the faults
// alone, not on who came first: of one group those that print first.
type List struct {
	mu     sync.Mutex
	groups map[group]*tally
}

// Add records f.
func (l *List) Add(f Fault) {
	l.mu.Lock()
	defer l.mu.Unlock()
	if l.groups == nil {
		l.groups = map[group]*tally{}
	}
	g := f.group()
	t := l.groups[g]
	if t == nil {
		t = &tally{more: map[string]int{}}
		l.groups[g] = t
	}
	at, _ := slices.BinarySearchFunc(t.kept, f, compare)
	if at < keepPerGroup {
		t.kept = slices.Insert(t.kept, at, f)
	} else {
		t.more[f.Ground]++
	}
	if len(t.kept) > keepPerGroup { // a later one made room: it is counted instead
		t.more[t.kept[keepPerGroup].Ground]++
		t.kept = t.kept[:keepPerGroup]
	}
}

// Keeps says whether f would be kept by its place, were it added now; its words may still be missing. Who has many
// faults whose words are dear asks before making them: one that is not kept is only counted.
func (l *List) Keeps(f Fault) bool {
	l.mu.Lock()
	defer l.mu.Unlock()
	t := l.groups[f.group()]
	return t == nil || len(t.kept) < keepPerGroup || compare(f, t.kept[keepPerGroup-1]) < 0
}

// Notice records f as a notice, whatever its severity says.
func (l *List) Notice(f Fault) {
	f.Severity = Notice
	l.Add(f)
}

func (f Fault) group() group { return group{f.Severity, f.File, f.Field, f.Kind} }

// Faults returns how many faults (not notices) were added, those not kept included.
func (l *List) Faults() int { return l.total(Wrong) }

// Notices returns how many notices were added, those not kept included.
func (l *List) Notices() int { return l.total(Notice) }

func (l *List) total(s Severity) int {
	l.mu.Lock()
	defer l.mu.Unlock()
	n := 0
	for g, t := range l.groups {
		if g.severity == s {
			n += len(t.kept) + sum(t.more)
		}
	}
	return n
}

// Kept returns the faults kept, sorted: faults before notices, then by file, line, offset, feature, field, text.
// The last fault of a group with more than was kept counts the others in More.
func (l *List) Kept() []Fault {
	l.mu.Lock()
	defer l.mu.Unlock()
	var out []Fault
	for _, t := range l.groups {
		out = append(out, t.kept...)
		if len(t.more) > 0 {
			out[len(out)-1].More = maps.Clone(t.more)
		}
	}
	slices.SortFunc(out, compare) // total but for faults that are equal in every word, so the order of the map does not show
	return out
}

// compare orders faults as they are printed. Features go by the numbers in them: field 9 comes before field 10.
func compare(a, b Fault) int {
	return cmp.Or(cmp.Compare(a.Severity, b.Severity), cmp.Compare(a.File, b.File), cmp.Compare(a.Line, b.Line),
		cmp.Compare(a.Offset, b.Offset), byNumbers(a.Feature, b.Feature), cmp.Compare(a.Field, b.Field),
		cmp.Compare(a.Kind, b.Kind), cmp.Compare(a.What, b.What), cmp.Compare(a.Ground, b.Ground), cmp.Compare(a.Fix, b.Fix))
}

// String prints every kept fault on a line of its own.
func (l *List) String() string {
	var b strings.Builder
	for _, f := range l.Kept() {
		b.WriteString(f.String() + "\n")
	}
	return b.String()
}

func sum(counts map[string]int) int {
	n := 0
	for _, c := range counts {
		n += c
	}
	return n
}

func thousands(n int) string {
	s := fmt.Sprint(n)
	for i := len(s) - 3; i > 0; i -= 3 {
		s = s[:i] + "," + s[i:]
	}
	return s
}
