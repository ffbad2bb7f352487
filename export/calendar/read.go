package calendar

import (
	"fmt"
	"io"
	"strconv"
	"strings"

	"rootworthy/internal/diag"
)

// Former is a calendar that was written before.
type Former struct {
	events []event
	at     map[string]int
}

// all lists its events; nil has none.
func (f *Former) all() []event {
	if f == nil {
		return nil
	}
	return f.events
}

// event finds one by its id.
func (f *Former) event(uid string) (event, bool) {
	if f == nil {
		return event{}, false
	}
	i, ok := f.at[uid]
	if !ok {
		return event{}, false
	}
	return f.events[i], true
}

// Bounds of a calendar: a plan of ten thousand zones is some 200 MB, which no calendar program takes.
const (
	mostBytes    = 64 << 20
	mostSequence = 1 << 30
)

// Read reads a calendar that [Calendar.Write] wrote, perhaps edited since. Entries that are not of this program, or lack an id or a first
// day, are told and left out. The error says that it is no calendar, or that it could not be read.
func Read(name string, r io.Reader, faults *diag.List) (*Former, error) {
	text, err := io.ReadAll(io.LimitReader(r, mostBytes+1))
	if err != nil {
		return nil, fmt.Errorf("%s: %w", name, err)
	}
	if len(text) > mostBytes {
		return nil, fmt.Errorf("%s: over 64 MiB; this is no plan", name)
	}
	f := &Former{at: map[string]int{}}
	d := &reader{name: name, faults: faults, former: f}
	var line strings.Builder
	start := 0
	for i, raw := range strings.Split(strings.ReplaceAll(string(text), "\r\n", "\n"), "\n") {
		// A line is known to be whole only when the next one does not go on with it, so it is handed over one step late.
		more, folded := cutBlank(raw)
		if !folded || i == 0 {
			d.line(start, line.String())
			line.Reset()
			start = i + 1
		}
		line.WriteString(more)
	}
	d.line(start, line.String())
	if !d.calendar {
		return nil, fmt.Errorf("%s: is no calendar file; name another folder, or delete the file", name)
	}
	if d.open != nil {
		d.drop("the entry has no end")
	}
	return f, nil
}

// cutBlank returns what a folded line goes on with.
func cutBlank(s string) (string, bool) {
	if strings.HasPrefix(s, " ") || strings.HasPrefix(s, "\t") {
		return s[1:], true
	}
	return s, false
}

// reader fills a Former.
type reader struct {
	name     string
	faults   *diag.List
	former   *Former
	calendar bool
	open     *event // being read
	began    int    // its line
}

// line takes one unfolded line.
func (d *reader) line(n int, l string) {
	key, value, _ := strings.Cut(l, ":")
	switch {
	case l == "BEGIN:VCALENDAR":
		d.calendar = true
	case l == "BEGIN:VEVENT":
		d.open, d.began = &event{}, n
	case d.open == nil:
	case l == "END:VEVENT":
		d.close()
	case key == "DTSTAMP":
		d.open.stamp = value
	// A number that makes no sense counts as 0.
	case key == "SEQUENCE":
		if v, err := strconv.Atoi(value); err == nil && v >= 0 && v < mostSequence {
			d.open.sequence = v
		}
	case key == "UID" && d.open.uid == "":
		d.open.uid = value
		// The id stands first in what is kept, wherever another program put it.
		d.open.lines = append([]string{l}, d.open.lines...)
	default:
		d.open.lines = append(d.open.lines, l)
	}
}

// close keeps the event that was read.
func (d *reader) close() {
	e := *d.open
	_, twice := d.former.at[e.uid]
	switch {
	case !strings.HasSuffix(e.uid, domain):
		d.drop("the entry is not of this program")
	// The first of the two counts.
	case twice:
		d.drop("the entry stands twice")
	case e.start() == "" || e.stamp == "" || !clean(e):
		d.drop("the entry has no first day, or is damaged")
	default:
		d.former.at[e.uid] = len(d.former.events)
		d.former.events = append(d.former.events, e)
	}
	d.open = nil
}

// clean says whether an event can be written again as it stands.
// Lines of another component within the event (but an alarm) or a second id would not come out as they went in.
func clean(e event) bool {
	for _, l := range append([]string{e.stamp}, e.lines...) {
		if l == "" || strings.ToValidUTF8(l, "") != l || strings.ContainsFunc(l, func(r rune) bool { return r < ' ' || r == 0x7f }) {
			return false
		}
		if key, _, ok := strings.Cut(l, ":"); ok && key == "UID" && l != e.lines[0] || ok && (key == "BEGIN" || key == "END") && l != "BEGIN:VALARM" && l != "END:VALARM" {
			return false
		}
	}
	return true
}

// drop tells of an event that is not kept.
func (d *reader) drop(what string) {
	d.faults.Notice(diag.Fault{File: d.name, Line: d.began, Kind: "entry left out", What: what + ", so it is not kept in the new calendar"})
	d.open = nil
}
