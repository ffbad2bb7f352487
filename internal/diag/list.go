package diag

import (
	"cmp"
	"fmt"
	"slices"
	"strings"
	"sync"
)

// keepPerGroup is how many faults of one (file, field, kind, severity) are kept whole; the rest are counted.
// A cap on the total would hide the second problem behind the first.
const keepPerGroup = 5

type group struct {
	severity          Severity
	file, field, kind string
}

// List collects faults. The zero value is ready; it may be shared by goroutines. The order of printing depends on
// the faults alone, not on who came first, except that of one group the first five added are the ones kept.
type List struct {
	mu    sync.Mutex
	kept  []Fault
	count map[group]int
}

// Add records f.
func (l *List) Add(f Fault) {
	l.mu.Lock()
	defer l.mu.Unlock()
	if l.count == nil {
		l.count = map[group]int{}
	}
	g := f.group()
	l.count[g]++
	if l.count[g] <= keepPerGroup {
		l.kept = append(l.kept, f)
	}
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
	for g, c := range l.count {
		if g.severity == s {
			n += c
		}
	}
	return n
}

// Kept returns the faults kept, sorted: faults before notices, then by file, line, offset, feature, field, text.
// The last fault of a group with more than was kept carries "(and N more like it)" in What.
func (l *List) Kept() []Fault {
	l.mu.Lock()
	defer l.mu.Unlock()
	out := slices.Clone(l.kept)
	slices.SortStableFunc(out, compare)
	seen := map[group]int{}
	for i, f := range out {
		g := f.group()
		seen[g]++
		if more := l.count[g] - keepPerGroup; more > 0 && seen[g] == keepPerGroup {
			out[i].What += fmt.Sprintf(" (and %s more like it)", thousands(more))
		}
	}
	return out
}

func compare(a, b Fault) int {
	return cmp.Or(cmp.Compare(a.Severity, b.Severity), cmp.Compare(a.File, b.File), cmp.Compare(a.Line, b.Line),
		cmp.Compare(a.Offset, b.Offset), cmp.Compare(a.Feature, b.Feature), cmp.Compare(a.Field, b.Field),
		cmp.Compare(a.Kind, b.Kind), cmp.Compare(a.What, b.What))
}

// String prints every kept fault on a line of its own.
func (l *List) String() string {
	var b strings.Builder
	for _, f := range l.Kept() {
		b.WriteString(f.String() + "\n")
	}
	return b.String()
}

func thousands(n int) string {
	s := fmt.Sprint(n)
	for i := len(s) - 3; i > 0; i -= 3 {
		s = s[:i] + "," + s[i:]
	}
	return s
}
