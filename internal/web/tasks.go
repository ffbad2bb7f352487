package web

import (
	"context"
	"errors"
	"net/http"
	"strconv"
	"sync"
	"time"

	"rootworthy/internal/diag"
	"rootworthy/internal/job"
	"rootworthy/suitability"
)

// mostTime is how long a screening may take before it is given up.
const mostTime = time.Hour

// States of a task.
const (
	working   = "working"
	done      = "done"
	failed    = "failed"
	cancelled = "cancelled"
)

// tasks are the screenings of this process. One is at work at a time: two would only make each other slow.
type tasks struct {
	mu     sync.Mutex
	parent context.Context
	all    []*task
	wg     sync.WaitGroup
}

// task is one screening, at work or over.
type task struct {
	Number int
	What   string

	ctx    context.Context
	cancel context.CancelFunc
	mu     sync.Mutex
	now    progress
	faults *diag.List
}

// progress is what a page is told of a task.
type progress struct {
	State  string  `json:"state"`
	Stage  string  `json:"stage"`
	Done   int     `json:"done"`
	Total  int     `json:"total"`
	Error  string  `json:"error,omitempty"`
	Run    int     `json:"run,omitempty"` // number of the run that was made
	Faults []fault `json:"faults,omitempty"`
}

// made is what a task brings forth.
type made struct {
	Name   string
	Result *suitability.Result
	order  *Order // what it was made of; nil when it came from the command line
	before int    // number of the run that it came from, to compare with; 0: none
}

func (t *tasks) start(ctx context.Context) {
	t.mu.Lock()
	defer t.mu.Unlock()
	t.parent = ctx
}

func (t *tasks) wait() { t.wg.Wait() }

func (t *tasks) get(number int) *task {
	t.mu.Lock()
	defer t.mu.Unlock()
	if number < 1 || number > len(t.all) {
		return nil
	}
	return t.all[number-1]
}

// latest returns the last task, nil when there is none.
func (t *tasks) latest() *task {
	t.mu.Lock()
	defer t.mu.Unlock()
	if len(t.all) == 0 {
		return nil
	}
	return t.all[len(t.all)-1]
}

// errBusy refuses a second screening beside one at work.
var errBusy = errors.New("a screening is at work already; wait for it, or cancel it")

// begin starts work unless some is going on, and puts the run that comes of it on the shelf.
func (s *Server) begin(what string, work func(*task) (*made, error)) (*task, error) {
	s.tasks.mu.Lock()
	defer s.tasks.mu.Unlock()
	if s.tasks.parent == nil || s.tasks.parent.Err() != nil {
		return nil, errors.New("the program is closing")
	}
	// tasks come one after the other, so only the last one can be at work
	if n := len(s.tasks.all); n > 0 && s.tasks.all[n-1].state() == working {
		return nil, errBusy
	}
	ctx, cancel := context.WithTimeout(s.tasks.parent, mostTime)
	t := &task{Number: len(s.tasks.all) + 1, What: what, ctx: ctx, cancel: cancel, now: progress{State: working, Stage: "opening"}, faults: &diag.List{}}
	s.tasks.all = append(s.tasks.all, t)
	s.tasks.wg.Go(func() {
		defer cancel()
		m, err := work(t)
		// work that did not notice in time that it was cancelled still leaves no run
		if err == nil && ctx.Err() != nil {
			err = ctx.Err()
		}
		if err == nil && s.screener.Keep != nil {
			t.stage("writing the run", 0, 0)
			var held []byte
			if held, err = packTests(m.order); err == nil {
				m.Name, err = s.screener.Keep(m.Result, held)
			}
		}
		if err != nil {
			t.end(progress{State: stateOf(err), Error: wordsOf(err)})
			return
		}
		b := s.shelf.add(m)
		t.end(progress{State: done, Run: b.Number})
	})
	return t, nil
}

func stateOf(err error) string {
	if errors.Is(err, context.Canceled) {
		return cancelled
	}
	return failed
}

func wordsOf(err error) string {
	switch {
	case errors.Is(err, context.Canceled):
		return "cancelled; nothing was kept"
	case errors.Is(err, context.DeadlineExceeded):
		return "it took too long and was given up; screen fewer fields at a time"
	}
	return err.Error()
}

func (t *task) state() string {
	t.mu.Lock()
	defer t.mu.Unlock()
	return t.now.State
}

// stage is told by the work how far it has come.
func (t *task) stage(stage string, done, total int) {
	t.mu.Lock()
	defer t.mu.Unlock()
	t.now.Stage, t.now.Done, t.now.Total = stage, done, total
}

func (t *task) end(p progress) {
	for _, f := range t.faults.Kept() {
		p.Faults = append(p.Faults, fault{f.Severity.String(), f.String()})
	}
	t.mu.Lock()
	defer t.mu.Unlock()
	t.now = p
}

func (t *task) tell() progress {
	t.mu.Lock()
	defer t.mu.Unlock()
	return t.now
}

var _ job.Progress = (*task)(nil).stage

// task tells how far a screening has come.
func (s *Server) task(w http.ResponseWriter, r *http.Request) {
	t := s.named(w, r)
	if t == nil {
		return
	}
	if r.Header.Get("Accept") == "application/json" {
		answer(w, http.StatusOK, t.tell())
		return
	}
	s.showTask(w, t)
}

func (s *Server) showTask(w http.ResponseWriter, t *task) {
	s.show(w, http.StatusOK, "task.html", struct {
		frame
		Number int
		What   string
		Now    progress
	}{s.frame("Screening " + t.What), t.Number, t.What, t.tell()})
}

// cancel stops a screening.
func (s *Server) cancel(w http.ResponseWriter, r *http.Request) {
	if t := s.named(w, r); t != nil {
		t.cancel()
		answer(w, http.StatusOK, t.tell())
	}
}

func (s *Server) named(w http.ResponseWriter, r *http.Request) *task {
	n, err := strconv.Atoi(r.PathValue("task"))
	t := s.tasks.get(n)
	if err != nil || t == nil {
		s.fail(w, r, http.StatusNotFound, "There is no such screening.")
		return nil
	}
	return t
}
