// Package secondopinion asks programs of other houses what they think of our files. Only tests import it.
//
// A reader of our own finds its own writer's mistakes right. So outputs are also given to checkers that hold no code of ours, which lie beside
// the checkout, and to programs of the trade. Where they are not set up the test skips, saying what to set up.
package secondopinion

import (
	"encoding/csv"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"testing"
)

// Need is what a checker reads with.
type Need uint8

// The needs. Checkers are one program; each of its formats is read with one of these or both.
const (
	Node Need = iota // npm packages, under CHECKS_HOME or its usual place in the user's cache
	GDAL             // python3 with GDAL
)

// Checker returns how to run the independent checkers. A complaint of theirs is an error of the test; what they say is returned too.
func Checker(t testing.TB, need Need) func(args ...string) (said string) {
	t.Helper()
	check := filepath.Join(root(t), "../shared/checks/check")
	if _, err := os.Stat(check); err != nil {
		t.Skipf("checkers are not beside the checkout: %v", err)
	}
	switch need {
	case Node:
		if _, err := os.Stat(filepath.Join(home(t), "node_modules")); err != nil {
			t.Skipf("checkers are not set up: %v; run ../shared/checks/setup.sh", err)
		}
	case GDAL:
		if err := exec.Command("/usr/bin/python3", "-c", "import osgeo").Run(); err != nil {
			t.Skip("python3-gdal is not installed; run ../shared/checks/setup.sh")
		}
	}
	return func(args ...string) string {
		t.Helper()
		out, err := exec.Command(check, args...).CombinedOutput()
		if err != nil {
			t.Errorf("check %v: %v\n%s", args, err, out)
		}
		return string(out)
	}
}

// home is where the checkers keep the packages that they read with.
func home(t testing.TB) string {
	t.Helper()
	if dir := os.Getenv("CHECKS_HOME"); dir != "" {
		return dir
	}
	user, err := os.UserHomeDir()
	if err != nil {
		t.Skip("no home folder, so no checkers")
	}
	return filepath.Join(user, ".cache", "rw-checks")
}

// root is the folder of the repository: tests run in the folder of their package, which may lie at any depth.
func root(t testing.TB) string {
	t.Helper()
	dir, err := os.Getwd()
	if err != nil {
		t.Fatal(err)
	}
	for {
		if _, err := os.Stat(filepath.Join(dir, "go.mod")); err == nil {
			return dir
		}
		if dir == filepath.Dir(dir) {
			t.Fatal("no go.mod above the test")
		}
		dir = filepath.Dir(dir)
	}
}

// Tool returns how to run a program of the trade, whose standard output is returned; where it fails so does the test. It skips where the
// program is not installed, and names the package that it comes with.
func Tool(t testing.TB, name, from string) func(args ...string) string {
	t.Helper()
	path, err := exec.LookPath(name)
	if err != nil {
		t.Skipf("%s is not installed; it comes with %s", name, from)
	}
	return func(args ...string) string {
		t.Helper()
		out, err := exec.Command(path, args...).Output()
		if err != nil {
			t.Fatalf("%s %v: %v\n%s", name, args, err, complaint(err))
		}
		return string(out)
	}
}

// complaint is what a program that failed printed on standard error.
func complaint(err error) []byte {
	if exit, ok := err.(*exec.ExitError); ok {
		return exit.Stderr
	}
	return nil
}

// Rows reads a table of ours with encoding/csv, cells by the column's name.
func Rows(t testing.TB, r io.Reader) (rows []map[string]string) {
	t.Helper()
	all, err := csv.NewReader(r).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	for _, cells := range all[1:] {
		row := map[string]string{}
		for i, column := range all[0] {
			row[column] = cells[i]
		}
		rows = append(rows, row)
	}
	return rows
}
