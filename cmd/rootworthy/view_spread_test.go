package main

import (
	"bytes"
	"context"
	"io"
	"net/http"
	"net/url"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// testedRun screens the demonstration with a bag of every zone that can be limed.
func testedRun(t *testing.T) string {
	t.Helper()
	dir := t.TempDir()
	at := func(name string) string { return filepath.Join(dir, name) }
	commanded(t, "demo", "--out", dir)
	var lines strings.Builder
	lines.WriteString("zone_id,sample_id,top_cm,bottom_cm,date,ph_water,lbc_ppm_ph,lab\n")
	for i, z := range []string{"F1/1", "F1/2", "F2/1", "F6/1", "F6/2", "F7/1"} {
		lines.WriteString(z + "," + strings.ReplaceAll(z, "/", "-") + ",0,15,2026-01-14," + []string{"5.4", "4.9"}[i%2] + ",300,Tarn Lab\n")
	}
	if err := os.WriteFile(at("lab.csv"), []byte(lines.String()), 0o644); err != nil {
		t.Fatal(err)
	}
	commanded(t, "screen", at("fields.geojson"), "--survey", at("survey"), "--farm", "farm", "--state", "GA", "--tests", at("lab.csv"), "--lime-method", "georgia-lbc", "--out", at("tested"))
	return at("tested")
}

// The page makes for a spreader what spread makes with the same flags, to the byte, and tells what will come of it.
func TestTaskDataForASpreader(t *testing.T) {
	tested := testedRun(t)
	get := viewed(t, tested)
	var last []byte
	for _, typed := range [][2]string{{"width", "18m"}, {"hopper", "8"}, {"min-rate", "1.2"}, {"max-rate", "0.8"}, {"rate-step", "0.3"}, {"smallest", "30"}, {"zones", "grid1"}, {"zones", "polygons"}, {"taskdata-version", "4"}} {
		out := filepath.Join(t.TempDir(), "spread")
		commanded(t, "spread", tested, "--layout", "zip", "--out", out, "--"+typed[0], typed[1])
		q := "?" + url.Values{typed[0]: {typed[1]}, "max-rate": {map[bool]string{true: typed[1]}[typed[0] == "max-rate"]}}.Encode() // an empty field is as none
		differs := false
		for _, name := range []string{"TASKDATA.zip", "load-sheet.html", "load-sheet.txt"} {
			want, err := os.ReadFile(filepath.Join(out, name))
			if err != nil {
				t.Fatal(err)
			}
			a, got := get("run/1/spread/" + name + q)
			if a.StatusCode != http.StatusOK || !bytes.Equal(got, want) {
				t.Errorf("%s, %s: %d, %d bytes, spread writes %d", typed, name, a.StatusCode, len(got), len(want))
			}
			_, usual := get("run/1/spread/" + name)
			differs = differs || !bytes.Equal(usual, got)
		}
		if !differs {
			t.Errorf("%s changes nothing: the test shows nothing", typed)
		}
		if _, page := get("run/1/spread" + q); bytes.Equal(page, last) || !strings.Contains(htmlText(string(page)), "spread/TASKDATA.zip?"+url.Values{typed[0]: {typed[1]}}.Encode()) {
			t.Errorf("%s: the page does not lead to its files", typed)
		} else {
			last = page
		}
	}
}

// What cannot be meant is told in the words of spread, beside its field; a number that is none by name.
func TestSpreadersThatCannotBe(t *testing.T) {
	tested := testedRun(t)
	get := viewed(t, tested)
	for _, typed := range [][2]string{{"width", "wide"}, {"width", "500"}, {"min-rate", "21"}, {"max-rate", "-1"}, {"rate-step", "30"}, {"smallest", "101"}, {"zones", "dots"}, {"taskdata-version", "5"}, {"hopper", "1000"}} {
		var said bytes.Buffer
		code := run(context.Background(), []string{"spread", tested, "--out", filepath.Join(t.TempDir(), "none"), "--" + typed[0], typed[1]}, stdio{strings.NewReader(""), io.Discard, &said})
		if code != exitUsage {
			t.Fatalf("%s: exit code %d", typed, code)
		}
		what := strings.TrimSpace(strings.TrimPrefix(said.String(), "rootworthy: "))
		q := "?" + url.Values{typed[0]: {typed[1]}}.Encode()
		if a, body := get("run/1/spread/TASKDATA.zip" + q); a.StatusCode != http.StatusBadRequest || !strings.Contains(htmlText(string(body)), what) {
			t.Errorf("%s: %d; spread says %q", typed, a.StatusCode, what)
		}
		a, page := get("run/1/spread" + q)
		if a.StatusCode != http.StatusUnprocessableEntity || !strings.Contains(string(page), `id="sw-`+typed[0]+`"`) || strings.Contains(string(page), "spread/TASKDATA.zip") {
			t.Errorf("%s: the page answers %d, and does not tell the fault beside its field", typed, a.StatusCode)
		}
	}
	if _, page := get("run/1/spread?rate-step=half"); !strings.Contains(htmlText(string(page)), `"half" is not a number`) {
		t.Error("a step that is no number")
	}
	if _, page := get("run/1/spread?min-rate=3&max-rate=2"); !strings.Contains(string(page), "The least rate is over the highest.") {
		t.Error("a least rate over the highest")
	}
}
