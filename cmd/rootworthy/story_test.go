package main

import (
	"context"
	"flag"
	"fmt"
	"net/http"
	"net/http/httptest"
	"os"
	"path/filepath"
	"testing"

	"github.com/rogpeppe/go-internal/testscript"

	"rootworthy/internal/soildata/standin"
)

var update = flag.Bool("update", false, "rewrite the expected output in the stories")

// The program itself stands behind the name rootworthy in the stories, so they need no build of it.
func TestMain(m *testing.M) {
	testscript.Main(m, map[string]func(){
		"rootworthy": func() { os.Exit(run(context.Background(), os.Args[1:], stdio{os.Stdin, os.Stdout, os.Stderr})) },
	})
}

// TestStories runs the real program through each user's task: command, output, files, exit code.
func TestStories(t *testing.T) {
	root, err := filepath.Abs("../..")
	if err != nil {
		t.Fatal(err)
	}
	testscript.Run(t, testscript.Params{
		Dir:           filepath.Join(root, "testdata", "stories"),
		UpdateScripts: *update,
		Setup: func(e *testscript.Env) error {
			e.Setenv("DEMO", filepath.Join(root, "testdata", "demo"))
			e.Setenv("SHARED", filepath.Join(root, "..", "shared", "data"))
			return nil
		},
		// Lines of a story marked [shared] are passed over where the large data of a whole county are not at hand.
		Condition: func(cond string) (bool, error) {
			_, err := os.Stat(filepath.Join(root, "..", "shared", "data"))
			return cond == "shared" && err == nil, nil
		},
		Cmds: map[string]func(*testscript.TestScript, bool, []string){"exits": exits, "service": service},
	})
}

// service starts a stand-in for the Soil Data Access service over a survey and puts its address into $SERVICE. With
// "down" behind, the first two questions meet its daily maintenance; with "closed", all do.
func service(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) < 1 || len(args) > 2 {
		ts.Fatalf("usage: service SURVEY [down|closed]")
	}
	s, err := standin.New(os.DirFS(ts.MkAbs(args[0])))
	ts.Check(err)
	s.Before = func(n int, w http.ResponseWriter, r *http.Request) bool {
		if len(args) == 1 || args[1] == "down" && n > 2 {
			return false
		}
		fmt.Fprint(w, "Site is under daily maintenance. Please try again later.")
		return true
	}
	server := httptest.NewServer(s)
	ts.Defer(server.Close)
	ts.Setenv("SERVICE", server.URL)
}

// exits runs a command and compares its exit code: exits 3 rootworthy screen …
func exits(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) < 2 {
		ts.Fatalf("usage: exits CODE COMMAND ARGS…")
	}
	err := ts.Exec(args[1], args[2:]...)
	code := "0"
	if err != nil {
		code = "1"
		if x, ok := err.(interface{ ExitCode() int }); ok {
			code = string(rune('0' + x.ExitCode()%10))
			if x.ExitCode() == exitInterrupted {
				code = "130"
			}
		}
	}
	if code != args[0] {
		ts.Fatalf("exit code %s, want %s", code, args[0])
	}
}
