package main

import (
	"bytes"
	"context"
	"html"
	"io"
	"net/http"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"rootworthy/export/exchange"
)

// What the page gives away has the bytes that the command line writes: every format, every report, of a run in a folder
// and of one that the page made and never wrote.
func TestExportsOfThePageAreThoseOfTheCommands(t *testing.T) {
	dir := t.TempDir()
	at := func(name string) string { return filepath.Join(dir, name) }
	commanded(t, "demo", "--out", dir)
	screen := []string{at("fields.geojson"), "--survey", at("survey"), "--customer", "owner", "--farm", "farm", "--date", "2026-03-01", "--region", "coastal plain", "--state", "GA"}
	commanded(t, append([]string{"screen", "--out", at("typed")}, screen...)...)
	commanded(t, "convert", at("typed"), "--to", "all", "--out", at("all"))
	commanded(t, "report", at("typed"), "--out", at("letter"))
	commanded(t, "report", at("typed"), "--out", at("a4"), "--paper", "a4")
	for name, args := range map[string][]string{"a folder": {at("typed")}, "in memory": screen} {
		get := viewed(t, args...)
		// A run that the page makes itself is not there at once; asking again is all a browser could do.
		for range 1000 {
			if a, _ := get("run/1/"); a.StatusCode == http.StatusOK {
				break
			}
		}
		same := func(path, file string) {
			t.Helper()
			want, err := os.ReadFile(file)
			if err != nil {
				t.Fatal(err)
			}
			a, got := get(path)
			if a.StatusCode != http.StatusOK || !bytes.Equal(got, want) {
				t.Errorf("%s, %s: %d, %d bytes, the command writes %d", name, path, a.StatusCode, len(got), len(want))
			}
			if d := a.Header.Get("Content-Disposition"); d != `attachment; filename="`+path[strings.LastIndex(path, "/")+1:]+`"` {
				t.Errorf("%s, %s: disposition %q", name, path, d)
			}
			if k := a.Header.Get("Content-Type"); k == "" || strings.HasSuffix(path, ".pdf") && k != "application/pdf" {
				t.Errorf("%s, %s: type %q", name, path, k)
			}
		}
		for _, f := range exchange.Formats() {
			for _, file := range f.Files() {
				same("run/1/as/"+f.Name+"/"+file, filepath.Join(at("all"), file))
			}
		}
		for _, reader := range readers() {
			same("run/1/report/"+reader+".html", filepath.Join(at("letter"), reader+".html"))
			same("run/1/report/"+reader+".pdf", filepath.Join(at("letter"), reader+".pdf"))
			same("run/1/report/"+reader+"-a4.pdf", filepath.Join(at("a4"), reader+".pdf"))
		}
		// A file of another format, a format or reader that is not there, a name cut short, a file of the run that is not given away, and a
		// way out of the folder.
		for _, wrong := range []string{"as/shapefile/zones.gpkg", "as/none/zones.csv", "report/nobody.pdf", "report/landowner", "report/.pdf", "spread/run.json", "as/csv/..%2Frun.json"} {
			if a, _ := get("run/1/" + wrong); a.StatusCode != http.StatusNotFound {
				t.Errorf("%s: %d", wrong, a.StatusCode)
			}
		}
	}
}

// With heights the reports of the page have the relief that report --elevation draws.
func TestReportsOfThePageWithRelief(t *testing.T) {
	dir := t.TempDir()
	at := func(name string) string { return filepath.Join(dir, name) }
	commanded(t, "demo", "--out", dir)
	hills := []string{"--elevation", hillFile(t, -78.212, 32.625, 15), "--elevation-unit", "m"}
	commanded(t, append([]string{"report", at("run"), "--for", "landowner", "--out", at("shaded")}, hills...)...)
	want, err := os.ReadFile(at("shaded/landowner.html"))
	if err != nil {
		t.Fatal(err)
	}
	get := viewed(t, append([]string{at("run")}, hills...)...)
	if a, got := get("run/1/report/landowner.html"); a.StatusCode != http.StatusOK || !bytes.Equal(got, want) {
		t.Errorf("%d, %d bytes, the command writes %d", a.StatusCode, len(got), len(want))
	}
	if !bytes.Contains(want, []byte("Heights are taken")) {
		t.Error("the report has no relief: the test shows nothing")
	}
}

// Task data are given where rates rest on tests, with the bytes of spread; else the page refuses in the words of spread.
func TestTaskDataOfThePage(t *testing.T) {
	dir := t.TempDir()
	at := func(name string) string { return filepath.Join(dir, name) }
	commanded(t, "demo", "--out", dir)
	var said bytes.Buffer
	if code := run(context.Background(), []string{"spread", at("run"), "--out", at("none")}, stdio{strings.NewReader(""), io.Discard, &said}); code != exitCould {
		t.Fatalf("spread of a survey: exit code %d", code)
	}
	refusal := strings.TrimSpace(said.String())
	refusal = refusal[strings.Index(refusal, "the rates of zones"):]
	get := viewed(t, at("run"))
	if _, page := get("run/1/"); !strings.Contains(htmlText(string(page)), refusal) {
		t.Errorf("the page does not say %q", refusal)
	}
	if a, body := get("run/1/spread/TASKDATA.zip"); a.StatusCode != http.StatusUnprocessableEntity || !strings.Contains(htmlText(string(body)), refusal) {
		t.Errorf("asked for all the same: %d %s", a.StatusCode, body)
	}

	var lines strings.Builder
	lines.WriteString("zone_id,sample_id,top_cm,bottom_cm,date,ph_water,lbc_ppm_ph,lab\n")
	for _, z := range []string{"F1/1", "F1/2", "F2/1", "F6/1", "F6/2", "F7/1"} {
		lines.WriteString(z + "," + strings.ReplaceAll(z, "/", "-") + ",0,15,2026-01-14,5.4,300,Tarn Lab\n")
	}
	if err := os.WriteFile(at("lab.csv"), []byte(lines.String()), 0o644); err != nil {
		t.Fatal(err)
	}
	commanded(t, "screen", at("fields.geojson"), "--survey", at("survey"), "--farm", "farm", "--state", "GA", "--tests", at("lab.csv"), "--lime-method", "georgia-lbc", "--out", at("tested"))
	commanded(t, "spread", at("tested"), "--layout", "zip", "--out", at("spread"))
	get = viewed(t, at("tested"))
	for _, name := range []string{"TASKDATA.zip", "load-sheet.html", "load-sheet.txt"} {
		want, err := os.ReadFile(filepath.Join(at("spread"), name))
		if err != nil {
			t.Fatal(err)
		}
		if a, got := get("run/1/spread/" + name); a.StatusCode != http.StatusOK || !bytes.Equal(got, want) {
			t.Errorf("%s: %d, %d bytes, spread writes %d", name, a.StatusCode, len(got), len(want))
		}
	}
}

// htmlText undoes the escapes of a page.
func htmlText(s string) string { return html.UnescapeString(s) }
