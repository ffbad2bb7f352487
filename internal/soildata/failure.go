package soildata

import (
	"bytes"
	"encoding/xml"
	"errors"
	"fmt"
	"net/http"
	"strings"
	"time"
)

// verdict says what to do about a question that got no answer.
type verdict uint8

const (
	final   verdict = iota // asking again would not help
	passing                // ask again after a wait
	tooMuch                // ask for less
)

// failure is a question that got no answer.
type failure struct {
	verdict verdict
	what    string        // "answered …", "did not answer …": a sentence about the service without its subject
	after   time.Duration // the service asked to wait this long
	err     error         // cause, if there is one
}

// Error is a whole sentence about the service; whoever wraps it says what was asked.
func (f *failure) Error() string { return "the service " + f.what }
func (f *failure) Unwrap() error { return f.err }

// is says whether an error, or a cause of it, is a failure of that verdict.
func is(err error, v verdict) bool {
	var f *failure
	return errors.As(err, &f) && f.verdict == v
}

// judgeStatus judges an answer by its status and body; nil means that it looks like an answer proper.
//
// Behaviour, from documentation and threads of public clients: a bad query answers 400 with an XML exception report;
// trouble answers 5xx, mostly with HTML, but HTML came with status 200 as well; during daily maintenance a line of plain
// text comes; more than 32 MB of JSON ends in 500 with a text that names maxJsonLength. How an answer past the row limit
// is refused is not verified: words about rows or records at their limit are taken for it. Nor is how a query is refused
// that takes its data base too long: the words of SQL Server for that are taken for it.
func judgeStatus(status int, header http.Header, body []byte) *failure {
	text := string(bytes.TrimSpace(body[:min(len(body), 1<<16)]))
	switch {
	// Before the status is looked at: this comes as a 500, which would be asked again in vain.
	case strings.Contains(text, "maxJsonLength"):
		return &failure{verdict: tooMuch, what: "cannot put so long an answer together"}
	case status != http.StatusOK && strings.Contains(strings.ToLower(text), "timeout period elapsed"):
		return &failure{verdict: tooMuch, what: "gave the query up as taking too long"}
	case status == http.StatusBadRequest && aboutLimit(text):
		return &failure{verdict: tooMuch, what: "refused so long an answer: " + exception(text)}
	case strings.Contains(text, "<ServiceException"):
		return &failure{what: "refused the query: " + exception(text)}
	case status == http.StatusTooManyRequests, status == http.StatusRequestTimeout, status >= 500:
		return &failure{verdict: passing, what: fmt.Sprintf("answered with status %d%s", status, pageTitle(text)), after: retryAfter(header)}
	case status != http.StatusOK:
		return &failure{what: fmt.Sprintf("answered with status %d%s", status, pageTitle(text))}
	// Not final, since a page in the place of data is mostly trouble that passes.
	case strings.HasPrefix(text, "<"):
		return &failure{verdict: passing, what: "answered with a web page instead of data" + pageTitle(text)}
	case text == "":
		return &failure{verdict: passing, what: "answered with nothing"}
	case !strings.HasPrefix(text, "{"):
		return &failure{verdict: passing, what: fmt.Sprintf("answered with a message instead of data: %q", clip(text))}
	}
	return nil
}

// aboutLimit says whether a text speaks of rows past a limit. The words are guesses: see judgeStatus.
func aboutLimit(text string) bool {
	text = strings.ToLower(text)
	limit := strings.Contains(text, "limit") || strings.Contains(text, "maximum") || strings.Contains(text, "exceed")
	return limit && (strings.Contains(text, "row") || strings.Contains(text, "record") || strings.Contains(text, "100000"))
}

// exception returns the text of an exception report.
func exception(text string) string {
	var report struct {
		Exceptions []string `xml:"ServiceException"`
	}
	if err := xml.Unmarshal([]byte(text), &report); err != nil || len(report.Exceptions) == 0 {
		return clip(text)
	}
	return clip(strings.Join(report.Exceptions, " "))
}

// pageTitle returns the title of a web page as " (…)", empty when there is none.
func pageTitle(text string) string {
	lower := strings.ToLower(text)
	from := strings.Index(lower, "<title>")
	to := strings.Index(lower, "</title>")
	// Small letters of some alphabets are longer than their capitals; places in the one are then none in the other.
	if from < 0 || to < from || len(lower) != len(text) {
		return ""
	}
	return fmt.Sprintf(" (%q)", clip(text[from+len("<title>"):to]))
}

// retryAfter reads the wait that a server asks for in seconds, at most ten minutes.
func retryAfter(header http.Header) time.Duration {
	// The header may also be a date; then the usual waits do.
	d, err := time.ParseDuration(strings.TrimSpace(header.Get("Retry-After")) + "s")
	if err != nil || d < 0 {
		return 0
	}
	return min(d, 10*time.Minute)
}
