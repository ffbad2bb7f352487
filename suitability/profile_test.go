package suitability

import (
	"errors"
	"io"
	"slices"
	"strings"
	"testing"
	"testing/iotest"

	"rootworthy/internal/diag"
)

// edit puts « » around what replaces old in the default profile, so that a test can mark where the fault is.
func edit(t *testing.T, old, with string) (text string, line int) {
	t.Helper()
	whole := DefaultProfileText()
	if strings.Count(whole, old) != 1 {
		t.Fatalf("%q stands %d times in the profile, want once", old, strings.Count(whole, old))
	}
	marked := strings.Replace(whole, old, with, 1)
	before, rest, ok := strings.Cut(marked, "«")
	if !ok {
		t.Fatalf("%q marks no place", with)
	}
	return before + strings.Replace(rest, "»", "", 1), 1 + strings.Count(before, "\n")
}

// One fault a case: the place of it is marked in what replaces a line of the default profile.
func TestProfileFaults(t *testing.T) {
	for name, c := range map[string]struct{ old, with, field, says string }{
		"misspelt table": {"[salinity]", "«[salinty]»", "salinty", "did you mean salinity?"},
		"misspelt key in a row": {`{ value = 152, score = 70,  status = "published", source`, `{ value = 152, score = 70,  status = "published", «sourse» = "x", source`,
			"available_water.points[2].sourse", "did you mean source?"},
		"misspelt rule":          {"rated_least        =", "«rated_last»        =", "rules.rated_last", "did you mean rated_least?"},
		"text for a number":      {"{ value = 152, score", `{ «value» = "152", score`, "available_water.points[2].value", "a number"},
		"not a number":           {"{ value = 152, score", "{ «value» = nan, score", "available_water.points[2].value", "between"},
		"score over 100":         {"{ value = 200, score = 100,", "{ value = 200, «score» = 101,", "available_water.points[3].score", "between 0 and 100"},
		"unknown status":         {`{ value = 75,  score = 40,  status = "proposal"`, `{ value = 75,  score = 40,  «status» = "guess"`, "available_water.points[1].status", `"guess" is not a status`},
		"published by nobody":    {`{ value = 75,  score = 40,  status = "proposal"`, `«{» value = 75,  score = 40,  status = "published"`, "available_water.points[1].source", "has no source"},
		"values out of order":    {"{ value = 75,  score = 40,", "{ value = 160,  score = 40,", "available_water.points[2]", "value 152 comes after 160"},
		"a limit without point":  {"{ value = 75,  score = 40,", "{ value = 75,  score = 41,", "available_water.points[1]", "crosses score 40"},
		"two humps":              {"{ value = 15, score = 40,  status", "{ value = 15, score = 70,  status = \"proposal\" },\n  { value = 16, score = 40, status = \"proposal\" },\n  { value = 17, score = 41,  status", "slope.points[4]", "rises again"},
		"nothing suited":         {"points = [\n  { value = 0,  score = 100, status = \"proposal\" },\n  { value = 8,  score = 70,  status = \"proposal\" },\n  { value = 15,", "points = [\n  { value = 15,", "slope.points", "no value would be suited"},
		"another unit":           {`unit = "mm"`, `«unit» = "in"`, "available_water.unit", "give the points in mm"},
		"unit of a rule":         {`unit = "months",       status = "proposal"`, `«unit» = "weeks",       status = "proposal"`, "lime.wait.unit", "give the value in months"},
		"target too low":         {"value = 6.5\nrange = \"6.0 to", "«value» = 6.0\nrange = \"6.0 to", "target[1].value", "6 is not between 6.2 and 7"},
		"default target too low": {"target       = { value = 6.5,", "target       = { «value» = 6.1,", "lime.target.value", "6.1 is not between 6.2"},
		"state twice":            {`state = "SC"`, `«state» = "GA"`, "target[1].state", "second time"},
		"cap over the most":      {"cap          = { value = 2.5,", "«cap»          = { value = 5,", "lime.cap", "5 is over cap_most, 4"},
		"no such day":            {`first = "09-15"`, `«first» = "09-31"`, "window[0].first", `"09-31" is not a day`},
		"a word of its own":      {`word = "Subaqueous", `, `«word» = "Soggy", `, "drainage.words[0].word", `"Soggy" is not a class`},
		"a word twice":           {`word = "Somewhat excessively drained", score = 90`, `«word» = "Well drained", score = 90`, "drainage.words[6].word", "second time"},
		"window upside down":     {"subsoil_from       = { value = 30,", "«subsoil_from»       = { value = 100,", "rules.subsoil_from", "100 is not less than subsoil_to, 100"},
		"not TOML":               {"[sodicity]", "«[sodicity»", "", "mend this line"},
		"key twice":              {`edition = "2026.1"`, "edition = \"2026.1\"\n«edition» = \"2\"", "", "mend this line"},
	} {
		t.Run(name, func(t *testing.T) {
			line := 0
			text := ""
			if strings.Contains(c.with, "«") {
				text, line = edit(t, c.old, c.with)
			} else { // the fault lies at the point after the changed one, or at it; only its field is checked
				text, _ = edit(t, c.old, "«"+c.with+"»")
			}
			var faults diag.List
			p, err := LoadProfile("crop.toml", strings.NewReader(text), &faults)
			if p != nil || err != nil {
				t.Errorf("LoadProfile = %v, %v; want neither", p, err)
			}
			i := slices.IndexFunc(faults.Kept(), func(f diag.Fault) bool { return f.Field == c.field && strings.Contains(f.String(), c.says) })
			if i < 0 {
				t.Fatalf("no fault of field %q that says %q among\n%s", c.field, c.says, &faults)
			}
			f := faults.Kept()[i]
			if f.File != "crop.toml" || f.Line == 0 || (line != 0 && f.Line != line) {
				t.Errorf("fault at %s:%d, want crop.toml:%d", f.File, f.Line, line)
			}
		})
	}
}

// A profile that lacks everything is told of everything: who writes one mends it in one go.
func TestAllFaultsAreToldAtOnce(t *testing.T) {
	var faults diag.List
	p, err := LoadProfile("empty.toml", strings.NewReader(`name = "mine"`), &faults)
	if p != nil || err != nil {
		t.Errorf("LoadProfile of a name alone = %v, %v", p, err)
	}
	for _, field := range []string{"edition", "drainage", "flooding", "ponding", "depth", "water_table", "ph_surface", "ph_subsoil",
		"salinity", "sodicity", "available_water", "slope", "rules", "lime"} {
		if !slices.ContainsFunc(faults.Kept(), func(f diag.Fault) bool { return f.Field == field }) {
			t.Errorf("the missing key %s is not told in\n%s", field, &faults)
		}
	}
}

// A reader that fails is an error; text that would cost memory or depth of recursion is refused as a fault.
func TestProfileThatCannotBeRead(t *testing.T) {
	var faults diag.List
	if _, err := LoadProfile("gone.toml", iotest.ErrReader(errors.New("gone")), &faults); err == nil {
		t.Error("an error of the reader was swallowed")
	}
	for name, text := range map[string]io.Reader{
		"huge":   io.LimitReader(zeros{}, 1<<40),
		"nested": strings.NewReader("a = " + strings.Repeat("[", 100_000)),
		"nul":    strings.NewReader("\x00"),
		"wide":   strings.NewReader("[" + strings.Repeat("a", 200_000) + "]\n" + strings.Repeat("b = 1\n", 30_000)),
		"dotted": strings.NewReader(strings.Repeat("a.", 100_000) + "a = 1"),
	} {
		var faults diag.List
		p, err := LoadProfile(name, text, &faults)
		if p != nil || err != nil || faults.Faults() == 0 {
			t.Errorf("%s: %v, %v, %d faults; want a fault", name, p, err, faults.Faults())
		}
	}
}

// zeros never ends.
type zeros struct{}

func (zeros) Read(b []byte) (int, error) { return len(b), nil }

// A byte order mark, CRLF line ends and tables written out are the same profile.
func TestProfileSpelledOtherwise(t *testing.T) {
	text := "\xef\xbb\xbf" + strings.ReplaceAll(DefaultProfileText(), "\n", "\r\n")
	var faults diag.List
	p, err := LoadProfile("dos.toml", strings.NewReader(text), &faults)
	if err != nil || p == nil {
		t.Fatalf("%v\n%s", err, &faults)
	}
	long := strings.Replace(DefaultProfileText(), `[slope] # a limit of machines and erosion, not of the stand
unit = "%"
points = [
  { value = 0,  score = 100, status = "proposal" },
  { value = 8,  score = 70,  status = "proposal" },
  { value = 15, score = 40,  status = "proposal" },
  { value = 30, score = 0,   status = "proposal" },
]`, `[slope]
unit = "%"
[[slope.points]]
value = 0
score = 100
status = "proposal"
[[slope.points]]
value = 30
score = 100
status = "guess"
`, 1)
	if _, err = LoadProfile("long.toml", strings.NewReader(long), &faults); err != nil {
		t.Fatal(err)
	}
	want := 1 + strings.Count(long[:strings.Index(long, `"guess"`)], "\n")
	kept := faults.Kept()
	if len(kept) != 1 || kept[0].Line != want || kept[0].Field != "slope.points[1].status" {
		t.Errorf("want one fault, at line %d, got\n%s", want, &faults)
	}
}

// Targets of states by postal code in any writing, and the bounds of a target that a user chooses.
func TestTargets(t *testing.T) {
	p := DefaultProfile()
	for _, c := range []struct {
		state   string
		ph      float64
		missing bool
	}{
		{"", 6.5, false}, {"ga", 6.5, false}, {" KY ", 6.8, false}, {"PA", 7, false}, {"TX", 6.8, false},
		{"AL", 6.5, true}, {"AR", 6.5, true}, {"IA", 6.5, true}, // not found, or never looked for: the default with a flag
	} {
		got := p.TargetOf(c.state)
		if float64(got.PH) != c.ph || got.Missing != c.missing || got.Source == "" {
			t.Errorf("TargetOf(%q) = %+v, want %v, missing %v, with a source", c.state, got, c.ph, c.missing)
		}
	}
	for _, ph := range []float64{6.1, 7.1, 65} {
		if _, err := p.ChosenTarget(unitPH(ph)); err == nil {
			t.Errorf("a target of %v was taken", ph)
		}
	}
	if got, err := p.ChosenTarget(6.8); err != nil || got.PH != 6.8 {
		t.Errorf("ChosenTarget(6.8) = %+v, %v", got, err)
	}
}

// The empty status, which no number may have, is not in the list.
func TestStatusesAreWords(t *testing.T) {
	if len(Statuses()) != 4 || slices.Contains(Statuses(), "") {
		t.Errorf("statuses %q", Statuses())
	}
}

// FuzzLoadProfile: any text is refused with faults or gives a profile that rates without a panic.
func FuzzLoadProfile(f *testing.F) {
	whole := DefaultProfileText()
	f.Add(whole)
	f.Add(`name = "x"`)
	f.Add("[[target]]\nstate = \"GA\"\n[[target.x]]\ny = [1, {z = 2}]")
	f.Add(strings.Replace(whole, "score = 0", "score = 40", -1))
	unit := madeUnit()
	f.Fuzz(func(t *testing.T, text string) {
		var faults diag.List
		p, err := LoadProfile("fuzz.toml", strings.NewReader(text), &faults)
		if err != nil {
			t.Fatal(err)
		}
		if (p == nil) != (faults.Faults() > 0) {
			t.Fatalf("profile %v with %d faults:\n%s", p != nil, faults.Faults(), &faults)
		}
		for _, k := range faults.Kept() {
			if k.Line < 0 || k.Line > 1+strings.Count(text, "\n") {
				t.Fatalf("fault at a line that is not there: %s", k)
			}
		}
		if p != nil {
			r := p.RateUnit(unit, RateOptions{Drained: true})
			if r.Shares.Rated > 100 {
				t.Fatalf("shares %+v", r.Shares)
			}
		}
	})
}
