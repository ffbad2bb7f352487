package words

import (
	"bytes"
	"errors"
	"flag"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"unicode/utf8"

	"rootworthy/export/quillmoor"
	"rootworthy/soils/lime"
	"rootworthy/suitability"
)

var update = flag.Bool("update", false, "rewrite the golden texts")

// golden compares a text with the one kept, line by line, and holds it under 80 columns.
func golden(t *testing.T, name string, write func(*bytes.Buffer) error) {
	t.Helper()
	var b bytes.Buffer
	if err := write(&b); err != nil {
		t.Fatal(err)
	}
	for i, l := range strings.Split(b.String(), "\n") {
		if utf8.RuneCountInString(l) > defaultWidth {
			t.Errorf("%s:%d is over %d columns: %s", name, i+1, defaultWidth, l)
		}
	}
	path := filepath.Join("testdata", name)
	if *update {
		if err := os.WriteFile(path, b.Bytes(), 0o644); err != nil {
			t.Fatal(err)
		}
		return
	}
	want, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	if got := b.String(); got != string(want) {
		t.Errorf("%s differs; read it, then run with -update\n%s", name, firstDifference(got, string(want)))
	}
}

// firstDifference returns the first line that differs: a whole page twice would hide it.
func firstDifference(got, want string) string {
	g, w := strings.Split(got, "\n"), strings.Split(want, "\n")
	for i := range min(len(g), len(w)) {
		if g[i] != w[i] {
			return "got  " + g[i] + "\nwant " + w[i]
		}
	}
	return "one is longer"
}

// One zone of each kind: held back by an acid subsoil, by wet ground, by rock, and one with too little data to be rated.
func TestExplanation(t *testing.T) {
	r := quillmoor.Result()
	for i, name := range map[int]string{5: "explain-acid.txt", 1: "explain-wet.txt", 4: "explain-shallow.txt", 7: "explain-unrated.txt"} {
		golden(t, name, func(b *bytes.Buffer) error { return Explain(b, &r.Zones[i], nil) })
	}
}

func TestSummary(t *testing.T) {
	golden(t, "summary.txt", func(b *bytes.Buffer) error { return Summary(b, quillmoor.Result(), SummaryOptions{Out: "run"}) })
}

// A farm of 1,505 fields must still give a page that can be read.
func TestSummaryOfManyFields(t *testing.T) {
	r := quillmoor.Result()
	fields := r.Fields
	for i := range 300 {
		for _, f := range fields {
			f.ID = fmt.Sprintf("%s-%d", f.ID, i+2)
			r.Fields = append(r.Fields, f)
		}
	}
	golden(t, "summary-many.txt", func(b *bytes.Buffer) error { return Summary(b, r, SummaryOptions{}) })
}

// Output goes into files and pipes as well, where escape codes would stand as rubbish.
func TestColorOnlyWhenAsked(t *testing.T) {
	var plain, colored bytes.Buffer
	if err := errors.Join(Summary(&plain, quillmoor.Result(), SummaryOptions{}), Summary(&colored, quillmoor.Result(), SummaryOptions{Color: true})); err != nil {
		t.Fatal(err)
	}
	if strings.Contains(plain.String(), "\x1b") {
		t.Error("escape codes in plain text")
	}
	stripped := strings.NewReplacer("\x1b[1m", "", "\x1b[0m", "").Replace(colored.String())
	if !strings.Contains(colored.String(), "\x1b[1m") || stripped != plain.String() {
		t.Error("colour changes more than the look")
	}
}

// Names come from files of others; none may move the cursor or clear the screen.
func TestNamesCannotDriveTheTerminal(t *testing.T) {
	r := quillmoor.Result()
	r.Fields[0].Name, r.Zones[0].FieldName, r.Zones[0].MapUnit = "a\x1b[2J\nb", "a\x1b[2J\nb", "\x9b31m"
	r.Zones[0].ID, r.Zones[0].Rating.Components[0].Name, r.Faults[0].What = "\x07", "\r", "\x1b]0;x\x07"
	var b bytes.Buffer
	if err := errors.Join(Summary(&b, r, SummaryOptions{}), Explain(&b, &r.Zones[0], nil)); err != nil {
		t.Fatal(err)
	}
	if i := strings.IndexAny(b.String(), "\x1b\x07\r\u009b"); i >= 0 {
		t.Errorf("control character at %q", b.String()[max(0, i-20):i+5])
	}
}

// A zone and a run without anything in them, and a width that is raised to what the table needs: no panic, and the zone is called not
// rated.
func TestAnEmptyZoneIsExplainedAsWell(t *testing.T) {
	var b bytes.Buffer
	if err := Explain(&b, &suitability.Zone{}, nil); err != nil || !strings.Contains(b.String(), "Not rated") {
		t.Errorf("%v: %s", err, b.String())
	}
	if err := Summary(&b, &suitability.Result{}, SummaryOptions{Width: 1}); err != nil {
		t.Error(err)
	}
}

// full is a writer on a disk without room.
type full struct{}

func (full) Write([]byte) (int, error) { return 0, errors.New("disk full") }

func TestWriteErrorsAreKept(t *testing.T) {
	r := quillmoor.Result()
	if Explain(full{}, &r.Zones[0], nil) == nil || Summary(full{}, r, SummaryOptions{}) == nil {
		t.Error("a full disk goes unnoticed")
	}
}

// Source: lb per 100 ft² to pH 6.5 by texture from pH 5.0, 5.5 and 6.0, the screening table: sandy loam 8, 6, 3; loam
// 10.5, 8, 4; clay loam 15, 10.5, 5.5 (a gardening reference page, read; its origin is unknown). The explanation gets
// its entries back from the rate in kg/m²; both ways must agree.
func TestTableEntriesAreThoseOfTheTable(t *testing.T) {
	for column, want := range map[lime.Texture][4]string{lime.SandyLoam: {"8", "6", "3", "0"}, lime.Loam: {"10.5", "8", "4", "0"}, lime.ClayLoam: {"15", "10.5", "5.5", "0"}} {
		for i, pH := range []float64{5, 5.5, 6, 6.5} {
			if got := plain(entry(column, pH), 4); got != want[i] {
				t.Errorf("%s at pH %g: %s, want %s", column, pH, got, want[i])
			}
		}
	}
	// rating rules, acceptance case 1, worked by hand: 8 − 2·.45/.5 = 6.2 lb per 100 ft²
	if got, want := reading(lime.SandyLoam, 5.45), "8 at 5.0, 6 at 5.5; at 5.45: 8 + (6 - 8) x (5.45 - 5.0) / 0.5 = 6.2"; got != want {
		t.Errorf("reading = %q, want %q", got, want)
	}
}
