package soildata

import (
	"context"
	"errors"
	"fmt"
	"io"
	"net/http"
	"net/http/httptrace"
	"net/netip"
	"net/url"
	"strings"
)

// service asks one question after the other.
type service struct {
	base   *url.URL
	client *http.Client
	opt    Options
}

// newService checks the address: TLS everywhere but on this machine itself, and no way around its checks.
func newService(opt Options) (*service, error) {
	base, err := parseBase(opt.BaseURL)
	if err != nil {
		return nil, err
	}
	t := opt.Client
	if t == nil {
		// a copy, since others may set up the shared one
		t = http.DefaultTransport.(*http.Transport).Clone() // proxies from the environment
	}
	if t.TLSClientConfig != nil && t.TLSClientConfig.InsecureSkipVerify {
		return nil, errors.New("the identity of the service must be checked")
	}
	s := &service{base: base, opt: opt}
	s.client = &http.Client{Transport: t, Timeout: opt.Timeout, CheckRedirect: s.redirect}
	return s, nil
}

// CheckURL says whether an address can be that of the service: https, or http on this machine itself.
func CheckURL(address string) error {
	_, err := parseBase(address)
	return err
}

// parseBase reads the address and refuses one that would send boundaries in the clear.
func parseBase(address string) (*url.URL, error) {
	u, err := url.Parse(address)
	switch {
	case err != nil:
		return nil, fmt.Errorf("base URL %q is not an address", clip(address))
	// a password in an address would end in logs and messages
	case u.Host == "" || u.User != nil || u.Fragment != "" || u.Scheme != "https" && u.Scheme != "http":
		return nil, fmt.Errorf("base URL %q is not an address like %s", clip(address), DefaultURL)
	case u.Scheme == "http" && !loopback(u.Hostname()):
		return nil, fmt.Errorf("base URL %q does not protect what is sent; use https", clip(address))
	}
	return u, nil
}

// loopback says whether a host is this machine, by its number or its one agreed name.
func loopback(host string) bool {
	ip, err := netip.ParseAddr(host)
	return strings.EqualFold(host, "localhost") || err == nil && ip.IsLoopback()
}

// redirect follows the service to another path of its own and nowhere else, and only if the query goes along.
func (s *service) redirect(req *http.Request, via []*http.Request) error {
	switch {
	// boundaries go to the host that was announced and to no other
	case req.URL.Host != s.base.Host || req.URL.Scheme != s.base.Scheme:
		return &failure{what: fmt.Sprintf("sends on to another host, %s, which was not followed; "+
			"if that is where it moved, give its address as the base URL", clip(req.URL.Scheme+"://"+req.URL.Host))}
	// Go turns a POST into a GET on most redirects, and the query would be lost.
	case req.Method != http.MethodPost || len(via) > 3:
		return &failure{what: "sends on to an address that does not take queries; give the right one as the base URL"}
	}
	return nil
}

// via names the proxy that questions go through, empty when there is none.
func (s *service) via() string {
	t, ok := s.client.Transport.(*http.Transport)
	if !ok || t.Proxy == nil {
		return ""
	}
	req, err := http.NewRequest(http.MethodPost, s.base.String(), nil)
	if err != nil {
		return ""
	}
	// The host alone: the address of a proxy may hold a password.
	if p, err := t.Proxy(req); err == nil && p != nil {
		return p.Host
	}
	return ""
}

// once asks once and returns the body of an answer proper. The error is a *failure or of the context.
func (s *service) once(ctx context.Context, query string) ([]byte, error) {
	// a connection that was made and broke may pass, one that could not be made will not
	connected := false
	traced := httptrace.WithClientTrace(ctx, &httptrace.ClientTrace{GotConn: func(httptrace.GotConnInfo) { connected = true }})
	// With the names of the columns in the answer, so that a change of their order cannot go unnoticed.
	form := url.Values{"query": {query}, "format": {"JSON+COLUMNNAME"}}.Encode()
	req, err := http.NewRequestWithContext(traced, http.MethodPost, s.base.String(), strings.NewReader(form))
	if err != nil {
		return nil, err
	}
	req.Header.Set("Content-Type", "application/x-www-form-urlencoded")
	req.Header.Set("Accept", "application/json")
	// a public service should see who asks, and for what
	req.Header.Set("User-Agent", s.opt.Program+" (soil survey fetch)")
	resp, err := s.client.Do(req)
	if err != nil {
		return nil, judgeError(ctx, err, connected)
	}
	defer resp.Body.Close()
	// a byte more than allowed, to tell too much from just enough
	body, err := io.ReadAll(io.LimitReader(resp.Body, s.opt.limits.bytes+1))
	if err != nil {
		return nil, judgeError(ctx, err, true)
	}
	// status and body together: this service sends pages with status 200
	if f := judgeStatus(resp.StatusCode, resp.Header, body); f != nil {
		return nil, f
	}
	if int64(len(body)) > s.opt.limits.bytes {
		return nil, &failure{verdict: tooMuch, what: fmt.Sprintf("answered with more than %d MB", s.opt.limits.bytes>>20)}
	}
	return body, nil
}

// judgeError judges a question that got no answer at all. What breaks before there is a connection (no network, no
// such host, a wrong certificate) will not pass by itself within minutes.
func judgeError(ctx context.Context, err error, connected bool) error {
	var f *failure
	var u *url.Error
	timeout := errors.As(err, &u) && u.Timeout() || errors.Is(err, context.DeadlineExceeded)
	if errors.As(err, &u) {
		err = u.Err // without the address, which messages name already
	}
	switch {
	// First of all: whatever broke while the user stopped the program broke because of that.
	case ctx.Err() != nil:
		return context.Cause(ctx)
	case errors.As(err, &f):
		return f
	case timeout:
		return &failure{verdict: passing, what: "did not answer in time", err: err}
	case connected:
		return &failure{verdict: passing, what: fmt.Sprintf("broke off: %v", err), err: err}
	}
	return &failure{what: fmt.Sprintf("cannot be reached: %v", err), err: err}
}
