package main

import (
	"bytes"
	"context"
	"io"
	"net/http"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
)

// What the page gives away of a plan is, byte by byte, what the verb plan writes: nothing is worked out a second time.
func TestPlanInThePageIsThePlanOfTheVerb(t *testing.T) {
	dir := t.TempDir()
	record := filepath.Join(dir, "record.csv")
	// A sown stand with a count of its stems: the plan has something that is done and something that the record decides.
	if err := os.WriteFile(record, []byte("field_id,zone_id,date,kind,value,unit,note\nF1,F1/1,2026-10-20,sown,,,\nF1,F1/1,2027-03-18,stems,38,per_ft2,\n"), 0o644); err != nil {
		t.Fatal(err)
	}
	made := []string{filepath.Join(dir, "run"), "--region", "piedmont", "--date", "2027-04-01", "--record", record, "--yield", "4.5", "--first-cut", "04-20"}
	commanded(t, "demo", "--out", dir)
	commanded(t, append([]string{"plan", "--out", filepath.Join(dir, "plan")}, made...)...)
	get := viewed(t, made...)
	for _, name := range []string{planPage, planPDF, planSteps, planMaterials, planICS} {
		want, err := os.ReadFile(filepath.Join(dir, "plan", name))
		if err != nil {
			t.Fatal(err)
		}
		if a, got := get("run/1/plan/" + name); a.StatusCode != http.StatusOK || !bytes.Equal(got, want) {
			t.Errorf("%s: %d, %d bytes, want the %d of the verb", name, a.StatusCode, len(got), len(want))
		}
	}
	if _, text := get("run/1/field/0/plan"); !bytes.Contains(text, []byte("done October 20, 2026")) || !bytes.Contains(text, []byte("How each step is done")) {
		t.Error("the page of a field does not show its plan")
	}
	if _, text := get("run/1/plan"); !bytes.Contains(text, []byte("What to do, in order")) || !bytes.Contains(text, []byte(`href="/run/1/field/0/plan"`)) {
		t.Error("the page of the run does not show the plan")
	}
}

// The page folds its parts: what it holds is what the plan of the verb holds but for the fields, which have pages of their own; each place
// that something leads to is there, once; and no style or script stands within it, which the page's own policy would refuse.
func TestFoldedPlanLeavesNothingOut(t *testing.T) {
	dir := t.TempDir()
	made := []string{filepath.Join(dir, "run"), "--region", "piedmont", "--date", "2027-04-01", "--yield", "4.5"}
	commanded(t, "demo", "--out", dir)
	commanded(t, append([]string{"plan", "--out", filepath.Join(dir, "plan")}, made...)...)
	whole, err := os.ReadFile(filepath.Join(dir, "plan", planPage))
	if err != nil {
		t.Fatal(err)
	}
	get := viewed(t, made...)
	texts := regexp.MustCompile(`(?s)<(?:li|td|p|p class="answer"|p class="small")>([^<]+)</`)
	_, page := get("run/1/plan")
	// Up to the first field, and from how steps are done on.
	from, to := bytes.Index(whole, []byte(`<div id="field-1">`)), bytes.Index(whole, []byte(`<div id="steps">`))
	n := 0
	for _, part := range [][]byte{whole[:from], whole[to:]} {
		for _, m := range texts.FindAllSubmatch(part, -1) {
			// what made the document stands at its foot alone
			if n++; !bytes.Contains(page, m[1]) && !bytes.HasPrefix(m[1], []byte("Plan for the grower")) {
				t.Errorf("the page lacks %q", m[1])
			}
		}
	}
	if n < 100 {
		t.Errorf("only %d texts compared", n)
	}
	_, field := get("run/1/field/1/plan")
	for name, text := range map[string][]byte{"run": page, "field": field} {
		ids := map[string]int{}
		for _, m := range regexp.MustCompile(` id="([^"]+)"`).FindAllSubmatch(text, -1) {
			ids[string(m[1])]++
		}
		for id, n := range ids {
			if n != 1 {
				t.Errorf("%s: %d places are called %s", name, n, id)
			}
		}
		for _, m := range regexp.MustCompile(`href="#([^"]+)"`).FindAllSubmatch(text, -1) {
			if ids[string(m[1])] != 1 {
				t.Errorf("%s: nothing is called %s", name, m[1])
			}
		}
		if bytes.Contains(text, []byte("<style")) || bytes.Contains(text, []byte(" style=")) || !bytes.Contains(text, []byte("<details")) {
			t.Errorf("%s: a style within the page, or nothing folds", name)
		}
	}
}

// What the pages of fields cannot be made from is told before anything listens.
func TestFieldPageRefusals(t *testing.T) {
	dir := t.TempDir()
	commanded(t, "demo", "--out", dir)
	for says, c := range map[string]struct {
		code int
		args []string
	}{
		"add --tests FILE":      {exitUsage, []string{"--lab-report", "printed.csv"}},
		"--years: 9":            {exitUsage, []string{"--years", "9"}},
		"is a folder":           {exitUsage, []string{"--record", dir}},
		"there is no folder":    {exitUsage, []string{"--record", filepath.Join(dir, "none", "record.csv")}},
		"the prices have fault": {exitCould, []string{"--prices", filepath.Join(dir, "run", "lime.csv")}},
	} {
		var fault bytes.Buffer
		code := run(context.Background(), append([]string{"view", filepath.Join(dir, "run")}, c.args...), stdio{strings.NewReader(""), io.Discard, &fault})
		if code != c.code || !strings.Contains(fault.String(), says) {
			t.Errorf("view %v: exit code %d, %q; want %d, %q", c.args, code, fault.String(), c.code, says)
		}
	}
}
