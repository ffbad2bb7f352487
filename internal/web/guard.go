package web

import (
	"crypto/subtle"
	"errors"
	"fmt"
	"mime"
	"net"
	"net/http"
	"net/url"
	"strconv"
)

// policy lets a page load what this server serves and nothing else, and send nothing anywhere. Neither script nor style
// may stand in the page itself. Forms go to this server alone.
const policy = "default-src 'none'; script-src 'self'; style-src 'self'; worker-src 'self'; img-src 'self' data: blob:; " +
	"connect-src 'self'; base-uri 'none'; form-action 'self'; frame-ancestors 'none'"

// tokenHeader carries the token; no page of another site can set it without asking first, and asking is refused.
const tokenHeader = "X-Rootworthy-Token"

// guard refuses whatever another site could have sent: a foreign Host (a name that was made to lead here), a foreign
// Origin, a change without the token.
func (s *Server) guard(next http.Handler) http.Handler {
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		h := w.Header()
		h.Set("Content-Security-Policy", policy)
		h.Set("X-Content-Type-Options", "nosniff")
		h.Set("Referrer-Policy", "same-origin") // with no-referrer a browser sends forms with the Origin "null"
		h.Set("Cross-Origin-Resource-Policy", "same-origin")
		h.Set("Cross-Origin-Opener-Policy", "same-origin")
		h.Set("Cache-Control", "no-store")
		port := portOf(r)
		switch {
		case !ownHost(r.Host, port):
			http.Error(w, "this page answers only to its own address on this machine", http.StatusMisdirectedRequest)
		case r.Method != http.MethodGet && r.Method != http.MethodHead && r.Method != http.MethodPost:
			http.Error(w, "only GET, HEAD and POST are known here", http.StatusMethodNotAllowed)
		case r.Header.Get("Origin") != "" && !ownOrigin(r.Header.Get("Origin"), port):
			http.Error(w, "this comes from a page of another site", http.StatusForbidden)
		case r.Header.Get("Sec-Fetch-Site") == "cross-site" && r.Header.Get("Sec-Fetch-Mode") != "navigate":
			// a picture or script of another site: it could read nothing, but files take work to make
			http.Error(w, "this comes from a page of another site", http.StatusForbidden)
		case r.Method == http.MethodPost:
			s.trusted(next, w, r)
		default:
			next.ServeHTTP(w, r)
		}
	})
}

// mostForm is how large a form may be that a page sends without a script.
const mostForm = 64 << 10

// trusted lets a change through that was asked for by a page of this process: the token stands in the header, or in the form.
func (s *Server) trusted(next http.Handler, w http.ResponseWriter, r *http.Request) {
	token := r.Header.Get(tokenHeader)
	kind, _, err := mime.ParseMediaType(r.Header.Get("Content-Type"))
	switch {
	case token != "" || err != nil: // with a header the body is left for whom it is meant
		err = nil
	case kind == "application/x-www-form-urlencoded":
		r.Body = http.MaxBytesReader(w, r.Body, mostForm)
		err = r.ParseForm()
	case kind == "multipart/form-data": // a file without a script
		r.Body = http.MaxBytesReader(w, r.Body, mostCalendar)
		err = r.ParseMultipartForm(mostCalendar) // all of it in memory: nothing is put on the disk
	}
	if tooLarge := (*http.MaxBytesError)(nil); errors.As(err, &tooLarge) {
		http.Error(w, fmt.Sprintf("that is more than %d kB; a page takes no more here", tooLarge.Limit>>10), http.StatusRequestEntityTooLarge)
		return
	}
	if token == "" && err == nil {
		token = r.PostForm.Get("token")
	}
	if subtle.ConstantTimeCompare([]byte(token), []byte(s.token)) != 1 {
		http.Error(w, "this page is from an earlier start of the program; load it again", http.StatusForbidden)
		return
	}
	next.ServeHTTP(w, r)
}

// portOf is the port at which the request came in; 0 where that is not known.
func portOf(r *http.Request) int {
	if a, ok := r.Context().Value(http.LocalAddrContextKey).(*net.TCPAddr); ok {
		return a.Port
	}
	return 0
}

// ownHost says whether a Host header names this server on loopback.
func ownHost(host string, port int) bool {
	p := strconv.Itoa(port)
	for _, name := range []string{"127.0.0.1", "localhost", "::1"} {
		if host == net.JoinHostPort(name, p) {
			return true
		}
	}
	return false
}

func ownOrigin(origin string, port int) bool {
	u, err := url.Parse(origin)
	return err == nil && u.Scheme == "http" && ownHost(u.Host, port)
}
