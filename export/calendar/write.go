package calendar

import (
	"bufio"
	"cmp"
	"errors"
	"io"
	"slices"
	"strconv"
	"strings"
	"time"
	"unicode/utf8"
)

// Calendar is a plan.ics to be.
type Calendar struct {
	Name    string    // shown by programs that show one
	About   string    // which fields it was planned for, in a line; "" for all
	Program string    // that made it
	Stamp   time.Time // the day of the plan; no clock is read
	Entries []Entry

	// Others says of the id of an entry that the plan was not about it, so that its absence means nothing: where the calendar that is
	// updated has it, it stays as it is, instead of being called off. nil means that the plan was about everything.
	Others func(uid string) bool
}

// ErrEmpty says that there is nothing to write: a calendar without entries is not one by the standard.
var ErrEmpty = errors.New("the calendar has no entry")

// Write writes the calendar, entries by day. before is the calendar that this one updates, nil for none. The error is [ErrEmpty], or that
// of w.
func (c Calendar) Write(w io.Writer, before *Former) error {
	events := c.events(before)
	if len(events) == 0 {
		return ErrEmpty
	}
	out := &folder{w: bufio.NewWriter(w)}
	out.lines("BEGIN:VCALENDAR", "VERSION:2.0", "PRODID:-//rootworthy//"+escape(strings.ReplaceAll(c.Program, "/", " "))+"//EN", "CALSCALE:GREGORIAN")
	if c.Name != "" {
		out.lines("NAME:"+escape(c.Name), "X-WR-CALNAME:"+escape(c.Name)) // RFC 7986, and what was used before it
	}
	if c.About != "" {
		out.lines("DESCRIPTION:"+escape(c.About), "X-WR-CALDESC:"+escape(c.About)) // likewise
	}
	for _, e := range events {
		out.lines("BEGIN:VEVENT")
		out.lines(e.lines[0], "DTSTAMP:"+e.stamp, "SEQUENCE:"+strconv.Itoa(e.sequence))
		out.lines(e.lines[1:]...)
		out.lines("END:VEVENT")
	}
	out.lines("END:VCALENDAR")
	return out.w.Flush()
}

// events returns what is written: the entries, those that are planned no more, and those of other fields as they stood.
func (c Calendar) events(before *Former) []event {
	stamp := c.Stamp.Format("20060102T150405") + "Z"
	var out []event
	present := map[string]bool{}
	for _, e := range c.Entries {
		x := event{uid: e.UID(), stamp: stamp, lines: e.lines()}
		if present[x.uid] {
			continue
		}
		present[x.uid] = true
		if old, ok := before.event(x.uid); ok {
			// By a higher number (RFC 5545) a program knows that an entry was changed. One that did not change keeps its number and its
			// stamp, so that nothing is announced anew.
			x.sequence = old.sequence + 1
			if slices.Equal(old.lines, x.lines) {
				x = old
			}
		}
		out = append(out, x)
	}
	for _, old := range before.all() {
		if present[old.uid] {
			continue
		}
		if c.Others == nil || !c.Others(old.uid) {
			old = old.cancelled(stamp)
		}
		out = append(out, old)
	}
	// By day, then by id, so that the same plan is the same file.
	slices.SortFunc(out, func(a, b event) int { return cmp.Or(cmp.Compare(a.start(), b.start()), cmp.Compare(a.uid, b.uid)) })
	return out
}

// Untouched counts the entries of the calendar to be updated that stay as they are because the plan is not about them.
func (c Calendar) Untouched(before *Former) int {
	if c.Others == nil {
		return 0
	}
	planned := map[string]bool{}
	for _, e := range c.Entries {
		planned[e.UID()] = true
	}
	n := 0
	for _, old := range before.all() {
		if !planned[old.uid] && c.Others(old.uid) {
			n++
		}
	}
	return n
}

// event is an entry as it stands in a file.
type event struct {
	uid, stamp string
	sequence   int
	lines      []string // unfolded, the UID first, without DTSTAMP and SEQUENCE
}

// start returns the first day, as written.
func (e event) start() string {
	for _, l := range e.lines {
		if d, ok := strings.CutPrefix(l, "DTSTART;VALUE=DATE:"); ok {
			return d
		}
	}
	return ""
}

// calledOff begins the summary of an entry that is planned no more. The status says it too, but programs that import a file often show such
// an entry like any other.
const calledOff = "Called off: "

// cancelled returns the event as called off, told in its summary, and with no alarm that would ring for it; one that is already stays as it
// is.
func (e event) cancelled(stamp string) event {
	if !slices.Contains(e.lines, "STATUS:CONFIRMED") {
		return e
	}
	var kept []string
	alarm := false
	for _, l := range e.lines {
		switch {
		case l == "BEGIN:VALARM":
			alarm = true
		case l == "END:VALARM":
			alarm = false
		// Nothing between the two lines is kept.
		case alarm:
		case l == "STATUS:CONFIRMED":
			kept = append(kept, "STATUS:CANCELLED")
		case strings.HasPrefix(l, "SUMMARY:"):
			kept = append(kept, "SUMMARY:"+escape(calledOff)+strings.TrimPrefix(l, "SUMMARY:"))
		default:
			kept = append(kept, l)
		}
	}
	e.lines, e.stamp, e.sequence = kept, stamp, e.sequence+1
	return e
}

// folder writes content lines folded; bufio keeps its first error.
type folder struct{ w *bufio.Writer }

// longest is how many octets a line may have, its end not counted (RFC 5545, 3.1).
const longest = 75

// lines folds by octets, as the standard counts: a letter of several bytes is moved to the next line whole.
func (f *folder) lines(lines ...string) {
	for _, l := range lines {
		room := longest
		for len(l) > room {
			cut := room
			for cut > 1 && !utf8.RuneStart(l[cut]) { // never within a letter
				cut--
			}
			f.w.WriteString(l[:cut] + "\r\n ")
			l, room = l[cut:], longest-1 // the blank counts
		}
		f.w.WriteString(l + "\r\n")
	}
}
