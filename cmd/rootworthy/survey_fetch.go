package main

import (
	"context"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"time"

	"rootworthy/export"
	"rootworthy/internal/diag"
	"rootworthy/internal/field"
	"rootworthy/internal/soildata"
)

const fetchHelp = `  rootworthy survey fetch --fields fields.geojson
  rootworthy survey fetch --area AR017
  rootworthy survey fetch --area AR017 --offline

Fetches the soil survey from the public Soil Data Access service of the USDA:
the map units that meet your fields, or whole survey areas. It says which host
it asks and what it sends before it does: outlines of fields in longitude and
latitude, never their names, ids or attributes. No other task uses a network.

The survey is kept in a cache and its folder printed: give that to --survey. A
version that is there is not fetched again; a fetch that breaks off goes on.
  --fields FILE        fields: GeoJSON, shapefile (may be repeated)
  --crs EPSG:n         coordinate system of the fields, if their file has none
  --layer NAME         which layer, where a zip of fields holds several
  --area SYMBOL        a survey area: state and three digits (may be repeated)
  --cache DIR          default: rootworthy in your folder for caches
  --offline            use what is in the cache; nothing is asked of anyone
  --base-url URL       another address of the service (https)
  --retry-wait 60s     wait before the second try; the third waits twice that
`

// fetchFlags are the flags of survey fetch as typed.
type fetchFlags struct {
	// What is fetched: the ground of fields, or whole survey areas by their symbols.
	fields, areas []string
	crs, layer    string // of the fields

	cache   string // folder; "" for the system's own
	baseURL string
	offline bool          // only what is kept already
	wait    time.Duration // before a question is asked again that the service could not answer
}

// surveyFetch is the one verb that uses the network. What it fetches is kept, so that a screening needs none.
func surveyFetch(ctx context.Context, args []string, std stdio) error {
	var f fetchFlags
	fl := newFlags("survey fetch", fetchHelp, std.out)
	fl.StringArrayVar(&f.fields, "fields", nil, "")
	fl.StringArrayVar(&f.areas, "area", nil, "")
	fl.StringVar(&f.crs, "crs", "", "")
	fl.StringVar(&f.layer, "layer", "", "")
	fl.StringVar(&f.cache, "cache", "", "")
	fl.StringVar(&f.baseURL, "base-url", soildata.DefaultURL, "")
	fl.BoolVar(&f.offline, "offline", false, "")
	fl.DurationVar(&f.wait, "retry-wait", time.Minute, "")
	if err := parse(fl, args); err != nil {
		return err
	}
	if fl.NArg() > 0 {
		return usagef("survey fetch does not know what %q is; fields are given with --fields, survey areas with --area", fl.Arg(0))
	}
	if err := f.check(); err != nil {
		return err
	}
	return f.fetch(ctx, std)
}

// check finds what cannot be meant.
func (f *fetchFlags) check() error {
	if len(f.fields) == 0 && len(f.areas) == 0 {
		return usagef("nothing to fetch given; add --fields FILE or --area SYMBOL")
	}
	for _, a := range f.areas {
		if _, ok := soildata.Symbol(a); !ok {
			return usagef("--area: %q is not the symbol of a survey area, such as AR017", a)
		}
	}
	// The service may stand elsewhere, as a copy or for tests. Where fields lie is nobody else's business, so the way there is https, or this machine.
	if err := soildata.CheckURL(f.baseURL); err != nil {
		return usagef("--base-url: %v", err)
	}
	if f.wait <= 0 {
		return usagef("--retry-wait: %s is no wait; give one such as 60s", f.wait)
	}
	return nil
}

// fetch asks the service for what is not kept yet, and tells what stands there afterwards.
func (f *fetchFlags) fetch(ctx context.Context, std stdio) error {
	var faults diag.List
	var err error
	if f.cache == "" {
		if f.cache, err = cacheFolder(); err != nil {
			return err
		}
	}
	req := soildata.Request{Areas: f.areas}
	if req.Fields, err = f.outlines(ctx, &faults); err != nil {
		return err
	}
	show, wipe := progress(std.err)
	opt := soildata.Options{Dir: f.cache, BaseURL: f.baseURL, Program: "rootworthy/" + version, Offline: f.offline, Wait: f.wait, Progress: show,
		// Remarks must not stand behind the half line of the progress.
		Tell: func(line string) { wipe(); fmt.Fprintln(std.err, line) }}
	got, err := soildata.Fetch(ctx, req, opt, &faults)
	wipe()
	if errors.Is(err, context.Canceled) {
		// Large requests go in parts and each part is kept, so nothing is asked twice.
		err = interrupted{"what was answered by then is kept in " + f.cache + ", and the same command goes on from there", err}
	}
	if err != nil {
		return errors.Join(tellNotices(&faults, std), err)
	}
	if err := tellFetched(ctx, got, &faults, std); err != nil {
		return err
	}
	return tellFaults(&faults, std)
}

// tellNotices prints what was found before an error ended the work; the error alone decides the exit code.
// Faults found on the way are still printed: they often name the cause.
func tellNotices(faults *diag.List, std stdio) error {
	if err := tellFaults(faults, std); !errors.Is(err, errFaults) {
		return err
	}
	return nil
}

// cacheFolder is where surveys are kept when the user names no place.
func cacheFolder() (string, error) {
	dir, err := os.UserCacheDir()
	if err != nil {
		return "", fmt.Errorf("this system names no folder for caches (%v); add --cache DIR", err)
	}
	return filepath.Join(dir, "rootworthy", "surveys"), nil
}

// outlines reads the fields.
func (f *fetchFlags) outlines(ctx context.Context, faults *diag.List) ([]soildata.Outline, error) {
	if len(f.fields) == 0 {
		return nil, nil
	}
	fields, _, err := openFields(ctx, f.fields, &screenFlags{crs: f.crs, layer: f.layer}, faults)
	if err != nil {
		return nil, err
	}
	return outlinesOf(fields), nil
}

// outlinesOf are the shapes for whose ground the survey is asked, with the ids that faults name them by.
func outlinesOf(fields []field.Field) []soildata.Outline {
	out := make([]soildata.Outline, len(fields))
	for i, f := range fields {
		out[i] = soildata.Outline{ID: f.ID, Shape: f.Shape}
	}
	return out
}

// tellFetched opens each survey as any other verb would, and says what and where it is.
func tellFetched(ctx context.Context, got []soildata.Fetched, faults *diag.List, std stdio) error {
	for _, g := range got {
		// A survey that cannot be opened is no use, and it should be known now, with the network at hand.
		o, err := openSurvey(ctx, surveyInput{paths: []string{g.Folder}}, faults)
		if err != nil {
			return err
		}
		if err := surveyList(o.soil.Survey(), std.out); err != nil {
			return err
		}
		o.close()
		extent, origin := "all of the area", "fetched"
		if !g.Whole {
			extent = "what meets the fields"
		}
		if g.Cached {
			origin = "from the cache"
		}
		fmt.Fprintf(std.out, "       %s map units, %s polygons: %s, %s\n  --survey %s\n",
			export.Thousands(g.Units), export.Thousands(g.Polygons), extent, origin, g.Folder)
	}
	return nil
}
