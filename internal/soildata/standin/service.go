package standin

import (
	"encoding/json"
	"fmt"
	"io/fs"
	"net/http"
	"strings"
	"sync"
)

// Service is the stand-in. Its fields are set while no request is under way.
type Service struct {
	MaxRows int                                                      // an answer with more rows is refused; 0 means 100,000
	Before  func(n int, w http.ResponseWriter, r *http.Request) bool // may answer the n-th request (from 1) itself and return true

	tables map[string]*relation

	// guards all below, and the tables while they are changed or read
	mu      sync.Mutex
	queries []string
	agents  []string
}

// New reads the tables and polygons of an export that holds one survey area or several.
func New(fsys fs.FS) (*Service, error) {
	tables, err := load(fsys)
	return &Service{tables: tables}, err
}

// Queries returns the queries that came, in order.
func (s *Service) Queries() []string {
	s.mu.Lock()
	defer s.mu.Unlock()
	return append([]string(nil), s.queries...)
}

// Agents returns the User-Agent of every request.
func (s *Service) Agents() []string {
	s.mu.Lock()
	defer s.mu.Unlock()
	return append([]string(nil), s.agents...)
}

// Set changes every value of a column, as a renewed survey would; Before may call it.
func (s *Service) Set(table, column, value string) {
	s.mu.Lock()
	defer s.mu.Unlock()
	t := s.tables[table]
	for _, row := range t.rows {
		row[t.at[column]] = &value
	}
}

// note remembers a request and returns its number.
func (s *Service) note(query, agent string) int {
	s.mu.Lock()
	defer s.mu.Unlock()
	s.queries, s.agents = append(s.queries, query), append(s.agents, agent)
	return len(s.queries)
}

// ServeHTTP answers a query in the form JSON+COLUMNNAME.
func (s *Service) ServeHTTP(w http.ResponseWriter, r *http.Request) {
	query, format := r.PostFormValue("query"), r.PostFormValue("format")
	// Without the lock, so that Before may call Set.
	if n := s.note(query, r.UserAgent()); s.Before != nil && s.Before(n, w, r) {
		return
	}
	s.mu.Lock()
	defer s.mu.Unlock()
	if r.Method != http.MethodPost || format != "JSON+COLUMNNAME" {
		http.Error(w, "POST a query in JSON+COLUMNNAME", http.StatusMethodNotAllowed)
		return
	}
	columns, rows, err := s.run(query)
	most := s.MaxRows
	if most == 0 {
		most = 100_000
	}
	if err == nil && len(rows) > most {
		// The service's own words are not known: these hold those that the program looks for.
		err = fmt.Errorf("the result exceeds the maximum of %d rows", most)
	}
	if err != nil {
		w.Header().Set("Content-Type", "text/xml")
		w.WriteHeader(http.StatusBadRequest)
		fmt.Fprintf(w, `<?xml version="1.0"?><ServiceExceptionReport><ServiceException>Invalid query: %s</ServiceException></ServiceExceptionReport>`,
			strings.NewReplacer("<", "&lt;", "&", "&amp;").Replace(err.Error()))
		return
	}
	w.Header().Set("Content-Type", "application/json; charset=utf-8")
	if len(rows) == 0 {
		// No table at all, not even the names of columns: so the service says that nothing matched.
		fmt.Fprint(w, "{}")
		return
	}
	table := make([][]*string, 0, len(rows)+1)
	header := make([]*string, len(columns))
	for i := range columns {
		// The first row of the table is the names of its columns.
		header[i] = &columns[i]
	}
	json.NewEncoder(w).Encode(map[string]any{"Table": append(append(table, header), rows...)})
}
