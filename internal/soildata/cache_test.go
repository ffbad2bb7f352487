package soildata

import (
	"context"
	"errors"
	"net"
	"net/http"
	"os"
	"path/filepath"
	"reflect"
	"strings"
	"testing"

	"rootworthy/internal/diag"
)

var (
	county = Request{Areas: []string{"AR017"}}
	farm   = Request{Fields: []Outline{{ID: "F1", Shape: square(-90.995, 33.002, 0.01)}}}
)

// neverDial fails the test when anything is dialled.
func neverDial(t *testing.T) *http.Transport {
	return &http.Transport{DialContext: func(context.Context, string, string) (net.Conn, error) {
		t.Error("a connection was asked for")
		return nil, errors.New("no network in this test")
	}}
}

// list returns what stands in a folder, hidden files too.
func list(t testing.TB, dir string) []string {
	t.Helper()
	entries, err := os.ReadDir(dir)
	if err != nil && !os.IsNotExist(err) {
		t.Fatal(err)
	}
	names := []string{}
	for _, e := range entries {
		names = append(names, e.Name())
	}
	return names
}

// The second time only the version is asked for.
func TestSameVersionIsNotFetchedTwice(t *testing.T) {
	service, opt := serve(t, excerptFolder)
	first, _ := fetch(t, county, opt)
	if want := []string{"AR017-22-2021-09-13"}; !reflect.DeepEqual(list(t, opt.Dir), want) {
		t.Fatalf("the cache holds %v, want %v", list(t, opt.Dir), want)
	}
	n := len(service.Queries())
	again, faults := fetch(t, county, opt)
	if len(again) != 1 || !again[0].Cached || again[0].Folder != first[0].Folder || faults.Notices() > 0 {
		t.Errorf("again %+v\n%s", again, faults)
	}
	if more := len(service.Queries()) - n; more != 1 {
		t.Errorf("%d questions for a survey that is there, want 1 for its version", more)
	}
	if got, _ := fetch(t, farm, opt); len(got) != 1 || got[0].Folder != first[0].Folder || !got[0].Whole {
		t.Errorf("fields got %+v, though the whole area is there", got)
	}
	service.Set("sacatalog", "saversion", "23")
	renewed, _ := fetch(t, county, opt)
	if renewed[0].Cached || renewed[0].Version != "23" || renewed[0].Folder == first[0].Folder {
		t.Errorf("renewed %+v", renewed)
	}
	opt.Offline, opt.Client = true, neverDial(t)
	if got, _ := fetch(t, county, opt); got[0].Version != "23" {
		t.Errorf("offline took version %s, not the newest", got[0].Version)
	}
}

// The transport fails the test if anything is dialled.
func TestOfflineNeverDials(t *testing.T) {
	_, opt := serve(t, excerptFolder)
	whole, _ := fetch(t, county, opt)
	other := opt
	other.Dir = t.TempDir()
	part, _ := fetch(t, farm, other)

	opt.Offline, opt.Client, opt.BaseURL = true, neverDial(t), ""
	if got, faults := fetch(t, county, opt); !got[0].Cached || got[0].Folder != whole[0].Folder || faults.Notices() > 0 {
		t.Errorf("area: %+v\n%s", got, faults)
	}
	_, err := Fetch(context.Background(), farm, opt, &diag.List{})
	if err == nil || !strings.Contains(err.Error(), "no survey was fetched for these fields") {
		t.Errorf("fields never asked for: %v", err)
	}
	_, err = Fetch(context.Background(), Request{Areas: []string{"MO181"}}, opt, &diag.List{})
	if err == nil || !strings.Contains(err.Error(), "no sound survey of all of MO181") {
		t.Errorf("area never asked for: %v", err)
	}
	faults := &diag.List{}
	opt.Dir = t.TempDir()
	if err := (cache{dir: opt.Dir, faults: faults}).remember(fingerprint(grouped(farm.Fields, faults), opt.limits), nil); err != nil {
		t.Fatal(err)
	}
	if got, err := Fetch(context.Background(), farm, opt, faults); err != nil || len(got) != 0 || faults.Faults() != 1 || !strings.Contains(faults.String(), "had no soil survey") {
		t.Errorf("fields that no survey has: %v, %v, %s", got, err, faults)
	}
	opt.Dir = other.Dir
	if got, _ := fetch(t, farm, opt); got[0].Folder != part[0].Folder {
		t.Errorf("fields: %+v", got)
	}
}

// Each case is a way in which a cache goes bad on a disk, or is made to.
func TestDamageIsFoundToldAndMended(t *testing.T) {
	for name, damage := range map[string]func(dir string) error{
		"a cell changed": func(dir string) error {
			p := filepath.Join(dir, "tabular", "comp.txt")
			b, err := os.ReadFile(p)
			if err != nil {
				return err
			}
			return os.WriteFile(p, []byte(strings.Replace(string(b), "Grenada", "Granada", 1)), 0o644)
		},
		"map cut off":       func(dir string) error { return os.Truncate(filepath.Join(dir, "spatial", "soilmu_a_ar017.shp"), 300) },
		"table gone":        func(dir string) error { return os.Remove(filepath.Join(dir, "tabular", "chorizon.txt")) },
		"manifest gone":     func(dir string) error { return os.Remove(filepath.Join(dir, manifestFile)) },
		"manifest is empty": func(dir string) error { return os.WriteFile(filepath.Join(dir, manifestFile), nil, 0o644) },
		"a layer more": func(dir string) error {
			return os.WriteFile(filepath.Join(dir, "spatial", "soilmu_a_x.shp"), []byte("x"), 0o644)
		},
		"of another survey": func(dir string) error {
			p := filepath.Join(dir, manifestFile)
			b, err := os.ReadFile(p)
			if err != nil {
				return err
			}
			return os.WriteFile(p, []byte(strings.Replace(string(b), "AR017", "AR019", 1)), 0o644)
		},
	} {
		t.Run(name, func(t *testing.T) {
			_, opt := serve(t, excerptFolder)
			got, _ := fetch(t, county, opt)
			dir := got[0].Folder
			want := sums(t, dir)
			if err := damage(dir); err != nil {
				t.Fatal(err)
			}
			off := opt
			off.Offline, off.Client = true, neverDial(t)
			if got, err := Fetch(context.Background(), county, off, &diag.List{}); err == nil {
				t.Errorf("offline a damaged survey was used: %+v", got)
			}
			mended, faults := fetch(t, county, opt)
			if mended[0].Cached || faults.Notices() != 1 || !strings.Contains(faults.String(), "not as it was written") {
				t.Errorf("%+v\n%s", mended, faults)
			}
			if !reflect.DeepEqual(sums(t, dir), want) || len(list(t, opt.Dir)) != 1 {
				t.Errorf("after mending the files differ, or more is there: %v", list(t, opt.Dir))
			}
		})
	}
}

// A fetch that breaks off asks for nothing twice.
func TestFetchGoesOnAfterABreak(t *testing.T) {
	service, opt := serve(t, excerptFolder)
	service.Before = func(n int, w http.ResponseWriter, r *http.Request) bool {
		if n < 9 {
			return false
		}
		w.WriteHeader(http.StatusBadGateway)
		return true
	}
	_, err := Fetch(context.Background(), county, opt, &diag.List{})
	if err == nil || !strings.Contains(err.Error(), "is kept") {
		t.Fatalf("error %v", err)
	}
	if want := []string{"AR017-22-2021-09-13.parts"}; !reflect.DeepEqual(list(t, opt.Dir), want) {
		t.Errorf("after the break the cache holds %v, want %v", list(t, opt.Dir), want)
	}
	before := service.Queries()
	service.Before = nil
	got, faults := fetch(t, county, opt)
	if len(got) != 1 || faults.Notices() > 0 || len(list(t, opt.Dir)) != 1 {
		t.Errorf("%+v, cache %v\n%s", got, list(t, opt.Dir), faults)
	}
	asked := map[string]bool{}
	for _, q := range before[:8] {
		asked[q] = true
	}
	for _, q := range service.Queries()[len(before):] {
		if asked[q] && !strings.Contains(q, "saverest FROM legend") { // the version is asked for anew each time
			t.Errorf("asked again: %s", q)
		}
	}
	clean := opt
	clean.Dir = t.TempDir()
	whole, _ := fetch(t, county, clean)
	if !reflect.DeepEqual(sums(t, got[0].Folder), sums(t, whole[0].Folder)) {
		t.Error("a survey fetched in two goes differs from one fetched in one")
	}
}

// A run that broke off leaves answers; one that was changed since must not get into the survey.
func TestDamagedPartIsAskedForAgain(t *testing.T) {
	service, opt := serve(t, excerptFolder)
	service.Before = func(n int, w http.ResponseWriter, r *http.Request) bool {
		if n < 9 {
			return false
		}
		w.WriteHeader(http.StatusForbidden)
		return true
	}
	if _, err := Fetch(context.Background(), county, opt, &diag.List{}); err == nil {
		t.Fatal("no error")
	}
	dir := filepath.Join(opt.Dir, list(t, opt.Dir)[0])
	part := filepath.Join(dir, list(t, dir)[0])
	if err := os.WriteFile(part, []byte(`{"Table":[["x"],["y"]]}`), 0o644); err != nil {
		t.Fatal(err)
	}
	service.Before = nil
	got, faults := fetch(t, county, opt)
	if len(got) != 1 || faults.Notices() != 1 || !strings.Contains(faults.String(), "asked for again") {
		t.Errorf("%+v\n%s", got, faults)
	}
}

// The version changes between the tables and the shapes: half of each would be a survey that never was.
func TestSurveyRenewedMeanwhileIsNotMixed(t *testing.T) {
	service, opt := serve(t, excerptFolder)
	service.Before = func(n int, w http.ResponseWriter, r *http.Request) bool {
		if strings.Contains(r.PostFormValue("query"), "STAsText") {
			service.Set("sacatalog", "saversion", "23")
		}
		return false
	}
	_, err := Fetch(context.Background(), county, opt, &diag.List{})
	if err == nil || !strings.Contains(err.Error(), "renewed") {
		t.Fatalf("error %v", err)
	}
	if left := list(t, opt.Dir); len(left) != 0 {
		t.Errorf("left behind: %v", left)
	}
}

// Two programs that fetch the same at once may get into each other's way, but what stands in the cache is whole.
func TestTwoAtOnce(t *testing.T) {
	_, opt := serve(t, excerptFolder)
	done := make(chan error)
	for range 2 {
		go func() {
			_, err := Fetch(context.Background(), county, opt, &diag.List{})
			done <- err
		}()
	}
	first, second := <-done, <-done
	if first != nil && second != nil {
		t.Errorf("neither came through: %v; %v", first, second)
	}
	if _, err := verify(filepath.Join(opt.Dir, "AR017-22-2021-09-13")); err != nil {
		t.Error(err)
	}
}

// Cancelled at whatever question, the cache holds whole answers or a whole survey, never half of one.
func TestCancelLeavesNothingHalfWritten(t *testing.T) {
	service, opt := serve(t, excerptFolder)
	fetch(t, county, opt)
	questions := len(service.Queries())
	for at := 1; at <= questions; at++ {
		service, opt := serve(t, excerptFolder)
		ctx, cancel := context.WithCancel(context.Background())
		service.Before = func(n int, w http.ResponseWriter, r *http.Request) bool {
			if n == at {
				cancel()
				<-r.Context().Done()
				return true
			}
			return false
		}
		_, err := Fetch(ctx, county, opt, &diag.List{})
		cancel()
		if !errors.Is(err, context.Canceled) {
			t.Fatalf("cancelled at question %d: %v", at, err)
		}
		for _, name := range list(t, opt.Dir) {
			if !strings.HasSuffix(name, partsEnding) {
				t.Fatalf("cancelled at question %d: %s is there", at, name)
			}
			for _, part := range list(t, filepath.Join(opt.Dir, name)) {
				b, err := os.ReadFile(filepath.Join(opt.Dir, name, part))
				if err != nil || !strings.HasSuffix(part, "-"+digest(b)+partEnding) {
					t.Fatalf("cancelled at question %d: %s is no whole answer", at, part)
				}
			}
		}
	}
}
