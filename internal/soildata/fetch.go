package soildata

import (
	"cmp"
	"context"
	"errors"
	"fmt"
	"path/filepath"
	"slices"
	"strings"

	"rootworthy/internal/diag"
)

// Fetch fetches what is asked for, or finds it in the cache, and returns the surveys by their symbols. A survey of the
// version that the service has now is not fetched twice.
//
// Fields or areas that the service does not know are told in faults; damage in the cache is told as a notice and
// mended. The error says that the service cannot be used or that the disk refuses; what was fetched before it is kept,
// and the next call goes on from there.
func Fetch(ctx context.Context, req Request, opt Options, faults *diag.List) ([]Fetched, error) {
	opt, err := opt.filled()
	if err != nil {
		return nil, err
	}
	areas, err := symbols(req.Areas)
	if err != nil {
		return nil, err
	}
	// grouped before anything is announced: what is announced is what is sent
	groups := grouped(req.Fields, faults)
	if len(groups) == 0 && len(areas) == 0 {
		return nil, errors.New("nothing to fetch: no field and no survey area")
	}
	f := &fetcher{opt: opt, cache: cache{dir: opt.Dir, faults: faults}, faults: faults}
	// before a service is made: offline nothing is even looked up
	if opt.Offline {
		opt.Tell("offline: nothing is asked of anyone; the cache is " + opt.Dir)
		return f.offline(groups, areas)
	}
	if f.service, err = newService(opt); err != nil {
		return nil, err
	}
	// Said before anything is sent: the outlines of fields are the user's own, and leave the machine only after this line.
	opt.Tell(f.service.announce(groups, areas))
	return f.online(ctx, groups, areas)
}

// symbols checks and sorts the symbols of survey areas.
func symbols(areas []string) ([]string, error) {
	var out []string
	for _, a := range areas {
		s, ok := Symbol(a)
		if !ok {
			return nil, fmt.Errorf("%q is not the symbol of a survey area, such as AR017", clip(a))
		}
		out = append(out, s)
	}
	slices.Sort(out)
	return slices.Compact(out), nil
}

// announce says whom the program is about to ask, and what it will send.
func (s *service) announce(groups []group, areas []string) string {
	var what []string
	n := 0
	for _, g := range groups {
		n += len(g.fields)
	}
	switch {
	case n == 1:
		what = append(what, "the outline of 1 field (longitude and latitude; no name, id or attribute)")
	case n > 1:
		what = append(what, fmt.Sprintf("the outlines of %d fields (longitude and latitude; no names, ids or attributes)", n))
	}
	if len(areas) > 0 {
		what = append(what, "the survey area "+strings.Join(areas, ", "))
	}
	way := "over TLS"
	if s.base.Scheme == "http" {
		way = "on this machine, without TLS"
	}
	if proxy := s.via(); proxy != "" {
		way += ", through the proxy " + proxy
	}
	return fmt.Sprintf("asking %s %s; sent: %s, then keys of the survey. No other host is asked.", s.base.Host, way, strings.Join(what, " and "))
}

// fetcher carries one [Fetch] through.
type fetcher struct {
	opt     Options
	cache   cache
	service *service
	faults  *diag.List
}

// online asks what the fields meet, then for each survey area that is not in the cache.
func (f *fetcher) online(ctx context.Context, groups []group, areas []string) ([]Fetched, error) {
	want, err := f.service.discover(ctx, groups, f.faults)
	if err != nil {
		return nil, err
	}
	var symbols []string
	for _, w := range want {
		symbols = append(symbols, w.symbol)
	}
	// one question for all of them; every name in the cache comes from its answer
	// A survey in the cache is told by version and date, so the cache can be asked only after this.
	versions, err := f.service.versions(ctx, union(symbols, areas))
	if err != nil {
		return nil, err
	}
	// whole areas first: they serve for the parts that fields need
	whole, err := f.all(ctx, wholes(areas), versions)
	if err != nil {
		return nil, err
	}
	parts, err := f.all(ctx, want, versions)
	if err != nil {
		return nil, err
	}
	// only a complete answer is remembered for use offline
	// An area of which the service told polygons and no version is missing from parts.
	if len(groups) > 0 && len(parts) == len(want) {
		if err := f.cache.remember(fingerprint(groups, f.opt.limits), parts); err != nil {
			return nil, err
		}
	}
	return merged(whole, parts), nil
}

// wholes makes whole areas of symbols.
func wholes(areas []string) []wanted {
	var out []wanted
	for _, a := range areas {
		out = append(out, wanted{symbol: a, whole: true})
	}
	return out
}

// union joins two lists, sorted, each member once.
func union(a, b []string) []string {
	all := slices.Concat(a, b)
	slices.Sort(all)
	return slices.Compact(all)
}

// merged puts surveys in the order of their symbols, each folder once.
func merged(a, b []Fetched) []Fetched {
	all := slices.Concat(a, b)
	slices.SortStableFunc(all, func(x, y Fetched) int { return cmp.Compare(x.Folder, y.Folder) })
	return slices.CompactFunc(all, func(x, y Fetched) bool { return x.Folder == y.Folder })
}

// all fetches one survey area after the other.
func (f *fetcher) all(ctx context.Context, want []wanted, versions map[string]naming) ([]Fetched, error) {
	var out []Fetched
	for _, w := range want {
		name, ok := versions[w.symbol]
		if !ok {
			f.faults.Add(diag.Fault{Feature: "survey area " + w.symbol, Kind: "no such area", What: "the service has no survey of it",
				Fix: "check the symbol: two letters of the state and three digits"})
			continue
		}
		got, err := f.one(ctx, w, name)
		if err != nil {
			return nil, err
		}
		out = append(out, got)
	}
	return out, nil
}

// one finds a survey area, or the part of it that is wanted, in the cache, or fetches it. A whole area that is there
// serves for a part.
func (f *fetcher) one(ctx context.Context, w wanted, name naming) (Fetched, error) {
	// the whole of the version before a part of it
	const remedy = "it is fetched again"
	if got, ok := f.cache.find(name.folder(), remedy); ok {
		return got, nil
	}
	if !w.whole {
		name.part = partOf(w.polygons)
		if got, ok := f.cache.find(name.folder(), remedy); ok {
			return got, nil
		}
	}
	// Parts are kept under the name with the version in it: answers of another version are not found.
	d := &download{service: f.service, opt: f.opt, symbol: w.symbol,
		parts: openParts(filepath.Join(f.opt.Dir, name.folder()+partsEnding), f.faults)}
	if w.whole {
		if err := d.whole(ctx, &w); err != nil {
			return Fetched{}, err
		}
	}
	// What this leaves on an error are the parts, from which the next call goes on.
	s, err := d.run(ctx, w, name)
	if err != nil {
		return Fetched{}, err
	}
	// asked last, so that everything lies between two equal answers
	if err := f.unchanged(ctx, d, name); err != nil {
		return Fetched{}, err
	}
	got, err := f.cache.store(ctx, s, f.service.base.String())
	if err == nil {
		d.parts.drop()
		f.cache.sweep(name)
	}
	return got, err
}

// whole asks for the keys of a whole survey area.
func (d *download) whole(ctx context.Context, w *wanted) (err error) {
	d.opt.Progress(d.symbol+": keys", 0, 0)
	if w.units, err = d.keys(ctx, unitsOf(), []string{w.symbol}); err != nil {
		return fmt.Errorf("%s, map units: %w", w.symbol, err)
	}
	if w.polygons, err = d.keys(ctx, polygonsOf(), w.units); err != nil {
		return fmt.Errorf("%s, keys of polygons: %w", w.symbol, err)
	}
	return nil
}

// unchanged asks once more for the version: a survey that was renewed while it was fetched would be half old.
func (f *fetcher) unchanged(ctx context.Context, d *download, name naming) error {
	now, err := f.service.versions(ctx, []string{d.symbol})
	if err != nil {
		return err
	}
	// an area that is gone has no version and no date, and so differs from any that has
	n := now[d.symbol]
	if n.version != name.version || n.date != name.date {
		d.parts.drop()
		return fmt.Errorf("%s was renewed by the service while it was fetched; fetch it again", d.symbol)
	}
	return nil
}

// offline finds everything in the cache.
func (f *fetcher) offline(groups []group, areas []string) ([]Fetched, error) {
	var whole, parts []Fetched
	for _, a := range areas {
		// offline nobody can say what the newest is elsewhere; the newest here is what there is
		got, ok := f.cache.newest(a)
		if !ok {
			return nil, fmt.Errorf("%s: the cache has no sound survey of all of %s; fetch it once with a connection", f.opt.Dir, a)
		}
		whole = append(whole, got)
	}
	if len(groups) == 0 {
		return whole, nil
	}
	// by what would be sent: moved boundaries are other fields
	e, ok := f.cache.recall(fingerprint(groups, f.opt.limits))
	if !ok {
		return nil, fmt.Errorf("%s: no survey was fetched for these fields before; fetch it once with a connection, or name its area", f.opt.Dir)
	}
	if len(e.Folders) == 0 {
		f.faults.Add(diag.Fault{File: f.opt.Dir, Kind: "no coverage", What: "the service had no soil survey where these fields lie when it was asked last",
			Fix: "ask it again with a connection; check that they lie in the United States and are in longitude and latitude"})
	}
	for _, name := range e.Folders {
		got, ok := f.cache.find(name, "it cannot be used; fetch it again with a connection")
		if !ok {
			return nil, fmt.Errorf("%s: the survey that these fields need is damaged or gone; fetch it again with a connection", filepath.Join(f.opt.Dir, name))
		}
		parts = append(parts, got)
	}
	return merged(whole, parts), nil
}
