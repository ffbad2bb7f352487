package main

import (
	"bytes"
	"mime/multipart"
	"net/http"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
)

// A calendar that was loaded before is brought up to date by the page as by planning into its folder, to the byte.
func TestCalendarOfThePageIsBroughtUpToDate(t *testing.T) {
	dir := t.TempDir()
	at := func(name string) string { return filepath.Join(dir, name) }
	read := func(name string) []byte {
		t.Helper()
		text, err := os.ReadFile(at(name))
		if err != nil {
			t.Fatal(err)
		}
		return text
	}
	commanded(t, "demo", "--out", dir)
	commanded(t, "plan", at("run"), "--out", at("plan"), "--region", "coastal-plain", "--date", "2026-03-01")
	first := read("plan/plan.ics")
	commanded(t, "plan", at("run"), "--out", at("plan"), "--region", "piedmont", "--date", "2026-05-01")
	second := read("plan/plan.ics")
	if !bytes.Contains(second, []byte("SEQUENCE:1")) || bytes.Contains(first, []byte("SEQUENCE:1")) {
		t.Fatal("the second plan changes nothing: the test shows nothing")
	}
	get := viewed(t, at("run"))
	const path = "run/1/plan/plan.ics?date=2026-05-01&region=piedmont"
	_, page := get("run/1/plan?region=piedmont&date=2026-05-01")
	token := regexp.MustCompile(`name="token" value="([^"]+)"`).FindSubmatch(page)
	if token == nil || !strings.Contains(htmlText(string(page)), path) {
		t.Fatalf("the page has no form for an earlier calendar: %.300s", page)
	}
	a, _ := get("run/1/plan")
	bring := func(token, name string, text []byte) (int, []byte) {
		t.Helper()
		var b bytes.Buffer
		m := multipart.NewWriter(&b)
		m.WriteField("token", token)
		if w, err := m.CreateFormFile("former", name); err == nil && name != "" {
			w.Write(text)
		}
		m.Close()
		answer, err := http.Post(a.Request.URL.Scheme+"://"+a.Request.URL.Host+"/"+path, m.FormDataContentType(), &b)
		if err != nil {
			t.Fatal(err)
		}
		defer answer.Body.Close()
		var body bytes.Buffer
		if _, err := body.ReadFrom(answer.Body); err != nil {
			t.Fatal(err)
		}
		return answer.StatusCode, body.Bytes()
	}
	if code, got := bring(string(token[1]), "plan.ics", first); code != http.StatusOK || !bytes.Equal(got, second) {
		t.Errorf("%d, %d bytes; the command writes %d", code, len(got), len(second))
	}
	if code, got := bring(string(token[1]), "plan.ics", second); code != http.StatusOK || !bytes.Equal(got, second) {
		t.Errorf("brought up to date twice: %d, %d bytes, want the same file", code, len(got))
	}
	// A calendar with ids of its own, as another program or another farm would have: bringing that up to date would call off every entry of
	// it.
	foreign := bytes.ReplaceAll(first, []byte("UID:"), []byte("UID:another-"))
	for name, c := range map[string]struct {
		token, file string
		text        []byte
		code        int
		says        string
	}{
		"another farm's": {string(token[1]), "plan.ics", foreign, 422, "none of its entries is about a step of this plan"},
		"no calendar":    {string(token[1]), "lab.csv", []byte("field_id,ph\n"), 422, "is no calendar file"},
		"half of it":     {string(token[1]), "plan.ics", first[:len(first)/2], 422, "plan.ics:"},
		"none":           {string(token[1]), "", nil, 422, "choose the plan.ics that you loaded last"},
		"no token":       {"", "plan.ics", first, 403, ""},
		"too large":      {string(token[1]), "plan.ics", bytes.Repeat(first, 16<<20/len(first)+1), 413, "more than 16384 kB"},
	} {
		if code, body := bring(c.token, c.file, c.text); code != c.code || !strings.Contains(htmlText(string(body)), c.says) {
			t.Errorf("%s: %d, want %d and %q: %.200s", name, code, c.code, c.says, body)
		}
	}
}
