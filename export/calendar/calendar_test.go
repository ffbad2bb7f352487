package calendar

import (
	"bytes"
	"errors"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"
	"time"
	"unicode/utf8"

	"pgregory.net/rapid"

	"rootworthy/internal/diag"
	"rootworthy/internal/secondopinion"
)

// on is a day of 2027.
func on(month time.Month, day int) time.Time {
	return time.Date(2027, month, day, 0, 0, 0, 0, time.UTC)
}

// plan is a calendar whose name and program hold letters that mean something to the format.
func plan(stamp time.Time, entries ...Entry) Calendar {
	return Calendar{Name: "Plan; of Tarn, Hollow", Program: "rootworthy 1/2", Stamp: stamp, Entries: entries}
}

// entries are a span of days with a reminder and text to escape, a weekly one with a line that must be folded between letters of two bytes,
// and a single day in another zone.
func entries() []Entry {
	return []Entry{
		{Field: "F1", Zone: "F1/1", Step: "sow", First: on(10, 15), Last: on(11, 15), Summary: "Sow; Home Field, zone 1", Text: "No deeper than ½ in.\nSource: a \\ b", Warn: 14},
		{Field: "F1", Zone: "F1/1", Step: "weevil", First: on(2, 1), Last: on(3, 7), Every: 7, Summary: strings.Repeat("é", 80), Text: "–"},
		{Field: "F1", Zone: "F1/2", Step: "sow", First: on(10, 15), Last: on(10, 15), Summary: "Sow", Text: "x", Warn: 7},
	}
}

func write(t testing.TB, c Calendar, before *Former) string {
	t.Helper()
	var b bytes.Buffer
	if err := c.Write(&b, before); err != nil {
		t.Fatal(err)
	}
	return b.String()
}

func read(t testing.TB, text string) *Former {
	t.Helper()
	var faults diag.List
	f, err := Read("plan.ics", strings.NewReader(text), &faults)
	if err != nil {
		t.Fatal(err)
	}
	return f
}

// The rules of RFC 5545 that a reader trips over: 3.1 line ends and folding, 3.3.11 escapes, 3.6.1 the end of a day entry.
func TestStandard(t *testing.T) {
	s := write(t, plan(on(1, 2), entries()...), nil)
	for i, l := range strings.Split(strings.TrimSuffix(s, "\r\n"), "\r\n") {
		if len(l) > 75 || strings.ContainsAny(l, "\r\n") || !utf8.ValidString(l) || l == "" {
			t.Errorf("line %d: %d octets: %q", i+1, len(l), l)
		}
	}
	plain := strings.ReplaceAll(s, "\r\n ", "")
	for _, want := range []string{"BEGIN:VCALENDAR\r\nVERSION:2.0\r\nPRODID:-//rootworthy//rootworthy 1 2//EN\r\n", "DTSTAMP:20270102T000000Z\r\nSEQUENCE:0\r\n",
		"DTSTART;VALUE=DATE:20271015\r\nDTEND;VALUE=DATE:20271116\r\n", `SUMMARY:Sow\; Home Field\, zone 1`, `DESCRIPTION:No deeper than ½ in.\nSource: a \\ b`,
		"RRULE:FREQ=DAILY;INTERVAL=7;UNTIL=20270307\r\n", "TRIGGER:-P14D\r\n", strings.Repeat("é", 80)} {
		if !strings.Contains(plain, want) {
			t.Errorf("no %q in\n%s", want, plain)
		}
	}
	if !strings.HasSuffix(s, "END:VCALENDAR\r\n") {
		t.Error("no end")
	}
}

// Ids never change from release to release: calendars out there hold them.
func TestIdsStay(t *testing.T) {
	if got := (Entry{Field: "F1", Zone: "F1/1", Step: "sow", Summary: "whatever"}).UID(); got != "e5cdece636b40ca4774f71ec92dd5c6c@rootworthy.invalid" {
		t.Errorf("%s", got)
	}
	if (Entry{Field: "a", Zone: "bc"}).UID() == (Entry{Field: "ab", Zone: "c"}).UID() {
		t.Error("two entries of one id")
	}
}

// A calendar that is made again keeps what stays, numbers what changes and calls off what is gone.
func TestUpdate(t *testing.T) {
	first := write(t, plan(on(1, 2), entries()...), nil)
	if again := write(t, plan(on(5, 5), entries()...), read(t, first)); again != first {
		t.Errorf("nothing changed, yet\n%s", again)
	}
	moved := entries()
	// The first entry changes its days, the second stays, and the third is planned no longer.
	moved[0].Last = on(11, 1)
	second := write(t, plan(on(5, 5), moved[:2]...), read(t, first))
	for uid, want := range map[string]string{moved[0].UID(): "DTSTAMP:20270505T000000Z\r\nSEQUENCE:1", moved[1].UID(): "DTSTAMP:20270102T000000Z\r\nSEQUENCE:0",
		moved[2].UID(): "DTSTAMP:20270505T000000Z\r\nSEQUENCE:1"} {
		if !strings.Contains(second, "UID:"+uid+"\r\n"+want+"\r\n") {
			t.Errorf("%s has no %q in\n%s", uid, want, second)
		}
	}
	if n := strings.Count(second, "STATUS:CANCELLED"); n != 1 {
		t.Errorf("%d called off, want 1", n)
	}
	off := second[strings.Index(second, "UID:"+moved[2].UID()):]
	off = off[:strings.Index(off, "END:VEVENT")]
	if !strings.Contains(off, "STATUS:CANCELLED") || !strings.Contains(off, "\r\nSUMMARY:Called off: ") || strings.Contains(off, "VALARM") {
		t.Errorf("what is called off does not say so, or rings:\n%s", off)
	}
	if third := write(t, plan(on(6, 6), moved[:2]...), read(t, second)); third != second {
		t.Error("an entry is called off anew each time")
	}
	back := write(t, plan(on(7, 7), entries()...), read(t, second))
	if !strings.Contains(back, "UID:"+moved[2].UID()+"\r\nDTSTAMP:20270707T000000Z\r\nSEQUENCE:2\r\n") || strings.Contains(back, "CANCELLED") || strings.Contains(back, "Called off") || strings.Count(back, "BEGIN:VALARM") != strings.Count(first, "BEGIN:VALARM") {
		t.Errorf("an entry that is planned again:\n%s", back)
	}
}

// A file without entries would be no calendar by the standard.
func TestNothingToWrite(t *testing.T) {
	if err := (Calendar{}).Write(&bytes.Buffer{}, nil); !errors.Is(err, ErrEmpty) {
		t.Errorf("error %v", err)
	}
}

// Updating keeps ids, whatever is planned and whatever is written in it.
func TestUpdatingKeepsIds(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		draw := func() []Entry {
			var out []Entry
			for range rapid.IntRange(1, 8).Draw(t, "entries") {
				e := Entry{Field: rapid.SampledFrom([]string{"a", "b"}).Draw(t, "field"), Step: rapid.SampledFrom([]string{"sow", "lime-1"}).Draw(t, "step"),
					First: on(1, 1).AddDate(0, 0, rapid.IntRange(0, 400).Draw(t, "day")), Summary: rapid.String().Draw(t, "summary"), Text: rapid.String().Draw(t, "text")}
				e.Last = e.First
				out = append(out, e)
			}
			return out
		}
		// With two fields and two steps several entries of a plan may have one id, as those of two plans may.
		a, b := draw(), draw()
		first := write1(t, plan(on(1, 1), a...), nil)
		second := write1(t, plan(on(2, 2), b...), read1(t, first))
		for _, e := range append(a, b...) {
			if n := strings.Count(second, "UID:"+e.UID()+"\r\n"); n != 1 {
				t.Fatalf("%s stands %d times in\n%s", e.UID(), n, second)
			}
		}
		if third := write1(t, plan(on(3, 3), b...), read1(t, second)); third != second {
			t.Fatalf("the same plan twice:\n%q\n%q", second, third)
		}
	})
}

// write1 is write for a property test.
func write1(t *rapid.T, c Calendar, before *Former) string {
	var b bytes.Buffer
	if err := c.Write(&b, before); err != nil {
		t.Fatal(err)
	}
	return b.String()
}

// read1 is read for a property test; in a file of ours there is nothing to notice.
func read1(t *rapid.T, text string) *Former {
	var faults diag.List
	f, err := Read("plan.ics", strings.NewReader(text), &faults)
	if err != nil || faults.Notices() > 0 {
		t.Fatal(err, faults.String())
	}
	return f
}

// What somebody put into the file is left out and told, with its line.
func TestForeignEntries(t *testing.T) {
	for name, marked := range map[string]string{
		"not ours": "BEGIN:VCALENDAR\n«BEGIN:VEVENT\nUID:1@example.com\nDTSTAMP:x\nDTSTART;VALUE=DATE:20270101\nEND:VEVENT\nEND:VCALENDAR\n",
		"no day":   "BEGIN:VCALENDAR\nVERSION:2.0\n«BEGIN:VEVENT\nUID:1@rootworthy.invalid\nDTSTAMP:x\nEND:VEVENT\nEND:VCALENDAR\n",
		"no end":   "BEGIN:VCALENDAR\n«BEGIN:VEVENT\nUID:1@rootworthy.invalid\n",
	} {
		line := 1 + strings.Count(marked[:strings.Index(marked, "«")], "\n")
		var faults diag.List
		f, err := Read("plan.ics", strings.NewReader(strings.ReplaceAll(marked, "«", "")), &faults)
		kept := faults.Kept()
		if err != nil || len(f.all()) != 0 || len(kept) != 1 || kept[0].Line != line {
			t.Errorf("%s: %v, %v, want a notice in line %d", name, err, kept, line)
		}
	}
	var faults diag.List
	if _, err := Read("x", strings.NewReader("hello"), &faults); err == nil {
		t.Error("a letter is taken for a calendar")
	}
}

// The reader of others takes the file: npm ical.js.
func TestOutsideReader(t *testing.T) {
	check := secondopinion.Checker(t, secondopinion.Node)
	path := filepath.Join(t.TempDir(), "plan.ics")
	first := write(t, plan(on(1, 2), entries()...), nil)
	if err := os.WriteFile(path, []byte(write(t, plan(on(5, 5), entries()[:1]...), read(t, first))), 0o644); err != nil {
		t.Fatal(err)
	}
	check("ics", path, "--strict")
}

// What is read is written again to the same ids; nothing panics.
func FuzzRead(f *testing.F) {
	f.Add(write(f, plan(on(1, 2), entries()...), nil))
	f.Add("BEGIN:VCALENDAR\n BEGIN:VEVENT\n\nBEGIN:VEVENT\nBEGIN:VEVENT\nUID:@rootworthy.invalid\nEND:VEVENT")
	f.Fuzz(func(t *testing.T, text string) {
		var faults diag.List
		former, err := Read("plan.ics", strings.NewReader(text), &faults)
		if err != nil {
			return
		}
		once := write(t, plan(on(5, 5), entries()...), former)
		again := read(t, once)
		for _, e := range former.all() {
			if _, ok := again.event(e.uid); !ok {
				t.Fatalf("%q is lost in\n%s", e.uid, once)
			}
		}
		if twice := write(t, plan(on(6, 6), entries()...), again); twice != once {
			t.Fatalf("the same plan twice:\n%q\n%q", once, twice)
		}
	})
}

// What a plan is not about stays in the calendar as it stood, sequence, stamp and all; what it is about and no longer plans is called off.
func TestEntriesOfOtherFieldsStay(t *testing.T) {
	day := time.Date(2026, 3, 1, 0, 0, 0, 0, time.UTC)
	entry := func(field string) Entry {
		return Entry{Field: field, Zone: field + "/1", Step: "sow", First: day, Last: day, Summary: "Sow " + field}
	}
	var first bytes.Buffer
	if err := (Calendar{Stamp: day, Entries: []Entry{entry("F1"), entry("F2"), entry("F3")}}).Write(&first, nil); err != nil {
		t.Fatal(err)
	}
	var faults diag.List
	before, err := Read("plan.ics", bytes.NewReader(first.Bytes()), &faults)
	if err != nil {
		t.Fatal(err)
	}
	others := entry("F3").UID()
	c := Calendar{About: "F1 and F2", Stamp: day.AddDate(0, 1, 0), Entries: []Entry{entry("F1")}, Others: func(uid string) bool { return uid == others }}
	if n := c.Untouched(before); n != 1 {
		t.Errorf("%d entries untouched, want 1", n)
	}
	var second bytes.Buffer
	if err := c.Write(&second, before); err != nil {
		t.Fatal(err)
	}
	after, err := Read("plan.ics", &second, &faults)
	if err != nil || faults.Notices() > 0 {
		t.Fatal(err, &faults)
	}
	for field, want := range map[string]string{"F1": "CONFIRMED 0", "F2": "CANCELLED 1", "F3": "CONFIRMED 0"} {
		e, ok := after.event(entry(field).UID())
		got := "CONFIRMED"
		if slices.Contains(e.lines, "STATUS:CANCELLED") {
			got = "CANCELLED"
		}
		if got = got + " " + strconv.Itoa(e.sequence); !ok || got != want {
			t.Errorf("%s: %v, %s, want %s", field, ok, got, want)
		}
	}
}
