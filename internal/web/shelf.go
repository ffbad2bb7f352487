package web

import (
	"fmt"
	"sync"

	"rootworthy/internal/run"
	"rootworthy/suitability"
)

// shelf holds the runs, numbered from 1 in the order in which they came.
type shelf struct {
	shade Shader // nil: without heights

	mu   sync.Mutex
	runs []*book
	used []*book // those in memory that can be read again from their folder, the last used at the end
}

// book is one run on the shelf.
type book struct {
	Number int
	Name   string
	Head   run.Head
	Err    error // why it cannot be read; nil when it can

	Before *book  // the run that it came from, to compare with; nil: none
	order  *Order // what it was made of; nil unless it was made of what came in through a page

	source *Source // nil: made here, and in memory
	mu     sync.Mutex
	loaded *loaded
}

// mostLoaded is how many runs that stand in folders are kept in memory.
const mostLoaded = 4

func newShelf(sources []Source) *shelf {
	s := &shelf{}
	for i := range sources {
		b := &book{Number: i + 1, Name: sources[i].Name, source: &sources[i]}
		b.Head, b.Err = run.ReadHead(sources[i].Files)
		s.runs = append(s.runs, b)
	}
	return s
}

// list returns the runs as they stand now.
func (s *shelf) list() []*book {
	s.mu.Lock()
	defer s.mu.Unlock()
	return append([]*book(nil), s.runs...)
}

// get returns a run by its number; nil when there is none.
func (s *shelf) get(number int) *book {
	s.mu.Lock()
	defer s.mu.Unlock()
	if number < 1 || number > len(s.runs) {
		return nil
	}
	return s.runs[number-1]
}

// add puts a run that was made here at the end.
func (s *shelf) add(m *made) *book {
	r := m.Result
	b := &book{Name: m.Name, Before: s.get(m.before), order: m.order, loaded: s.load(r)}
	b.Head = run.Head{Fields: len(r.Fields), Zones: len(r.Zones), Faults: len(r.Faults), Provenance: r.Provenance}
	for i := range r.Fields {
		if r.Fields[i].Trouble != "" {
			b.Head.Unanswered++
		}
	}
	s.mu.Lock()
	defer s.mu.Unlock()
	s.runs = append(s.runs, b)
	b.Number = len(s.runs)
	return b
}

// load brings a run into memory.
func (s *shelf) load(r *suitability.Result) *loaded {
	l := newLoaded(r)
	l.relief = reliefOf(s.shade, r)
	return l
}

// open returns the run itself, reading it if need be.
func (s *shelf) open(b *book) (*loaded, error) {
	b.mu.Lock()
	defer b.mu.Unlock()
	if b.loaded == nil {
		r, err := run.Read(b.source.Files)
		if err != nil {
			return nil, fmt.Errorf("%s: %w", b.Name, err)
		}
		b.loaded = s.load(r)
	}
	l := b.loaded
	if b.source != nil {
		s.remember(b)
	}
	return l, nil
}

// remember lets go of the run that was not used for longest. One that is being opened stays.
func (s *shelf) remember(b *book) {
	s.mu.Lock()
	defer s.mu.Unlock()
	for i, x := range s.used {
		if x == b {
			s.used = append(s.used[:i], s.used[i+1:]...)
			break
		}
	}
	s.used = append(s.used, b)
	if len(s.used) > mostLoaded && s.used[0].mu.TryLock() {
		s.used[0].loaded = nil
		s.used[0].mu.Unlock()
		s.used = s.used[1:]
	}
}
