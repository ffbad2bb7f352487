package soildata

import (
	"context"
	"fmt"
	"net/http"
	"net/http/httptest"
	"strings"
	"sync/atomic"
	"testing"
	"time"

	"rootworthy/internal/diag"
)

// say answers with a status, a content type and a body.
func say(status int, contentType, body string) http.HandlerFunc {
	return func(w http.ResponseWriter, r *http.Request) {
		w.Header().Set("Content-Type", contentType)
		w.WriteHeader(status)
		fmt.Fprint(w, body)
	}
}

// hang answers only when the asker has gone.
func hang(w http.ResponseWriter, r *http.Request) {
	r.ParseForm() // the server notices that the asker goes only after the body was read
	<-r.Context().Done()
}

// breakOff ends the connection in the middle of an answer.
func breakOff(w http.ResponseWriter, r *http.Request) {
	w.Header().Set("Content-Length", "1000")
	fmt.Fprint(w, `{"Table":[["a"],`)
	panic(http.ErrAbortHandler)
}

const exceptionReport = `<?xml version="1.0" encoding="utf-8"?><ServiceExceptionReport version="1.2.0"><ServiceException>Invalid query: Incorrect syntax near 'X'.</ServiceException></ServiceExceptionReport>`

// The forms of failure are those that clients of the service have met; see judgeStatus.
func TestWhatIsAskedAgain(t *testing.T) {
	const good = `{"Table":[["a"],["1"]]}`
	for name, tc := range map[string]struct {
		bad  http.HandlerFunc
		asks int    // of a service that fails always
		says string // the error of such a one
	}{
		"status 500":            {say(500, "text/html", "<html><head><title>Runtime Error</title></head></html>"), 3, `status 500 ("Runtime Error")`},
		"status 503":            {say(503, "text/plain", "busy"), 3, "status 503"},
		"page with status 200":  {say(200, "text/html; charset=utf-8", "<!DOCTYPE html>\n<html><title>Outage</title>"), 3, `web page instead of data ("Outage")`},
		"maintenance":           {say(200, "text/plain", "Site is under daily maintenance. Please try again later."), 3, "daily maintenance"},
		"nothing":               {say(200, "application/json", ""), 3, "answered with nothing"},
		"cut off":               {say(200, "application/json", `{"Table":[["a"],["1"`), 3, "middle of its answer"},
		"broken connection":     {breakOff, 3, "broke off"},
		"time-out":              {hang, 3, "did not answer in time"},
		"bad query":             {say(400, "text/xml", exceptionReport), 1, "refused the query: Invalid query: Incorrect syntax near 'X'."},
		"bad query, status 200": {say(200, "text/xml", exceptionReport), 1, "refused the query"},
		"forbidden":             {say(403, "text/html", "<title>403</title>"), 1, "status 403"},
		"gone":                  {say(404, "text/html", ""), 1, "status 404"},
		"wrong form":            {say(200, "application/json", `{"Table":{"a":1}}`), 1, "not as documented"},
		"wrong columns":         {say(200, "application/json", `{"Table":[["b"],["1"]]}`), 1, `column 1 is "b"`},
	} {
		t.Run(name, func(t *testing.T) {
			var asks, failures atomic.Int32
			failures.Store(99)
			server := httptest.NewServer(http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
				if asks.Add(1) > failures.Load() {
					say(200, "application/json", good)(w, r)
					return
				}
				tc.bad(w, r)
			}))
			defer server.Close()
			var told []string
			opt, _ := Options{Dir: t.TempDir(), BaseURL: server.URL, Wait: time.Millisecond, Timeout: 100 * time.Millisecond,
				Tell: func(s string) { told = append(told, s) }}.filled()
			s, err := newService(opt)
			if err != nil {
				t.Fatal(err)
			}
			q := question{text: "SELECT a", columns: []string{"a"}}
			if _, _, err = s.ask(context.Background(), q); err == nil || !strings.Contains(err.Error(), tc.says) {
				t.Errorf("error %v, want %q", err, tc.says)
			}
			if n := int(asks.Load()); n != tc.asks || len(told) != tc.asks-1 {
				t.Errorf("asked %d times and told %q, want %d", n, told, tc.asks)
			}
			if tc.asks == 1 {
				return
			}
			asks.Store(0)
			failures.Store(2)
			if a, _, err := s.ask(context.Background(), q); err != nil || len(a.rows) != 1 {
				t.Errorf("after two failures: %v", err)
			}
		})
	}
}

// The longer of its own wait and that which the server asks for counts.
func TestWaitsGrowAndHeedTheServer(t *testing.T) {
	server := httptest.NewServer(http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		w.Header().Set("Retry-After", "0.1")
		w.WriteHeader(http.StatusTooManyRequests)
	}))
	defer server.Close()
	var told []string
	opt, _ := Options{Dir: t.TempDir(), BaseURL: server.URL, Wait: 60 * time.Millisecond, Tell: func(s string) { told = append(told, s) }}.filled()
	s, err := newService(opt)
	if err != nil {
		t.Fatal(err)
	}
	if _, _, err := s.ask(context.Background(), question{}); err == nil {
		t.Fatal("no error")
	}
	if len(told) != 2 || !strings.HasSuffix(told[0], "in 100ms") || !strings.HasSuffix(told[1], "in 120ms") {
		t.Errorf("told %q: first the wait the service asks for, then the doubled own", told)
	}
}

// The service refuses what is too long in several ways; each makes the list of keys shorter.
func TestTooMuchIsAskedForInHalves(t *testing.T) {
	for name, refuse := range map[string]http.HandlerFunc{
		"JSON limit": say(500, "text/html", "Error during serialization or deserialization using the JSON JavaScriptSerializer. The length of the string exceeds the value set on the maxJsonLength property."),
		"row limit":  say(400, "text/xml", "<ServiceExceptionReport><ServiceException>Invalid query: maximum of 100000 rows exceeded</ServiceException></ServiceExceptionReport>"),
		"time limit": say(500, "text/plain", "Execution Timeout Expired.  The timeout period elapsed prior to completion of the operation or the server is not responding."),
		"our bound":  say(200, "application/json", `{"Table":[["x"],["`+strings.Repeat("x", 1<<20)+`"]]}`),
	} {
		t.Run(name, func(t *testing.T) {
			service, opt := serve(t, excerptFolder)
			opt.limits = defaultLimits()
			opt.limits.bytes = 1 << 20
			service.Before = func(n int, w http.ResponseWriter, r *http.Request) bool {
				if strings.Contains(r.PostFormValue("query"), "chorizon.ph1to1h2o_r") && strings.Count(r.PostFormValue("query"), "', '") > 1 {
					refuse(w, r)
					return true
				}
				return false
			}
			got, faults := fetch(t, Request{Areas: []string{"AR017"}}, opt)
			if len(got) != 1 || faults.Faults() > 0 {
				t.Fatalf("%+v\n%s", got, faults)
			}
			s, _ := read(t, got[0].Folder)
			if want := surveyOf(t, excerptFolder); len(s.Units) != len(want.Units) {
				t.Errorf("%d units, want %d", len(s.Units), len(want.Units))
			}
		})
	}
}

// A list of one key cannot be halved any more.
func TestOneKeyTooMuchIsSaid(t *testing.T) {
	service, opt := serve(t, excerptFolder)
	service.Before = func(n int, w http.ResponseWriter, r *http.Request) bool {
		if strings.Contains(r.PostFormValue("query"), "STAsText") {
			say(500, "text/plain", "maxJsonLength")(w, r)
			return true
		}
		return false
	}
	_, err := Fetch(context.Background(), Request{Areas: []string{"AR017"}}, opt, &diag.List{})
	if err == nil || !strings.Contains(err.Error(), "alone is too much") {
		t.Errorf("error %v", err)
	}
}

// Answers that leave something out, or bring what does not belong there, are not made a survey of.
func TestFalseAnswersAreRefused(t *testing.T) {
	answer := func(columns, row string) string { return `{"Table":[["` + columns + `"],["` + row + `"]]}` }
	for name, tc := range map[string]struct{ part, answer, says string }{
		"polygons missing":  {"STAsText", "{}", "0 polygons, 8 were asked for"},
		"units missing":     {"SELECT mapunit.musym", "{}", "0 map units, 8 were asked for"},
		"key with a quote":  {"SELECT mapunit.mukey", answer("mukey", "1') OR 1=1 --"), "where a key should stand"},
		"shape is no shape": {"STAsText", `{"Table":[["mupolygonkey","mukey","areasymbol","spatialversion","musym","geom"],["400000000","1","AR017","1","x","POLYGON ((1 2"]]}`, "not a shape"},
	} {
		service, opt := serve(t, excerptFolder)
		service.Before = func(n int, w http.ResponseWriter, r *http.Request) bool {
			if !strings.Contains(r.PostFormValue("query"), tc.part) {
				return false
			}
			say(200, "application/json", tc.answer)(w, r)
			return true
		}
		_, err := Fetch(context.Background(), Request{Areas: []string{"AR017"}}, opt, &diag.List{})
		if err == nil || !strings.Contains(err.Error(), tc.says) {
			t.Errorf("%s: error %v, want %q", name, err, tc.says)
		}
	}
}
