package calendar

import (
	"crypto/sha256"
	"encoding/hex"
	"strconv"
	"strings"
	"time"
)

// domain ends every id. The name can never be registered (RFC 2606), so ids never meet another program's.
const domain = "@rootworthy.invalid"

// Entry is one thing in the calendar. Days are midnight UTC.
type Entry struct {
	Field, Zone, Step string    // what the entry is known by
	First, Last       time.Time // both included
	Every             int       // one day of work every so many days from First to Last; 0 means all the days between
	Summary           string    // one line
	Text              string    // what to do, why and what to beware of
	Warn              int       // days before First to be reminded; 0 for no reminder
}

// UID returns the id of the entry: the same for the same field, zone and step, in every plan.
func (e Entry) UID() string {
	h := sha256.New()
	for _, s := range []string{e.Field, e.Zone, e.Step} {
		h.Write([]byte(strconv.Itoa(len(s)) + ":" + s)) // lengths first: "a","bc" is not "ab","c"
	}
	// Half of the sum, 128 bits, is far more than any farm has entries.
	return hex.EncodeToString(h.Sum(nil)[:16]) + domain
}

// lines returns the entry as content lines without sequence and stamp.
func (e Entry) lines() []string {
	day := func(t time.Time) string { return t.Format("20060102") }
	out := []string{"UID:" + e.UID(), "DTSTART;VALUE=DATE:" + day(e.First)}
	if e.Every > 0 {
		out = append(out, "DTEND;VALUE=DATE:"+day(e.First.AddDate(0, 0, 1)),
			"RRULE:FREQ=DAILY;INTERVAL="+strconv.Itoa(e.Every)+";UNTIL="+day(e.Last))
	} else {
		out = append(out, "DTEND;VALUE=DATE:"+day(e.Last.AddDate(0, 0, 1))) // the day after the last
	}
	// TRANSP:TRANSPARENT: the entry does not make its days look busy.
	out = append(out, "SUMMARY:"+escape(e.Summary), "DESCRIPTION:"+escape(e.Text), "STATUS:CONFIRMED", "TRANSP:TRANSPARENT")
	if e.Warn > 0 {
		out = append(out, "BEGIN:VALARM", "ACTION:DISPLAY", "TRIGGER:-P"+strconv.Itoa(e.Warn)+"D", "DESCRIPTION:"+escape(e.Summary), "END:VALARM")
	}
	return out
}

// escape makes text fit for a value; control characters have no place in one.
// The signs that the format uses itself (backslash, semicolon, comma, line end) get a backslash.
func escape(s string) string {
	s = strings.Map(func(r rune) rune {
		if r < ' ' && r != '\n' || r == 0x7f {
			return ' '
		}
		return r
	}, strings.ToValidUTF8(strings.ReplaceAll(s, "\r\n", "\n"), "?"))
	return strings.NewReplacer(`\`, `\\`, ";", `\;`, ",", `\,`, "\n", `\n`).Replace(s)
}
