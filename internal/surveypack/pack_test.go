package surveypack

import (
	"bytes"
	"context"
	"encoding/json"
	"errors"
	"iter"
	"os"
	"path/filepath"
	"reflect"
	"testing"

	"github.com/paulmach/orb"

	"rootworthy/internal/diag"
	"rootworthy/internal/geo/overlay"
	"rootworthy/soils"
	"rootworthy/soils/ssurgo"
	"rootworthy/testdata/demo"

	"io/fs"
)

// export is an opened survey export.
type export struct {
	*ssurgo.Export
	survey *soils.Survey
}

func (e export) Survey() *soils.Survey { return e.survey }

func (e export) Polygons(ctx context.Context, emit func(area, key string, shape orb.MultiPolygon) error) error {
	return e.Export.Polygons(ctx, func(p ssurgo.Polygon) error { return emit(p.Area, p.Unit, p.Shape) })
}

func openExport(t testing.TB, fsys fs.FS) export {
	t.Helper()
	var faults diag.List
	e, err := ssurgo.Open(context.Background(), "survey", fsys, &faults)
	if err != nil {
		t.Fatal(err)
	}
	s, err := e.Survey(context.Background())
	if err != nil {
		t.Fatal(err)
	}
	return export{e, s}
}

func demoExport(t testing.TB) export {
	t.Helper()
	sub, err := fs.Sub(demo.Files, "survey")
	if err != nil {
		t.Fatal(err)
	}
	return openExport(t, sub)
}

func pack(t testing.TB, s Survey) string {
	t.Helper()
	dir := filepath.Join(t.TempDir(), "pack")
	var faults diag.List
	if _, err := Write(context.Background(), dir, s, Info{Made: "2026-11-25", Program: "test"}, &faults); err != nil {
		t.Fatal(err)
	}
	if faults.Faults() > 0 {
		t.Fatal(faults.String())
	}
	return dir
}

func open(t testing.TB, dir string) *Pack {
	t.Helper()
	p, err := Open(os.DirFS(dir))
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(p.Close)
	return p
}

// TestPackHoldsTheSurvey: every map unit comes back as it went in, the plane and the number of polygons too.
func TestPackHoldsTheSurvey(t *testing.T) {
	s := demoExport(t)
	p := open(t, pack(t, s))
	if p.Info.Polygons != 11 || p.Info.Units != 7 || p.Info.Made != "2026-11-25" || p.Info.Plane != p.Plane().String() {
		t.Errorf("info %+v", p.Info)
	}
	for _, u := range s.survey.Units {
		got, err := p.Unit(u.Key)
		if err != nil {
			t.Fatal(err)
		}
		a, _ := json.Marshal(u)
		b, _ := json.Marshal(got)
		if !bytes.Equal(a, b) {
			t.Errorf("map unit %s\n got %s\nwant %s", u.Key, b, a)
		}
	}
	if err := p.Verify(context.Background()); err != nil {
		t.Error(err)
	}
}

// TestPackCutsAsTheSurveyDoes on a real county: same pieces, same areas, bit for bit.
func TestPackCutsAsTheSurveyDoes(t *testing.T) {
	dir := filepath.Join("..", "..", "..", "shared", "data", "ssurgo-ar017")
	if _, err := os.Stat(dir); err != nil {
		t.Skipf("needs the real survey %s", dir)
	}
	s := openExport(t, os.DirFS(dir))
	p := open(t, pack(t, s))
	memory := overlay.New()
	err := s.Polygons(context.Background(), func(_, key string, shape orb.MultiPolygon) error {
		flat, err := p.Plane().ForwardMultiPolygon(shape, true)
		if err != nil {
			return err
		}
		return memory.Add(uint32(index(s.survey, key)), flat)
	})
	if err != nil {
		t.Fatal(err)
	}
	want, got := cut(t, memory, p), cut(t, p.Ground(), p)
	if len(want) == 0 || !reflect.DeepEqual(got, want) {
		t.Errorf("%d pieces from the pack, %d from memory, or other ones", len(got), len(want))
	}
}

func index(s *soils.Survey, key string) int {
	for i := range s.Units {
		if s.Units[i].Key == key {
			return i
		}
	}
	return -1
}

// cut cuts a box in the middle of the survey.
func cut(t *testing.T, c *overlay.Coverage, p *Pack) (pieces []overlay.Piece) {
	t.Helper()
	m := p.Extent().Center()
	box := orb.MultiPolygon{{{{m[0] - .05, m[1] - .05}, {m[0] + .05, m[1] - .05}, {m[0] + .05, m[1] + .05}, {m[0] - .05, m[1] + .05}, {m[0] - .05, m[1] - .05}}}}
	flat, err := p.Plane().ForwardMultiPolygon(box, true)
	if err != nil {
		t.Fatal(err)
	}
	var one iter.Seq2[int, orb.MultiPolygon] = func(yield func(int, orb.MultiPolygon) bool) { yield(0, flat) }
	err = c.Run(context.Background(), one, overlay.Options{Dissolve: true}, func(c overlay.Cut) error { pieces = c.Pieces; return nil })
	if err != nil {
		t.Fatal(err)
	}
	return pieces
}

// TestDamageIsTold: a changed byte or a missing file never passes for data.
func TestDamageIsTold(t *testing.T) {
	for _, name := range Files() {
		t.Run(name, func(t *testing.T) {
			dir := pack(t, demoExport(t))
			b, err := os.ReadFile(filepath.Join(dir, name))
			if err != nil {
				t.Fatal(err)
			}
			b[len(b)/2] ^= 0x40
			if err := os.WriteFile(filepath.Join(dir, name), b, 0o644); err != nil {
				t.Fatal(err)
			}
			err = verify(dir)
			if name != manifestFile { // a changed pack.json may be no pack's at all
				if !errors.Is(err, ErrDamaged) && !errors.Is(err, overlay.ErrDamaged) {
					t.Errorf("a changed byte gives %v", err)
				}
			}
			if err := os.Remove(filepath.Join(dir, name)); err != nil {
				t.Fatal(err)
			}
			if err := verify(dir); err == nil || name != manifestFile && !errors.Is(err, ErrDamaged) {
				t.Errorf("a missing file gives %v", err)
			}
		})
	}
}

func verify(dir string) error {
	p, err := Open(os.DirFS(dir))
	if err != nil {
		return err
	}
	defer p.Close()
	return p.Verify(context.Background())
}

// BenchmarkOpenPack opens the pack of a county.
func BenchmarkOpenPack(b *testing.B) {
	dir := filepath.Join("..", "..", "..", "shared", "data", "ssurgo-ar017")
	if _, err := os.Stat(dir); err != nil {
		b.Skipf("needs the real survey %s", dir)
	}
	packed := pack(b, openExport(b, os.DirFS(dir)))
	for b.Loop() {
		p, err := Open(os.DirFS(packed))
		if err != nil {
			b.Fatal(err)
		}
		p.Close()
	}
}
