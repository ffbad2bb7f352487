package ssurgo

import (
	"io"
	"strings"
	"testing"
	"testing/iotest"
)

// The slow obvious twin of the stream is strings.ReplaceAll; chunks of every size must give the same.
func TestUnescapedStream(t *testing.T) {
	for _, s := range []string{"", `\`, `\"`, `a\"b`, `\\"`, `\\`, `"x\"|"y\""`, strings.Repeat(`\"`, 3000), strings.Repeat(`\`, 5000) + `"`, `\x\"`} {
		want := strings.ReplaceAll(s, `\"`, `""`)
		for name, r := range map[string]io.Reader{"whole": strings.NewReader(s), "bytes": iotest.OneByteReader(strings.NewReader(s)),
			"halves": iotest.HalfReader(strings.NewReader(s)), "error with data": iotest.DataErrReader(strings.NewReader(s))} {
			got, err := io.ReadAll(&unescaped{r: r})
			if err != nil || string(got) != want {
				t.Errorf("%s of %.20q: got %.40q, %v, want %.40q", name, s, got, err, want)
			}
		}
	}
}

// Every line of the embedded table is read: positions within the width, each table with the key that joins it.
func TestBuiltinSchema(t *testing.T) {
	s := builtin()
	if len(s) != 10 {
		t.Errorf("%d tables, want 10", len(s))
	}
	columns := 0
	for name, l := range s {
		key := false
		for c, at := range l.columns {
			columns++
			key = key || strings.HasSuffix(c, "key") || c == "areasymbol"
			if at.at < 0 || at.at >= l.width || (at.ranged && at.min >= at.max) {
				t.Errorf("%s.%s: %+v of %d", name, c, at, l.width)
			}
		}
		if !key || l.file == "" || l.table != name {
			t.Errorf("%s: %+v", name, l)
		}
	}
	if want := strings.Count(schemaCSV, "\n") - 1; columns != want {
		t.Errorf("%d columns, want %d: a name stands twice", columns, want)
	}
}
