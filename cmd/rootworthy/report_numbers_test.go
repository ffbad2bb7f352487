package main

import (
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"sort"
	"strconv"
	"strings"
	"testing"

	"rootworthy/export/words"
	"rootworthy/suitability"
)

// countyShared is a county with ten invented fields, one of them outside the survey.
const countyShared = "../../../shared/data"

// reportRuns makes the runs whose reports are read: the demo farm, and a county where its data are at hand.
func reportRuns(t *testing.T) map[string]string {
	t.Helper()
	runs := map[string]string{"demo": filepath.Join(demoReports(t), "demo", "run")}
	if racing { // numbers of a county are compared without the detector
		return runs
	}
	if _, err := os.Stat(countyShared); err != nil {
		t.Run("county", func(t *testing.T) { t.Skipf("there is no %s", countyShared) })
		return runs
	}
	runs["county"] = filepath.Join(t.TempDir(), "run")
	must(t, exitFaults, "screen", filepath.Join(countyShared, "fields-ar017-invented", "fields.geojson"), "--survey", filepath.Join(countyShared, "ssurgo-ar017"),
		"--date", "2026-03-01", "--region", "coastal-plain", "--out", runs["county"])
	return runs
}

// demoReports screens the demo farm and makes all reports; it returns the folder of demo/run and report.
func demoReports(t *testing.T) string {
	t.Helper()
	dir := t.TempDir()
	must(t, exitDone, "demo", "--out", dir+"/demo")
	must(t, exitDone, "report", dir+"/demo/run", "--out", dir+"/report")
	return dir
}

// Every area, class and lime figure that a report prints is that of the files of its run, for each reader, on the page
// and on paper, on letter and on A4.
func TestReportsAgreeWithFiles(t *testing.T) {
	for name, dir := range reportRuns(t) {
		files := readFiles(t, dir)
		files.chances = chancesOf(t, dir)
		for _, paper := range []string{"letter", "a4"} {
			out := filepath.Join(t.TempDir(), "report")
			must(t, exitDone, "report", dir, "--out", out, "--paper", paper)
			for _, reader := range readers() {
				if alone := lonelyHeadings(t, filepath.Join(out, reader+".pdf")); len(alone) > 0 {
					t.Errorf("%s, %s, %s: headings at the foot of a page: %q", name, reader, paper, alone)
				}
			}
			for form, rowsOf := range map[string]func(*testing.T, string) [][]string{"html": rowsOnPage, "pdf": rowsOnPaper} {
				if form == "html" && paper == "a4" {
					continue // a page has no paper
				}
				for reader, check := range map[string]func(*testing.T, [][]string, *fileRun){"landowner": checkLandowner, "consultant": checkConsultant, "technician": checkTechnician} {
					t.Run(strings.Join([]string{name, reader, form, paper}, " "), func(t *testing.T) {
						check(t, rowsOf(t, filepath.Join(out, reader+"."+form)), files)
					})
				}
			}
		}
	}
}

// shownName is how reports name a field.
func shownName(f map[string]string) string {
	if f["field_name"] == "" || f["field_name"] == f["field_id"] {
		return f["field_id"]
	}
	return f["field_name"] + " (" + f["field_id"] + ")"
}

// expect complains about figures of a row that are not those of the files: printed and wanted by turns.
func expect(t *testing.T, of string, row []string, pairs ...string) {
	t.Helper()
	for i := 0; i+1 < len(pairs); i += 2 {
		if !agrees(pairs[i], pairs[i+1]) {
			t.Errorf("%s: the report says %q, the files %q, in %q", of, pairs[i], pairs[i+1], row)
		}
	}
}

// number4 prints a number as a file does.
func number4(x float64) string { return strconv.FormatFloat(x, 'f', 4, 64) }

// checkLandowner holds the landowner's report against the files: the table of fields with its total, the zones, the answers, the legends of
// the maps and the lime to order. Cells that the files leave empty must be dashes.
func checkLandowner(t *testing.T, rows [][]string, files *fileRun) {
	table := tables(t, rows, "Field | Area | Suited | Marginal")
	if len(table) != len(files.fields)+1 {
		t.Fatalf("%d rows of fields, want %d and a total", len(table), len(files.fields))
	}
	total := table[len(table)-1]
	expect(t, "total", total, total[1], number4(sumOf(files.fields, "area_ac")), total[2], number4(sumOf(files.fields, "suited_ac")), total[3], number4(sumOf(files.fields, "marginal_ac")),
		total[4], number4(sumOf(files.fields, "unsuited_ac")), total[6], number4(sumOf(files.fields, "lime_st")))
	for i, f := range files.fields {
		row := table[i]
		if tight(row[0]) != tight(shownName(f)) {
			t.Errorf("row %q stands where %s should", row, shownName(f))
		}
		if f["trouble"] != "" {
			expect(t, row[0], row, row[1], f["area_ac"], row[2], "", row[6], "")
			continue
		}
		expect(t, row[0], row, row[1], f["area_ac"], row[2], f["suited_ac"], row[3], f["marginal_ac"], row[4], f["unsuited_ac"],
			row[5], number4(value(f["not_rated_ac"])+value(f["uncovered_ac"])), row[6], f["lime_st"])
	}
	checkZoneRows(t, tables(t, rows, "Zone | What it is | Why"), files)
	checkAnswers(t, rows, files)
	checkLegends(t, rows, files)
	checkLimeOrder(t, tables(t, rows, "Zone | Acres | Lime, short tons an acre"), files)
}

// checkZoneRows holds the zones, field by field, against zones.geojson.
func checkZoneRows(t *testing.T, table [][]string, files *fileRun) {
	if len(table) != len(files.zones) {
		t.Fatalf("%d zones in the tables, %d in the file", len(table), len(files.zones))
	}
	// The class by the letter it has on the maps and in words, whether lime comes first, and the area in both units.
	is := regexp.MustCompile(`^(?:S|M|U|–) · ([A-Z][a-z ]+?)(, lime first)?\. (\S+) acres \((\S+) ha\)$`)
	for i, z := range files.zones {
		row := table[i]
		m := is.FindStringSubmatch(row[1])
		if m == nil || row[0] != textOfValue(z["zone"]) || strings.ToLower(m[1]) != z["class"] {
			t.Errorf("%v: the report says %q; the file %v", z["zone_id"], row, z["class"])
			continue
		}
		expect(t, z["zone_id"].(string), row, m[3], textOfValue(z["area_ac"]), m[4], textOfValue(z["area_ha"]))
		checkChance(t, row[4], z, files)
		if first := z["class"] != z["class_today"] && z["limiting_today"] == "ph_surface"; first != (m[2] != "") {
			t.Errorf("%v: lime first is %v in the file, in %q", z["zone_id"], first, row)
		}
	}
}

// checkAnswers holds the sentences that answer, for all fields and for each, against fields.csv.
func checkAnswers(t *testing.T, rows [][]string, files *fileRun) {
	// The ways in which an answer names suited and whole area: of all fields together, then of one field with none, some or all of it
	// suited.
	all := regexp.MustCompile(`^Of (\S+) acres(?: \((\S+) ha\))?, (\S+) looks? suited`)
	one := regexp.MustCompile(`^(?:None|(\S+)) of the (\S+) acres \((\S+) ha\) looks? suited|^(\S+) of (\S+) acres \((\S+) ha\) look suited|^All (\S+) acres \((\S+) ha\) look suited`)
	var answered []map[string]string
	for _, f := range files.fields {
		if f["trouble"] == "" {
			answered = append(answered, f)
		}
	}
	whole, n := false, 0
	for _, row := range rows {
		if m := all.FindStringSubmatch(row[0]); m != nil && len(row) == 1 && !whole {
			whole = true
			expect(t, "all fields", row, m[1], number4(sumOf(files.fields, "area_ac")), strings.Replace(m[3], "none", "0.0", 1), number4(sumOf(files.fields, "suited_ac")))
		}
		m := one.FindStringSubmatch(row[0])
		if m == nil || len(row) != 1 {
			continue
		}
		if n == len(answered) {
			t.Fatalf("an answer too many: %q", row)
		}
		f := answered[n]
		n++
		suited, area, hectares := m[4], m[5], m[6]
		switch {
		case m[7] != "":
			suited, area, hectares = m[7], m[7], m[8]
		case m[2] != "":
			suited, area, hectares = "0.0", m[2], m[3]
		}
		expect(t, f["field_id"], row, suited, f["suited_ac"], area, f["area_ac"], hectares, f["area_ha"])
	}
	if !whole || n != len(answered) {
		t.Errorf("%d fields are answered for, want %d; all together: %v", n, len(answered), whole)
	}
}

// checkLegends holds the legends of the maps of fields against fields.csv: class, acres, hectares, in the order of the maps.
func checkLegends(t *testing.T, rows [][]string, files *fileRun) {
	var want []string
	for _, f := range files.fields {
		for _, c := range [][2]string{{"S · Suited", "suited_ac"}, {"M · Marginal", "marginal_ac"}, {"U · Unsuited", "unsuited_ac"}, {"– · Not rated", "not_rated_ac"}, {"? · Outside the survey", "uncovered_ac"}} {
			if value(f[c[1]]) > 0 {
				want = append(want, c[0]+" "+f[c[1]])
			}
		}
	}
	line := regexp.MustCompile(`(S · Suited|M · Marginal|U · Unsuited|– · Not rated|\? · Outside the survey):? (\S+) acres \((\S+) ha\),? (?:under |over )?\d+ %`)
	var got [][]string
	for _, row := range rows {
		got = append(got, line.FindAllStringSubmatch(strings.Join(row, " "), -1)...)
	}
	if len(got) < len(want) {
		t.Fatalf("%d lines of legends, want %d and those of the overview", len(got), len(want))
	}
	for i, m := range got[len(got)-len(want):] { // the overview comes first
		name, area, _ := cutLast(want[i])
		if m[1] != name || !agrees(m[2], area) {
			t.Errorf("a legend says %q, the files %q", m[0], want[i])
		}
	}
}

// cutLast cuts a text at its last blank.
func cutLast(s string) (before, after string, ok bool) {
	i := strings.LastIndex(s, " ")
	return s[:max(i, 0)], s[i+1:], i >= 0
}

// checkLimeOrder holds the list of lime and its total against lime.csv.
func checkLimeOrder(t *testing.T, table [][]string, files *fileRun) {
	const kgPerShortTon = 907.18474 // Source: 2000 lb of 0.45359237 kg, exact
	var area, lime, product float64
	var want []map[string]string
	for _, z := range files.zones {
		if row := files.lime[z["zone_id"].(string)]; value(row["lime_st_ac"]) > 0 {
			want = append(want, row)
			area, lime, product = area+value(row["area_ac"]), lime+value(row["area_ac"])*value(row["lime_st_ac"]), product+value(row["product_kg"])/kgPerShortTon
		}
	}
	if len(want) == 0 {
		t.Fatal("no zone of the run needs lime")
	}
	if len(table) != len(want)+1 {
		t.Fatalf("%d rows of lime, want %d and a total", len(table), len(want))
	}
	band := regexp.MustCompile(`^(\S+)(?: \((\S+) to (\S+)\))?`)
	for i, z := range want {
		row := table[i]
		m := band.FindStringSubmatch(row[2])
		if tight(row[0]) != tight(z["zone_id"]) || m == nil {
			t.Errorf("row %q stands where %s should", row, z["zone_id"])
			continue
		}
		expect(t, z["zone_id"], row, row[1], z["area_ac"], m[1], z["lime_st_ac"], row[3], z["lime_t_ha"], row[4], number4(value(z["area_ac"])*value(z["lime_st_ac"])),
			row[5], number4(value(z["product_kg"])/kgPerShortTon), row[6], z["passes"])
		if m[2] != "" {
			expect(t, z["zone_id"], row, m[2], z["lime_low_st_ac"], m[3], z["lime_high_st_ac"])
		}
	}
	total := table[len(table)-1]
	expect(t, "total", total, total[1], number4(area), total[2], number4(lime), total[3], number4(product))
}

// checkConsultant holds the consultant's report against the files: fields by their rank, those without one last, then chances, zones and
// what limits them.
func checkConsultant(t *testing.T, rows [][]string, files *fileRun) {
	ranked := append([]map[string]string{}, files.fields...)
	sort.SliceStable(ranked, func(i, j int) bool {
		a, b := value(ranked[i]["rank"]), value(ranked[j]["rank"])
		return a != 0 && (b == 0 || a < b)
	})
	table := tables(t, rows, "Rank | Field | Area | Suited")
	if len(table) != len(ranked) {
		t.Fatalf("%d fields in the table, %d in the file", len(table), len(ranked))
	}
	span := regexp.MustCompile(`^(\S+)(?: \((\S+) to (\S+)\))?`)
	for i, f := range ranked {
		row := table[i]
		if tight(row[1]) != tight(shownName(f)) {
			t.Errorf("row %q stands where %s should", row, shownName(f))
		}
		if f["trouble"] != "" {
			expect(t, f["field_id"], row, row[0], "", row[2], f["area_ac"], row[3], "")
			continue
		}
		m := span.FindStringSubmatch(row[7])
		expect(t, f["field_id"], row, row[0], f["rank"], row[2], f["area_ac"], row[3], f["suited_ac"], row[4], f["today_suited_ac"], row[5], f["score"], m[1], f["lime_st"])
		if m[2] != "" {
			expect(t, f["field_id"], row, m[2], f["lime_low_st"], m[3], f["lime_high_st"])
		}
		if want := limitsOf(f["limits_ac"]); tight(row[6]) != tight(want) {
			t.Errorf("%s: limits are %q, want %q", f["field_id"], row[6], want)
		}
	}
	checkFieldChances(t, tables(t, rows, "Field | Class of most of the field | Suited acres"), ranked, files)
	checkRankedZones(t, tables(t, rows, "Zone | Map unit | Acres | Reason"), ranked, files)
	checkReasons(t, tables(t, rows, "Criterion | Zones | Limits"), files)
}

// limitsOf puts "depth 63.2062; drainage 60.4158" as a report does.
func limitsOf(file string) string {
	if file == "" {
		return "none"
	}
	var parts []string
	for _, p := range strings.Split(file, "; ") {
		code, area, _ := strings.Cut(p, " ")
		parts = append(parts, words.Criterion(suitability.Code(code), words.Consultant)+" "+acresOf(value(area)))
	}
	return strings.Join(parts, "; ")
}

// chancesOf reads what the sampling plan writes of how sure every field and zone is: zones by their id, fields by theirs.
func chancesOf(t *testing.T, dir string) map[string]map[string]string {
	t.Helper()
	out := filepath.Join(t.TempDir(), "sample")
	must(t, exitDone, "sample", dir, "--out", out)
	by := map[string]map[string]string{}
	for _, row := range csvRows(t, filepath.Join(out, "chances.csv")) {
		if row["zone_id"] != "" {
			by[row["zone_id"]] = row
		} else {
			by[row["field_id"]] = row
		}
	}
	return by
}

// checkChance holds the chance that a report gives a zone's class against that of the sampling plan.
func checkChance(t *testing.T, cell string, z map[string]any, files *fileRun) {
	t.Helper()
	m := regexp.MustCompile(`\(([<>]?\d\.\d\d)\)`).FindStringSubmatch(cell)
	if m == nil {
		if cell != "–" && cell != "no soil here to rate" {
			t.Errorf("%v: no chance in %q", z["zone_id"], cell)
		}
		return
	}
	if span := regexp.MustCompile(`(?:lime|that) ((?:about |under )?[0-9.,]+(?: to [0-9.,]+)?)(?:$| short tons of lime an acre)`).FindStringSubmatch(cell); span != nil {
		checkSpan(t, span[1], files.chances[z["zone_id"].(string)]["lime_low_st_ac"], files.chances[z["zone_id"].(string)]["lime_high_st_ac"])
	} else if lime, ok := z["lime_st_ac"].(float64); ok && lime > 0 {
		t.Errorf("%v: no interval of lime in %q", z["zone_id"], cell)
	}
	want := files.chances[z["zone_id"].(string)]["chance_"+strings.ReplaceAll(z["class"].(string), " ", "_")]
	// A chance that is not quite sure is printed as a bound.
	if p := value(want); m[1] == ">0.99" && p >= 0.995 || m[1] == "<0.01" && p <= 0.005 {
		return
	}
	if !near(m[1], value(want)) && !near(m[1], value(want)+0.0005) && !near(m[1], value(want)-0.0005) { // the file has three decimals
		t.Errorf("%v: the report says %q, the sampling plan %s", z["zone_id"], cell, want)
	}
}

// checkFieldChances holds the consultant's table of how sure each field is against the sampling plan.
func checkFieldChances(t *testing.T, table [][]string, ranked []map[string]string, files *fileRun) {
	for _, row := range table {
		for len(ranked) > 0 && tight(shownName(ranked[0])) != tight(row[0]) {
			ranked = ranked[1:] // without an answer
		}
		if len(ranked) == 0 {
			t.Fatalf("no field for %q, or out of order", row)
		}
		want := files.chances[ranked[0]["field_id"]]
		if tight(row[1]) == "" || !strings.HasPrefix(tight(row[1]), tight(want["in_words"])) {
			t.Errorf("the report says %q, the sampling plan %q", row[1], want["in_words"])
		}
		checkSpan(t, row[2], want["suited_low_ac"], want["suited_high_ac"])
		if row[3] != "–" {
			checkSpan(t, row[3], want["lime_low_st"], want["lime_high_st"])
		}
	}
}

// checkSpan holds "34 to 109", "about 66" or "under 0.1" against the ends of an interval.
func checkSpan(t *testing.T, printed, low, high string) {
	t.Helper()
	if least, ok := strings.CutPrefix(printed, "under "); ok {
		if value(high) >= value(least) { // two decimals of the file may hold nothing of a sliver
			t.Errorf("the report says %q, the sampling plan %s to %s", printed, low, high)
		}
		return
	}
	a, b, two := strings.Cut(strings.TrimPrefix(printed, "about "), " to ")
	if !two {
		b = a
	}
	const fileStep = 0.005 // the file has two decimals
	for _, c := range [][2]string{{a, low}, {b, high}} {
		if x := value(c[1]); !near(c[0], x) && !near(c[0], x+fileStep) && !near(c[0], x-fileStep) {
			t.Errorf("the report says %q, the sampling plan %s to %s", printed, low, high)
		}
	}
}

// acresOf prints acres as reports do, written down here a second time.
func acresOf(x float64) string {
	switch {
	case x > 0 && x < 0.05:
		return "<0.1"
	case x < 99.95:
		return fmt.Sprintf("%.1f", x)
	}
	return fmt.Sprintf("%.0f", x)
}

// checkRankedZones holds the consultant's zones, by rank of their fields, against zones.geojson.
func checkRankedZones(t *testing.T, table [][]string, ranked []map[string]string, files *fileRun) {
	var want []map[string]any
	for _, f := range ranked {
		for _, z := range files.zones {
			if z["field_id"] == f["field_id"] {
				want = append(want, z)
			}
		}
	}
	if len(table) != len(want) {
		t.Fatalf("%d zones in the tables, %d in the file", len(table), len(want))
	}
	for i, z := range want {
		row, id := table[i], z["zone_id"].(string)
		if !strings.HasPrefix(strings.ToLower(row[3]), z["class"].(string)) || row[6] != z["confidence"] {
			t.Errorf("%s: the report says %q, the file %v, %v", id, row, z["class"], z["confidence"])
		}
		checkChance(t, row[7], z, files)
		top, deep, _ := strings.Cut(row[4], ", ")
		rate, _, _ := strings.Cut(row[5], " ")
		expect(t, id, row, row[0], textOfValue(z["zone"]), row[2], textOfValue(z["area_ac"]), top, textOfValue(z["ph_surface"]), deep, textOfValue(z["ph_subsoil"]), rate, textOfValue(z["lime_st_ac"]))
	}
}

// checkReasons adds up from zones.geojson what limits which area.
func checkReasons(t *testing.T, table [][]string, files *fileRun) {
	areas, today, unsuited := map[string]float64{}, map[string]float64{}, map[string]float64{}
	for _, z := range files.zones {
		areas[textOfValue(z["limiting"])] += z["area_ac"].(float64)
		today[textOfValue(z["limiting_today"])] += z["area_ac"].(float64)
		if z["class"] == "unsuited" {
			unsuited[textOfValue(z["limiting"])] += z["area_ac"].(float64)
		}
	}
	n := 0
	for _, c := range suitability.Codes() {
		if areas[string(c)]+today[string(c)] == 0 {
			continue
		}
		if n == len(table) {
			t.Fatalf("%s is not in the table", c)
		}
		row := table[n]
		n++
		if row[0] != words.Criterion(c, words.Consultant) {
			t.Errorf("row %q stands where %s should", row, c)
		}
		expect(t, string(c), row, row[2], number4(areas[string(c)]), row[3], number4(unsuited[string(c)]), row[4], number4(today[string(c)]))
	}
}

// checkTechnician holds the technician's report against the files: the product for each zone, then totals for each field and for all. The
// report speaks of short tons of product, the files of kilograms.
func checkTechnician(t *testing.T, rows [][]string, files *fileRun) {
	const kgPerShortTon = 907.18474 // Source: 2000 lb of 0.45359237 kg, exact
	table := tables(t, rows, "Zone | Acres | Product, short tons/ac, all passes")
	if len(table) != len(files.zones) {
		t.Fatalf("%d zones in the table, %d in the file", len(table), len(files.zones))
	}
	for i, z := range files.zones {
		row, l := table[i], files.lime[z["zone_id"].(string)]
		if tight(row[0]) != tight(l["zone_id"]) || !strings.HasPrefix(strings.ToLower(row[6]), l["class"]) {
			t.Errorf("row %q stands where %s, %s should", row, l["zone_id"], l["class"])
		}
		tons, passes := "", l["passes"]
		if l["product_kg"] != "" {
			tons = number4(value(l["product_kg"]) / kgPerShortTon)
		}
		if value(passes) == 0 {
			passes = ""
		}
		expect(t, l["zone_id"], row, row[1], l["area_ac"], row[2], l["product_st_ac"], row[3], passes, row[4], tons, row[5], l["product_kg"])
	}
	totals := tables(t, rows, "Field | Acres | Acres to lime")
	if len(totals) != len(files.fields)+1 {
		t.Fatalf("%d rows of totals, want %d and one", len(totals), len(files.fields))
	}
	for i, f := range files.fields {
		row := totals[i]
		product := ""
		if f["product_kg"] != "" {
			product = number4(value(f["product_kg"]) / kgPerShortTon)
		}
		expect(t, f["field_id"], row, row[1], f["area_ac"], row[3], f["lime_st"], row[4], product)
	}
	row := totals[len(totals)-1]
	expect(t, "total", row, row[1], number4(sumOf(files.fields, "area_ac")), row[3], number4(sumOf(files.fields, "lime_st")), row[4], number4(sumOf(files.fields, "product_kg")/kgPerShortTon))
}
