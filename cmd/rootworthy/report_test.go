package main

import (
	"context"
	"encoding/json"
	"io"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"
)

// fileZone is a zone as zones.geojson has it.
type fileZone struct {
	ID      string   `json:"zone_id"`
	Field   string   `json:"field_id"`
	Number  int      `json:"zone"`
	Class   string   `json:"class"`
	Acres   float64  `json:"area_ac"`
	Hectare float64  `json:"area_ha"`
	Low     *float64 `json:"lime_low_st_ac"`
	Lime    *float64 `json:"lime_st_ac"`
	High    *float64 `json:"lime_high_st_ac"`
	PerHa   *float64 `json:"lime_t_ha"`
}

// demoReports screens the demo farm, makes all reports, and returns their folder with the zones of the file.
func demoReports(t *testing.T) (dir string, zones []fileZone) {
	t.Helper()
	dir = t.TempDir()
	quiet := stdio{strings.NewReader(""), io.Discard, os.Stderr}
	for _, args := range [][]string{{"demo", "--out", dir + "/demo"}, {"report", dir + "/demo/run", "--out", dir + "/report"}} {
		if code := run(context.Background(), args, quiet); code != exitDone {
			t.Fatalf("%v: exit code %d", args, code)
		}
	}
	b, err := os.ReadFile(dir + "/demo/run/zones.geojson")
	if err != nil {
		t.Fatal(err)
	}
	var all struct {
		Features []struct {
			Properties fileZone `json:"properties"`
		} `json:"features"`
	}
	if err := json.Unmarshal(b, &all); err != nil {
		t.Fatal(err)
	}
	for _, f := range all.Features {
		zones = append(zones, f.Properties)
	}
	if len(zones) < 10 {
		t.Fatalf("only %d zones", len(zones))
	}
	return dir + "/report", zones
}

// tenth prints a number as reports do, written down here a second time.
func tenth(x float64) string {
	if x >= 99.95 {
		return strconv.FormatFloat(math.Round(x), 'f', 0, 64)
	}
	return strconv.FormatFloat(x, 'f', 1, 64)
}

// cells returns the rows of all tables of a page as texts of their cells.
func cells(page string) (rows [][]string) {
	tag := regexp.MustCompile(`(?s)<[^>]*>`)
	for _, tr := range regexp.MustCompile(`(?s)<tr[^>]*>(.*?)</tr>`).FindAllStringSubmatch(page, -1) {
		var row []string
		for _, c := range regexp.MustCompile(`(?s)<t[hd][^>]*>(.*?)</t[hd]>`).FindAllStringSubmatch(tr[1], -1) {
			row = append(row, strings.TrimSpace(tag.ReplaceAllString(c[1], "")))
		}
		rows = append(rows, row)
	}
	return rows
}

// Every zone's area and lime stand in the page as zones.geojson has them.
func TestPageAgreesWithFiles(t *testing.T) {
	dir, zones := demoReports(t)
	b, err := os.ReadFile(filepath.Join(dir, "landowner.html"))
	if err != nil {
		t.Fatal(err)
	}
	page := string(b)
	rows := cells(page)
	for _, z := range zones {
		section := regexp.MustCompile(`(?s)<h2[^>]*>[^<]*\(` + z.Field + `\)</h2>(.*?)<h2`).FindString(page)
		area := tenth(z.Acres) + " acres (" + strconv.FormatFloat(z.Hectare, 'f', 1, 64) + " ha)"
		found := false
		for _, r := range cells(section) {
			found = found || len(r) == 5 && r[0] == strconv.Itoa(z.Number) && strings.Contains(r[1], area) && strings.Contains(strings.ToLower(r[1]), z.Class)
		}
		if !found {
			t.Errorf("%s: no row with %s and %s", z.ID, z.Class, area)
		}
		if z.Lime != nil && *z.Lime > 0 {
			checkLimeRow(t, rows, z)
		}
	}
}

// checkLimeRow looks for the row of a zone in the lime list.
func checkLimeRow(t *testing.T, rows [][]string, z fileZone) {
	t.Helper()
	for _, r := range rows {
		if len(r) != 8 || r[0] != z.ID {
			continue
		}
		band := tenth(*z.Lime) + " (" + tenth(*z.Low) + " to " + tenth(*z.High) + ")"
		if r[1] != tenth(z.Acres) || r[2] != band || r[3] != tenth(*z.PerHa) || math.Abs(number(t, r[4])-*z.Lime*z.Acres) > 0.051 {
			t.Errorf("%s: the page says %v, the file %s acres, %s", z.ID, r, tenth(z.Acres), band)
		}
		return
	}
	t.Errorf("%s: no row in the lime list", z.ID)
}

func number(t *testing.T, s string) float64 {
	t.Helper()
	x, err := strconv.ParseFloat(strings.ReplaceAll(s, ",", ""), 64)
	if err != nil {
		t.Fatal(err)
	}
	return x
}

// The same on paper, read by pdftotext.
func TestPaperAgreesWithFiles(t *testing.T) {
	if _, err := exec.LookPath("pdftotext"); err != nil {
		t.Skip("pdftotext is not installed (poppler-utils)")
	}
	dir, zones := demoReports(t)
	out, err := exec.Command("pdftotext", "-layout", filepath.Join(dir, "landowner.pdf"), "-").Output()
	if err != nil {
		t.Fatal(err)
	}
	text := string(out)
	for _, z := range zones {
		_, section, _ := strings.Cut(text[strings.LastIndex(text, "("+z.Field+"): what the ground"):], "\n")
		if !strings.Contains(section, tenth(z.Acres)) {
			t.Errorf("%s: %s acres are not on its pages", z.ID, tenth(z.Acres))
		}
		if z.Lime == nil || *z.Lime == 0 {
			continue
		}
		row := regexp.MustCompile(`(?m)^\s*` + z.ID + `\s+(\S+)\s+(\S+) \((\S+) to (\S+)\)\s+(\S+)\s+(\S+)`).FindStringSubmatch(text)
		if row == nil {
			t.Errorf("%s: no row in the lime list", z.ID)
			continue
		}
		for i, want := range []float64{z.Acres, *z.Lime, *z.Low, *z.High, *z.PerHa, *z.Lime * z.Acres} {
			if got := number(t, row[i+1]); math.Abs(got-want) > 0.051 {
				t.Errorf("%s: paper says %v in place %d, the file %.4f", z.ID, got, i+1, want)
			}
		}
	}
}

// An interrupted report leaves nothing, and an earlier one as it was.
func TestInterruptedReportLeavesNothing(t *testing.T) {
	dir := t.TempDir()
	quiet := stdio{strings.NewReader(""), io.Discard, io.Discard}
	if code := run(context.Background(), []string{"demo", "--out", dir + "/demo"}, quiet); code != exitDone {
		t.Fatalf("demo: exit code %d", code)
	}
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	args := []string{"report", dir + "/demo/run", "--out", dir + "/report"}
	if code := run(ctx, args, quiet); code != exitInterrupted {
		t.Errorf("exit code %d, want %d", code, exitInterrupted)
	}
	if _, err := os.Stat(dir + "/report"); !os.IsNotExist(err) {
		t.Errorf("a folder is left behind: %v", err)
	}
	if code := run(context.Background(), args, quiet); code != exitDone {
		t.Fatalf("report: exit code %d", code)
	}
	before, _ := os.ReadDir(dir + "/report")
	run(ctx, append(args, "--for", "technician"), quiet)
	if after, _ := os.ReadDir(dir + "/report"); len(after) != len(before) {
		t.Errorf("%d files of %d are left", len(after), len(before))
	}
}
