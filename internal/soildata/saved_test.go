package soildata

import (
	"context"
	"encoding/json"
	"net/http"
	"net/http/httptest"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"
)

// Answers of the real service over a box in New Hampshire, saved in 2025 by an open project (the folder's README names
// it), are served again and must come out as a plain JSON reader has them.
func TestSavedAnswersOfTheService(t *testing.T) {
	dir := shared(t, "sda-json")
	server := httptest.NewServer(http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		w.Header().Set("Content-Type", "application/json; charset=utf-8")
		http.ServeFileFS(w, r, os.DirFS(dir), r.PostFormValue("query"))
	}))
	defer server.Close()
	opt, _ := Options{Dir: t.TempDir(), BaseURL: server.URL, Wait: time.Millisecond}.filled()
	s, err := newService(opt)
	if err != nil {
		t.Fatal(err)
	}
	for file, columns := range map[string]string{
		"survey.json":       "mukey,areasymbol,saverest",
		"restrictions.json": "mukey,cokey,reskind,resdept_r",
		"horizons.json":     "mukey,muname,musym,cokey,compname,comppct_r,majcompflag,chkey,hzname,hzdept_r,hzdepb_r,ksat_r,texture",
		"mupolygon.json":    "mukey,mupolygonkey,geom",
	} {
		a, _, err := s.ask(context.Background(), question{text: file, columns: strings.Split(columns, ",")})
		if err != nil {
			t.Fatalf("%s: %v", file, err)
		}
		compareSaved(t, filepath.Join(dir, file), a)
		for _, row := range a.rows {
			switch file {
			case "mupolygon.json":
				if shape, err := parseWKT(row[2].Text); err != nil || len(shape) == 0 {
					t.Errorf("polygon %s: %v", row[1].Text, err)
				}
			case "survey.json":
				if day := dayOf(row[2].Text); day != "2025-09-10" { // 9/10/2025 5:41:54 PM
					t.Errorf("date %q is read as %q", row[2].Text, day)
				}
			}
		}
	}
}

// compareSaved compares an answer with the file as encoding/json reads it.
func compareSaved(t *testing.T, file string, a *answer) {
	t.Helper()
	b, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	var plain struct{ Table [][]*string }
	if err := json.Unmarshal(b, &plain); err != nil {
		t.Fatal(err)
	}
	if len(a.rows) != len(plain.Table)-1 {
		t.Fatalf("%s: %d rows, want %d", file, len(a.rows), len(plain.Table)-1)
	}
	for i, row := range a.rows {
		for j, c := range row {
			if p := plain.Table[i+1][j]; c.Set != (p != nil) || p != nil && c.Text != *p {
				t.Fatalf("%s: row %d: %+v, want %v", file, i, c, p)
			}
		}
	}
}
