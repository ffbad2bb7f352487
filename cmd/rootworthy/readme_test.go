package main

import (
	"flag"
	"fmt"
	"os"
	"strings"
	"testing"

	"rootworthy/export"
)

const readme = "../../README.md"

// TestReadmeShowsTheRealDemo: the block in README is the beginning of what the demo story expects, and the tables of
// columns are those of the schema. With -update README is rewritten.
func TestReadmeShowsTheRealDemo(t *testing.T) {
	old, err := os.ReadFile(readme)
	if err != nil {
		t.Fatal(err)
	}
	want := replaceBlock(t, string(old), "<!-- demo -->", "```\n"+demoBeginning(t)+"```\n\nAsk why")
	want = replaceBlock(t, want, "<!-- columns -->", columnTables()+"\n## Limits")
	if want == string(old) {
		return
	}
	if flag.Lookup("update").Value.String() == "true" {
		if err := os.WriteFile(readme, []byte(want), 0o644); err != nil {
			t.Fatal(err)
		}
		return
	}
	t.Error("README does not show what the program prints; run: go test ./cmd/rootworthy -update")
}

// demoBeginning is the answer, the fields and the first zones of what the demo prints.
func demoBeginning(t *testing.T) string {
	story, err := os.ReadFile("../../testdata/stories/landowner-demo.txtar")
	if err != nil {
		t.Fatal(err)
	}
	_, shown, ok := strings.Cut(string(story), "-- shown.txt --\n")
	if !ok {
		t.Fatal("the demo story has no shown.txt")
	}
	upTo := strings.Index(shown, "F4 Long Piece\n")
	if upTo < 0 {
		t.Fatal("the demo shows no zones of Long Piece")
	}
	return shown[:upTo] + "…\n"
}

// replaceBlock replaces what stands between a marker and the words that end the new text (which stay).
func replaceBlock(t *testing.T, text, marker, block string) string {
	before, rest, ok := strings.Cut(text, marker+"\n")
	end := block[strings.LastIndex(block, "\n")+1:]
	at := strings.Index(rest, end)
	if !ok || at < 0 {
		t.Fatalf("README lacks %s … %q", marker, end)
	}
	return before + marker + "\n" + strings.TrimSuffix(block, end) + rest[at:]
}

// columnTables lists the columns of every table, from the schema.
func columnTables() string {
	var b strings.Builder
	for _, c := range []struct {
		title   string
		columns []export.Column
	}{{"zones.geojson", export.ZoneColumns()}, {"lime.csv", export.LimeColumns()}, {"fields.csv and fields.geojson", export.FieldColumns()}, {"survey units", export.UnitColumns()}, {"lime FILE --out", export.LimeSampleColumns()}} {
		fmt.Fprintf(&b, "\n<details><summary>Columns of %s</summary>\n\n| column | unit | meaning |\n| --- | --- | --- |\n", c.title)
		for _, col := range c.columns {
			fmt.Fprintf(&b, "| `%s` | %s | %s |\n", col.Name, col.Unit, col.Meaning)
		}
		b.WriteString("\n</details>\n")
	}
	return b.String()
}
