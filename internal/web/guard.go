package web

import (
	"crypto/subtle"
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
		case r.Method == http.MethodPost && !s.trusted(w, r):
			http.Error(w, "this page is from an earlier start of the program; load it again", http.StatusForbidden)
		default:
			next.ServeHTTP(w, r)
		}
	})
}

// mostForm is how large a form may be that a page sends without a script.
const mostForm = 64 << 10

// trusted says whether a change was asked for by a page of this process: the token stands in the header, or in the form.
func (s *Server) trusted(w http.ResponseWriter, r *http.Request) bool {
	token := r.Header.Get(tokenHeader)
	if kind, _, err := mime.ParseMediaType(r.Header.Get("Content-Type")); token == "" && err == nil && kind == "application/x-www-form-urlencoded" {
		r.Body = http.MaxBytesReader(w, r.Body, mostForm)
		if r.ParseForm() != nil {
			return false
		}
		token = r.PostForm.Get("token")
	}
	return subtle.ConstantTimeCompare([]byte(token), []byte(s.token)) == 1
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
