package web

import (
	"net/http"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// What another site could send is refused: another name for this machine, another origin, a change without the token.
func TestGuardRefusesWhatOtherSitesCanSend(t *testing.T) {
	s := serve(t, nil)
	host := strings.TrimPrefix(s.base, "http://")
	port := host[strings.LastIndexByte(host, ':'):]
	for name, c := range map[string]struct {
		method string
		change func(*http.Request)
		want   int
	}{
		"own address":            {http.MethodGet, func(*http.Request) {}, 200},
		"localhost":              {http.MethodGet, func(r *http.Request) { r.Host = "localhost" + port }, 200},
		"a name that leads here": {http.MethodGet, func(r *http.Request) { r.Host = "farm.example" + port }, 421},
		"another port":           {http.MethodGet, func(r *http.Request) { r.Host = "127.0.0.1:1" }, 421},
		"no port":                {http.MethodGet, func(r *http.Request) { r.Host = "127.0.0.1" }, 421},
		"another origin":         {http.MethodGet, func(r *http.Request) { r.Header.Set("Origin", "http://farm.example") }, 403},
		"no origin at all":       {http.MethodGet, func(r *http.Request) { r.Header.Set("Origin", "null") }, 403},
		"https of this address":  {http.MethodGet, func(r *http.Request) { r.Header.Set("Origin", "https://"+host) }, 403},
		"own origin":             {http.MethodGet, func(r *http.Request) { r.Header.Set("Origin", s.base) }, 200},
		"change without token":   {http.MethodPost, func(*http.Request) {}, 403},
		"change, wrong token":    {http.MethodPost, func(r *http.Request) { r.Header.Set(tokenHeader, "x") }, 403},
		"token, foreign origin": {http.MethodPost, func(r *http.Request) {
			r.Header.Set(tokenHeader, s.server.token)
			r.Header.Set("Origin", "http://farm.example")
		}, 403},
		"a picture on another site": {http.MethodGet, func(r *http.Request) {
			r.Header.Set("Sec-Fetch-Site", "cross-site")
			r.Header.Set("Sec-Fetch-Mode", "no-cors")
		}, 403},
		"a link on another site": {http.MethodGet, func(r *http.Request) {
			r.Header.Set("Sec-Fetch-Site", "cross-site")
			r.Header.Set("Sec-Fetch-Mode", "navigate")
		}, 200},
		"DELETE":                               {http.MethodDelete, func(r *http.Request) { r.Header.Set(tokenHeader, s.server.token) }, 405},
		"OPTIONS, as before a foreign request": {http.MethodOptions, func(r *http.Request) { r.Header.Set("Origin", "http://farm.example") }, 405},
	} {
		code, header, _ := s.ask(c.method, "/", nil, c.change)
		if code != c.want {
			t.Errorf("%s: %d, want %d", name, code, c.want)
		}
		if header.Get("Access-Control-Allow-Origin") != "" || header.Get("X-Content-Type-Options") != "nosniff" || header.Get("Content-Security-Policy") != policy {
			t.Errorf("%s: headers %v", name, header)
		}
	}
	if strings.Contains(policy, "unsafe") {
		t.Error("the policy allows something unsafe")
	}
}

// Nothing but the listed files can be had: no path of a browser reaches the file system.
func TestNoPathLeadsToTheFileSystem(t *testing.T) {
	s := serve(t, nil)
	secret := filepath.Join(t.TempDir(), "secret.txt")
	if err := os.WriteFile(secret, []byte("sesame"), 0o600); err != nil {
		t.Fatal(err)
	}
	for _, path := range []string{"/run/1/file/..%2f..%2fsecret.txt", "/run/1/file/" + strings.ReplaceAll(secret, "/", "%2f"), "/run/1/file/run.json%00", "/run/1/file/",
		"/assets/../server.go", "/assets/..%2ftemplates%2frun.html", "/assets/", "/assets/maplibre", "/assets/maplibre/", "/run/0/", "/run/2/", "/run/x/", "/run/1/zone/-1", "/run/1/zone/999",
		"/run/1/zone/1e3", "/task/1", "/compare", "/compare?a=1&b=9"} {
		if code, text := s.get(path); code < 400 || strings.Contains(text, "sesame") {
			t.Errorf("%s: %d", path, code)
		}
	}
	code, header, _ := s.ask(http.MethodGet, "/assets/run.mjs", nil, nil)
	if code != 200 || header.Get("Content-Type") != "text/javascript; charset=utf-8" {
		t.Errorf("a module comes as %d %s", code, header.Get("Content-Type"))
	}
	if code, text := s.get("/assets/maplibre/LICENSE.txt"); code != 200 || !strings.Contains(text, "MapLibre contributors") {
		t.Error("the licence of the map library is not served")
	}
}

// Every page carries the token and stands under the policy: no script, style or handler in the page itself.
func TestPagesHoldNoScriptOrStyle(t *testing.T) {
	s := serve(t, nil)
	for _, path := range []string{"/", "/run/1/", "/runs", "/run/1/zone/0", "/compare?a=1&b=1", "/run/1/?class=unsuited&sort=-lime&depth.suited=90"} {
		code, text := s.get(path)
		if code != 200 {
			t.Errorf("%s: %d", path, code)
		}
		for _, bad := range []string{"<style", " style=", " onclick=", "javascript:", "<script>", "http://www.w3.org/1999/xlink"} {
			if strings.Contains(text, bad) {
				t.Errorf("%s holds %q", path, bad)
			}
		}
		for _, outside := range []string{`src="http`, `href="http`, `src="//`, `href="//`} {
			if strings.Contains(text, outside) {
				t.Errorf("%s asks for something elsewhere: %q", path, outside)
			}
		}
	}
}
