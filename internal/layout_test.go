// Package internal_test holds the rules of the house that no compiler checks: which package may import which, and
// which words may not stand in the project.
package internal_test

import (
	"go/parser"
	"go/token"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"
)

// arrows says what of ours each package may import. A package also imports its own parents' models. An entry covers
// the packages below it that have no entry of their own. It changes only together with DEVELOPERS.md.
var arrows = map[string][]string{
	"soils/unit":             {},
	"internal/diag":          {},
	"internal/ordered":       {},
	"internal/atomicfile":    {},
	"internal/unzip":         {},
	"internal/geo":           {"internal/geo", "internal/diag", "internal/ordered", "internal/unzip"},
	"internal/field":         {"internal/geo", "internal/diag", "internal/ordered", "soils/unit"},
	"internal/csvlist":       {"internal/diag"},
	"internal/tomltext":      {"internal/diag"},
	"internal/secondopinion": {},
	"soils":                  {"soils", "internal/geo", "internal/diag", "internal/csvlist", "internal/tomltext", "internal/unzip"},
	"raster":                 {"raster", "internal/geo", "internal/diag", "internal/ordered"},
	"suitability":            {"suitability", "soils", "internal/geo", "internal/diag", "internal/csvlist", "internal/tomltext"},
	"export":                 {"export", "suitability", "soils", "raster", "internal/geo", "internal/diag"},
	"internal/run":           {"export", "suitability", "soils", "internal/geo", "internal/diag", "internal/atomicfile"},
	"internal/soildata":      {"internal/soildata", "soils", "internal/geo", "internal/diag", "internal/atomicfile", "internal/ordered"},
	"internal/soilmap":       {"soils", "raster", "internal/geo", "internal/diag", "internal/ordered"},
	"internal/gdal":          {"internal/soilmap", "soils", "internal/geo", "internal/diag"},
	"internal/surveypack":    {"soils", "internal/geo", "internal/diag", "internal/atomicfile"},
	"internal/job":           {"suitability", "soils", "raster", "internal/geo", "internal/field", "internal/diag", "internal/ordered"},
	"internal/web":           {"internal/job", "internal/run", "export", "suitability", "soils", "internal/geo", "internal/field", "internal/diag"},
	"internal/bench":         {"internal", "soils", "suitability", "export", "raster", "testdata/demo"},
	"cmd":                    {"internal", "soils", "suitability", "export", "raster", "testdata/demo", "cmd"},
	"testdata/demo":          {"internal/geo", "internal/diag", "internal/atomicfile"},
}

// outside says who alone may use the parts of the standard library that reach outside the program. Tests may.
var outside = map[string][]string{
	"os":       {"cmd", "internal/atomicfile", "internal/bench", "internal/secondopinion", "internal/soildata", "testdata/demo/gen"},
	"net":      {"cmd", "internal/web"},
	"net/http": {"cmd", "internal/web", "internal/soildata"},
	"log":      {"cmd"},
	"flag":     {"cmd", "internal/bench"},
}

func TestImportArrows(t *testing.T) {
	eachGoFile(t, func(path string) {
		pkg := filepath.ToSlash(filepath.Dir(path))
		if strings.HasSuffix(path, "_test.go") {
			return
		}
		f, err := parser.ParseFile(token.NewFileSet(), filepath.Join("..", path), nil, parser.ImportsOnly)
		if err != nil {
			t.Fatal(err)
		}
		for _, imp := range f.Imports {
			name, _ := strconv.Unquote(imp.Path.Value)
			if who, ok := outside[name]; ok && !within(pkg, who) {
				t.Errorf("%s imports %q, which only %v may", path, name, who)
			}
			ours, ok := strings.CutPrefix(name, "rootworthy/")
			if ok && !within(ours, allowed(pkg)) && !strings.HasPrefix(pkg+"/", ours+"/") {
				t.Errorf("%s may not import %q; allowed: %v", path, name, allowed(pkg))
			}
		}
	})
}

// allowed returns the entry for pkg or its nearest parent that has one.
func allowed(pkg string) []string {
	for p := pkg; p != "."; p = filepath.ToSlash(filepath.Dir(p)) {
		if a, ok := arrows[p]; ok {
			return a
		}
	}
	return nil
}

func within(pkg string, roots []string) bool {
	return slices.ContainsFunc(roots, func(r string) bool { return pkg == r || strings.HasPrefix(pkg, r+"/") })
}

// TestNoVagueNames keeps packages nouns of the trade.
func TestNoVagueNames(t *testing.T) {
	eachGoFile(t, func(path string) {
		for _, part := range strings.Split(filepath.ToSlash(path), "/") {
			switch strings.TrimSuffix(part, ".go") {
			case "util", "utils", "common", "helpers", "base", "types", "models", "misc":
				t.Errorf("%s: %q says nothing; name it after its idea", path, part)
			}
		}
	})
}

func eachGoFile(t *testing.T, do func(path string)) {
	t.Helper()
	n := 0
	err := filepath.WalkDir("..", func(path string, d fs.DirEntry, err error) error {
		if err != nil {
			return err
		}
		if d.IsDir() && (strings.HasPrefix(d.Name(), ".") && d.Name() != "..") {
			return filepath.SkipDir
		}
		if !d.IsDir() && strings.HasSuffix(path, ".go") {
			rel, _ := filepath.Rel("..", path)
			n++
			do(rel)
		}
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	if n < 20 {
		t.Fatalf("only %d Go files seen: the test looks in the wrong place", n)
	}
}

// TestFilesStayShort holds the longest file under the limit of the house.
func TestFilesStayShort(t *testing.T) {
	const longest = 500
	eachGoFile(t, func(path string) {
		b, err := os.ReadFile(filepath.Join("..", path))
		if err != nil {
			t.Fatal(err)
		}
		if n := strings.Count(string(b), "\n"); n > longest {
			t.Errorf("%s has %d lines, over %d: it tells more than one story", path, n, longest)
		}
	})
}
