package soildata

import (
	"fmt"
	"net/http"
	"time"

	"github.com/paulmach/orb"
)

// DefaultURL is where the service takes queries.
const DefaultURL = "https://sdmdataaccess.sc.egov.usda.gov/tabular/post.rest"

// Request says what to fetch: the survey that meets the fields, whole survey areas, or both.
type Request struct {
	Fields []Outline
	Areas  []string // symbols such as "AR017"; capitals do not matter
}

// Outline is the boundary of a field.
type Outline struct {
	ID    string           // for messages only; it is never sent
	Shape orb.MultiPolygon // longitude, latitude in degrees
}

// Options tunes [Fetch]; all but Dir may be left zero.
type Options struct {
	Dir      string                              // folder of the cache; made when it is absent
	BaseURL  string                              // empty means [DefaultURL]
	Program  string                              // name and version for the User-Agent; empty means "rootworthy"
	Offline  bool                                // use the cache alone; nothing is dialled
	Wait     time.Duration                       // before the second try, twice as long before the third; 0 means a minute
	Timeout  time.Duration                       // for one answer; 0 means five minutes
	Tell     func(line string)                   // what is asked of whom, and what is waited for; nil means silent
	Progress func(stage string, done, total int) // nil means silent; never called concurrently
	Client   *http.Transport                     // nil means the usual one with proxies from the environment
	// zero means the service's own; tests make them small
	limits limits
}

// Fetched is one survey area, or the part of it that meets the fields, in the cache.
type Fetched struct {
	Symbol, Version string
	Date            string // day of saverest, "2021-09-13"; empty when not recorded
	Folder          string // to be opened as a survey export
	Whole           bool   // all of the survey area
	Cached          bool   // it was there already
	Units, Polygons int
}

// limits are bounds on one question and its answer.
type limits struct {
	keys  int   // in one list
	rows  int   // of one answer
	bytes int64 // of one answer
	text  int   // bytes of the outlines of one question
}

// The service's own limits are 100,000 rows and 32 MB of JSON for an answer, and some 2.5 MB for a query.
// Source: documentation of soilDB (SDA_query) and its thread "SDA query limits". 500 keys a list is our choice.
func defaultLimits() limits { return limits{keys: 500, rows: 100_000, bytes: 33 << 20, text: 1 << 20} }

// tries is how often a question is asked before it is given up.
const tries = 3

// filled puts in what was left out.
func (o Options) filled() (Options, error) {
	if o.Dir == "" {
		return o, fmt.Errorf("no folder for the cache given")
	}
	if o.BaseURL == "" {
		o.BaseURL = DefaultURL
	}
	if o.Program == "" {
		o.Program = "rootworthy"
	}
	if o.Wait <= 0 {
		o.Wait = time.Minute
	}
	if o.Timeout <= 0 {
		o.Timeout = 5 * time.Minute
	}
	if o.Tell == nil {
		o.Tell = func(string) {}
	}
	if o.Progress == nil {
		o.Progress = func(string, int, int) {}
	}
	if o.limits == (limits{}) {
		o.limits = defaultLimits()
	}
	return o, nil
}
