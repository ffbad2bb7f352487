package main

import (
	"context"
	"flag"
	"os"
	"path/filepath"
	"testing"

	"github.com/rogpeppe/go-internal/testscript"
)

var update = flag.Bool("update", false, "rewrite the expected output in the stories")

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
		Condition: func(cond string) (bool, error) {
			_, err := os.Stat(filepath.Join(root, "..", "shared", "data"))
			return cond == "shared" && err == nil, nil
		},
		Cmds: map[string]func(*testscript.TestScript, bool, []string){"exits": exits},
	})
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
