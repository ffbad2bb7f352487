package words

import (
	"go/ast"
	"go/parser"
	"go/token"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"rootworthy/suitability"
)

// constants returns the exported string constants of a package by name, as its source has them.
func constants(t *testing.T, dir string) map[string]string {
	t.Helper()
	entries, err := os.ReadDir(dir)
	if err != nil {
		t.Fatal(err)
	}
	out := map[string]string{}
	for _, e := range entries {
		if !strings.HasSuffix(e.Name(), ".go") || strings.HasSuffix(e.Name(), "_test.go") {
			continue
		}
		f, err := parser.ParseFile(token.NewFileSet(), filepath.Join(dir, e.Name()), nil, 0)
		if err != nil {
			t.Fatal(err)
		}
		for _, d := range f.Decls {
			g, ok := d.(*ast.GenDecl)
			if !ok || g.Tok != token.CONST {
				continue
			}
			for _, s := range g.Specs {
				v := s.(*ast.ValueSpec)
				for i, name := range v.Names {
					if i >= len(v.Values) || !name.IsExported() {
						continue
					}
					if lit, ok := v.Values[i].(*ast.BasicLit); ok && lit.Kind == token.STRING {
						if text, err := strconv.Unquote(lit.Value); err == nil {
							out[name.Name] = text
						}
					}
				}
			}
		}
	}
	return out
}

// No reason code that the source declares is missing from the lists that [TestEveryCodeHasWordsForEveryReader] walks: a constant nobody
// listed would reach readers as it is.
//
// Two constants are no reasons: no limit at all, and why a surface was not used, which run.json tells and no report.
func TestNoCodeIsLeftOutOfTheLists(t *testing.T) {
	have := map[string]bool{}
	for _, l := range lists() {
		for _, c := range l.codes {
			have[c] = true
		}
	}
	n := 0
	for _, dir := range []string{"../../suitability", "../../suitability/sampling"} {
		for name, code := range constants(t, dir) {
			if n++; !have[code] && code != suitability.NoBetterThanMean && name != "NotLimited" {
				t.Errorf("%s: %s = %q is in no list of codes with words", dir, name, code)
			}
		}
	}
	if n < 60 {
		t.Errorf("only %d codes found", n)
	}
}
