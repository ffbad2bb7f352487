package web

import (
	"context"
	"crypto/rand"
	"errors"
	"fmt"
	"html/template"
	"io/fs"
	"net"
	"net/http"
	"strconv"
	"sync"
	"time"

	"rootworthy/suitability"
)

// Config says what a server shows.
type Config struct {
	Program  string      // name and version, for the foot of every page
	Runs     []Source    // in the order of the list
	Screener *Screener   // nil: runs are looked at and compared, none is made
	Record   *RecordFile // nil: nothing is written down of the fields
	Planner  *Planner    // nil: no plan is made
	Ranker   *Ranker     // nil: nothing is ranked
	Reckoner Reckoner    // nil: no prices are given
	Exporter Exporter    // what else can be made of a run
	Shade    Shader      // nil: no heights are given
}

// Source is a run that stands in a folder.
type Source struct {
	Name  string // as the user knows it
	Files fs.FS
	// Held reads the laboratory files that were kept beside the run, as Screener.Keep got them; nothing where there are none. nil:
	// none are kept.
	Held func() ([]byte, error)
	// Find looks for a file that the run was made with, by name and digest, where the user may still have it; nil bytes where there is no file of
	// that name, and an error in words where there is one, but another. nil: none is looked for.
	Find func(in suitability.Input) ([]byte, error)
}

// Server answers for a set of runs.
type Server struct {
	program  string
	token    string // of this process; pages carry it, and whatever changes something must show it
	shelf    *shelf
	screener *Screener
	record   *RecordFile
	planner  *Planner
	ranker   *Ranker
	reckoner Reckoner
	exporter Exporter
	making   making
	writing  sync.Mutex // held while the record is changed
	tasks    *tasks
	uploads  *uploads
	pages    *template.Template
}

// New returns a server. With a screener that has something to begin with, that begins when the server serves.
func New(c Config) (*Server, error) {
	pages, err := template.New("").Funcs(speak()).ParseFS(templateFiles, "templates/*.html")
	if err != nil {
		return nil, err
	}
	s := &Server{program: c.Program, token: rand.Text(), shelf: newShelf(c.Runs), screener: c.Screener, record: c.Record, planner: c.Planner, ranker: c.Ranker, reckoner: c.Reckoner, exporter: c.Exporter, making: newMaking(), uploads: &uploads{}, pages: pages}
	s.tasks = &tasks{}
	s.shelf.shade = c.Shade
	return s, nil
}

// Times that a browser may take. A page is small and the upload is limited, so what takes longer is broken or hostile.
const (
	headerTime = 10 * time.Second
	readTime   = 2 * time.Minute
	writeTime  = 5 * time.Minute
	idleTime   = 2 * time.Minute
	closeTime  = 3 * time.Second
	mostHeader = 64 << 10
)

// Listen opens the loopback addresses on one port, 0 for any. The second, [::1], is left out where a machine has none.
func Listen(port int) ([]net.Listener, error) {
	first, err := net.Listen("tcp4", net.JoinHostPort("127.0.0.1", strconv.Itoa(port)))
	if err != nil {
		return nil, fmt.Errorf("port %d cannot be used: %w; leave --port out to take a free one", port, err)
	}
	out := []net.Listener{first}
	got := first.Addr().(*net.TCPAddr).Port // of a TCP listener it is always that
	if second, err := net.Listen("tcp6", net.JoinHostPort("::1", strconv.Itoa(got))); err == nil {
		out = append(out, second)
	}
	return out, nil
}

// Address is what to type into a browser.
func Address(l net.Listener) string { return "http://" + l.Addr().String() + "/" }

// Serve answers until the context ends, which stops what is at work too. The listeners are closed then.
func (s *Server) Serve(ctx context.Context, listeners ...net.Listener) error {
	work, stop := context.WithCancel(ctx)
	defer stop()
	s.tasks.start(work)
	if s.screener != nil && s.screener.First != nil {
		s.begin("the fields", func(t *task) (*made, error) { return s.first(t) })
	}
	server := &http.Server{Handler: s.Handler(), ReadHeaderTimeout: headerTime, ReadTimeout: readTime, WriteTimeout: writeTime,
		IdleTimeout: idleTime, MaxHeaderBytes: mostHeader}
	ended := make(chan error, len(listeners))
	for _, l := range listeners {
		go func() { ended <- server.Serve(l) }()
	}
	var err error
	select {
	case <-ctx.Done():
	case err = <-ended:
	}
	closing, cancel := context.WithTimeout(context.WithoutCancel(ctx), closeTime)
	defer cancel()
	if server.Shutdown(closing) != nil {
		server.Close()
	}
	stop()
	s.tasks.wait()
	if errors.Is(err, http.ErrServerClosed) {
		return nil
	}
	return err
}

// Handler answers requests behind the guard.
func (s *Server) Handler() http.Handler {
	mux := http.NewServeMux()
	mux.HandleFunc("GET /{$}", s.home)
	mux.HandleFunc("GET /runs", s.runs)
	mux.HandleFunc("GET /run/{run}/{$}", s.run)
	mux.HandleFunc("GET /run/{run}/part", s.part)
	mux.HandleFunc("GET /run/{run}/shapes", s.shapes)
	mux.HandleFunc("GET /run/{run}/shapes/{part}", s.shapePart)
	mux.HandleFunc("GET /run/{run}/shape/{zone}", s.shape)
	mux.HandleFunc("GET /run/{run}/boundary", s.boundary)
	mux.HandleFunc("GET /run/{run}/map.svg", s.picture)
	mux.HandleFunc("GET /run/{run}/relief.png", s.reliefImage)
	mux.HandleFunc("GET /run/{run}/zone/{zone}", s.zone)
	mux.HandleFunc("GET /run/{run}/file/{name}", s.file)
	mux.HandleFunc("GET /run/{run}/record", s.runRecord)
	mux.HandleFunc("GET /run/{run}/field/{field}/record", s.fieldRecord)
	mux.HandleFunc("POST /run/{run}/field/{field}/record", s.addRecord)
	mux.HandleFunc("GET /run/{run}/field/{field}/record/{line}", s.recordLine)
	mux.HandleFunc("POST /run/{run}/field/{field}/record/{line}", s.correctLine)
	mux.HandleFunc("POST /run/{run}/field/{field}/record/{line}/out", s.takeLineOut)
	mux.HandleFunc("GET /run/{run}/plan", s.runPlan)
	mux.HandleFunc("GET /run/{run}/plan/{name}", s.planFile)
	mux.HandleFunc("POST /run/{run}/plan/plan.ics", s.updateCalendar)
	mux.HandleFunc("GET /run/{run}/field/{field}/plan", s.fieldPlan)
	mux.HandleFunc("GET /run/{run}/chances", s.runChances)
	mux.HandleFunc("GET /run/{run}/field/{field}/chances", s.fieldChances)
	s.exportRoutes(mux)
	mux.HandleFunc("GET /run/{run}/ranking", s.ranking)
	mux.HandleFunc("GET /run/{run}/ranking/{name}", s.rankFile)
	mux.HandleFunc("GET /run/{run}/field/{field}/letter", s.letter)
	mux.HandleFunc("GET /run/{run}/money", s.moneyOf)
	mux.HandleFunc("GET /run/{run}/money/{name}", s.moneyFile)
	mux.HandleFunc("GET /compare", s.compare)
	mux.HandleFunc("GET /compare/changes.csv", s.compareFile)
	mux.HandleFunc("GET /task/{task}", s.task)
	mux.HandleFunc("POST /task/{task}/cancel", s.cancel)
	mux.HandleFunc("POST /read", s.read)
	mux.HandleFunc("POST /screen", s.screen)
	mux.Handle("GET /assets/", assets())
	return s.guard(mux)
}
