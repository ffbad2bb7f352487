package web

import (
	"net/http"

	"rootworthy/internal/run"
)

// home shows the only run there is, how far the first screening has come, or the list of runs.
func (s *Server) home(w http.ResponseWriter, r *http.Request) {
	books := s.shelf.list()
	t := s.tasks.latest()
	switch {
	case len(books) == 0 && t != nil:
		s.showTask(w, t)
	case len(books) == 1 && books[0].Err == nil:
		l, err := s.shelf.open(books[0])
		if err != nil {
			s.fail(w, r, http.StatusUnprocessableEntity, err.Error())
			return
		}
		sc, err := l.staged(r.URL.Query())
		if err != nil {
			s.fail(w, r, http.StatusBadRequest, err.Error())
			return
		}
		s.showRun(w, r, books[0], sc)
	default:
		s.runs(w, r)
	}
}

// runs lists the runs, each beside the one before it to compare with.
func (s *Server) runs(w http.ResponseWriter, r *http.Request) {
	s.show(w, http.StatusOK, "runs.html", struct {
		frame
		Runs []*book
		Task *task
	}{s.frame("Runs"), s.shelf.list(), s.atWork()})
}

// atWork returns the screening that is going on, nil when there is none.
func (s *Server) atWork() *task {
	if t := s.tasks.latest(); t != nil && t.state() == working {
		return t
	}
	return nil
}

// fileTypes are the types of the files of a run.
var fileTypes = map[string]string{"zones.geojson": "application/geo+json", "fields.geojson": "application/geo+json", "fields.csv": "text/csv; charset=utf-8",
	"lime.csv": "text/csv; charset=utf-8", "reasons.jsonl": "application/x-ndjson", "run.json": "application/json"}

// file sends a file of a run, written anew from the result: equal results give equal bytes, and no path is needed.
func (s *Server) file(w http.ResponseWriter, r *http.Request) {
	name := r.PathValue("name")
	kind, ok := fileTypes[name]
	if !ok {
		s.fail(w, r, http.StatusNotFound, "A run has no such file.")
		return
	}
	_, l, opened := s.opened(w, r)
	if !opened {
		return
	}
	w.Header().Set("Content-Type", kind)
	w.Header().Set("Content-Disposition", `attachment; filename="`+name+`"`)
	if err := run.WriteFile(w, name, stamped(l.result)); err != nil {
		panic(http.ErrAbortHandler) // half is sent: the browser must not take it for whole
	}
}
