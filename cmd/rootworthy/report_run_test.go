package main

import (
	"encoding/json"
	"html"
	"math"
	"os"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"rootworthy/internal/secondopinion"
)

// fileRun is a run as its files have it, read here without the program's own readers.
type fileRun struct {
	fields []map[string]string          // fields.csv
	zones  []map[string]any             // zones.geojson
	lime   map[string]map[string]string // lime.csv by zone

	chances map[string]map[string]string // of the sampling plan, by zone or field
}

// readFiles reads a run folder.
func readFiles(t *testing.T, dir string) *fileRun {
	t.Helper()
	r := &fileRun{fields: csvRows(t, filepath.Join(dir, "fields.csv")), zones: features(t, filepath.Join(dir, "zones.geojson")), lime: map[string]map[string]string{}}
	for _, row := range csvRows(t, filepath.Join(dir, "lime.csv")) {
		r.lime[row["zone_id"]] = row
	}
	if len(r.lime) != len(r.zones) || len(r.zones) < 10 {
		t.Fatalf("%s: %d zones in zones.geojson, %d in lime.csv", dir, len(r.zones), len(r.lime))
	}
	// fields.geojson says of every field what fields.csv does
	for i, f := range features(t, filepath.Join(dir, "fields.geojson")) {
		for _, k := range []string{"area_ac", "suited_ac", "marginal_ac", "unsuited_ac", "not_rated_ac", "lime_st", "uncovered_ac"} {
			if a, b := textOfValue(f[k]), r.fields[i][k]; a != b {
				t.Errorf("%s: %s is %q in fields.geojson, %q in fields.csv", r.fields[i]["field_id"], k, a, b)
			}
		}
	}
	return r
}

// csvRows reads a table by the column's name, with the reader that is not ours.
func csvRows(t *testing.T, file string) (rows []map[string]string) {
	t.Helper()
	f, err := os.Open(file)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	return secondopinion.Rows(t, f)
}

// features are the properties of a GeoJSON file's features, in its order.
func features(t *testing.T, file string) (rows []map[string]any) {
	t.Helper()
	b, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	var all struct {
		Features []struct {
			Properties map[string]any `json:"properties"`
		} `json:"features"`
	}
	if err := json.Unmarshal(b, &all); err != nil {
		t.Fatal(err)
	}
	for _, f := range all.Features {
		rows = append(rows, f.Properties)
	}
	return rows
}

// textOfValue is a property as a table of the same run has it; null is an empty cell.
func textOfValue(v any) string {
	switch v := v.(type) {
	case float64:
		return strconv.FormatFloat(v, 'f', -1, 64)
	case string:
		return v
	}
	return ""
}

// rowsOnPage reads a page as rows of cells: rows of tables, and paragraphs as rows of one cell. Maps are left out.
func rowsOnPage(t *testing.T, file string) (rows [][]string) {
	t.Helper()
	b, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	page := regexp.MustCompile(`(?s)<svg.*?</svg>`).ReplaceAllString(string(b), "")
	tag := regexp.MustCompile(`(?s)<[^>]*>`)
	cell := regexp.MustCompile(`(?s)<t[hd][^>]*>(.*?)</t[hd]>`)
	for _, m := range regexp.MustCompile(`(?s)<tr[^>]*>.*?</tr>|<(?:p|li|h1|h2|h3|caption|figcaption)[ >].*?</(?:p|li|h1|h2|h3|caption|figcaption)>`).FindAllString(page, -1) {
		var row []string
		if strings.HasPrefix(m, "<tr") {
			for _, c := range cell.FindAllStringSubmatch(m, -1) {
				row = append(row, c[1])
			}
		} else {
			row = []string{m}
		}
		for k := range row {
			row[k] = strings.Join(strings.Fields(html.UnescapeString(tag.ReplaceAllString(row[k], ""))), " ")
		}
		rows = append(rows, row)
	}
	return rows
}

// tables returns the rows of all tables with a head, one table after the other; heads that a new page repeats are left
// out, as are empty cells, which paper does not show.
func tables(t *testing.T, rows [][]string, head string) (out [][]string) {
	t.Helper()
	inside, width := false, 0
	for _, row := range rows {
		var full []string
		for _, c := range row {
			if c != "" {
				full = append(full, c)
			}
		}
		switch {
		case strings.HasPrefix(strings.Join(full, " | "), head):
			inside, width = true, len(full)
		case inside && (len(full) == width || len(full) > 1 && full[0] == "Total"):
			out = append(out, full)
		default:
			inside = false
		}
	}
	if len(out) == 0 {
		t.Errorf("there is no table %q", head)
	}
	return out
}

// tight leaves out blanks, which a narrow column puts into long names.
func tight(s string) string { return strings.Join(strings.Fields(s), "") }

// agrees says whether a printed figure is that of the file, rounded as printed; "–" is no figure.
func agrees(printed, file string) bool {
	if printed == "–" || file == "" {
		return printed == "–" && file == ""
	}
	want, err := strconv.ParseFloat(file, 64)
	if err != nil {
		return false
	}
	return near(printed, want)
}

// near says whether a printed figure is a number, rounded as printed.
func near(printed string, want float64) bool {
	if rest, ok := strings.CutPrefix(printed, "<"); ok {
		limit, err := strconv.ParseFloat(rest, 64)
		return err == nil && want > 0 && want < limit/2+1e-4
	}
	printed = strings.ReplaceAll(printed, ",", "")
	got, err := strconv.ParseFloat(printed, 64)
	if err != nil {
		return false
	}
	_, decimals, _ := strings.Cut(printed, ".")
	const fileStep = 1.5e-4 // files have four decimals; a sum of a few of them is off by a little more
	return math.Abs(got-want) <= 0.5*math.Pow(10, -float64(len(decimals)))+fileStep
}

// value is a number of a file; missing counts as 0.
func value(s string) float64 {
	x, _ := strconv.ParseFloat(s, 64)
	return x
}

// sumOf adds a column up.
func sumOf(rows []map[string]string, column string) (sum float64) {
	for _, r := range rows {
		sum += value(r[column])
	}
	return sum
}
