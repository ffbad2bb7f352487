package main

import (
	"errors"
	"os"
	"path/filepath"
	"testing"

	"rootworthy/internal/web"
)

// The record of the page is a plain file: begun when it is not there, and left alone when somebody else has changed it.
func TestRecordFileIsNotOverwritten(t *testing.T) {
	path := filepath.Join(t.TempDir(), "record.csv")
	r, err := recordFile(path)
	if err != nil {
		t.Fatal(err)
	}
	if text, err := r.Read(); err != nil || len(text) != 0 {
		t.Fatalf("a file that is not there: %q, %v", text, err)
	}
	if err := r.Write(nil, []byte("one\n")); err != nil {
		t.Fatal(err)
	}
	if err := r.Write([]byte("one\n"), []byte("one\ntwo\n")); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(path, []byte("one\ntwo\nby hand\n"), 0o644); err != nil {
		t.Fatal(err)
	}
	if err := r.Write([]byte("one\ntwo\n"), []byte("one\ntwo\nthree\n")); !errors.Is(err, web.ErrChanged) {
		t.Errorf("a change from outside: %v", err)
	}
	if text, _ := os.ReadFile(path); string(text) != "one\ntwo\nby hand\n" {
		t.Errorf("the file holds %q", text)
	}
	// The record is written beside itself and put in place, and no such file may stay.
	left, _ := filepath.Glob(filepath.Join(filepath.Dir(path), ".*"))
	if len(left) > 0 {
		t.Errorf("left behind: %v", left)
	}
}

// A link to the record stays one.
func TestRecordBehindALink(t *testing.T) {
	dir := t.TempDir()
	real, link := filepath.Join(dir, "real.csv"), filepath.Join(dir, "link.csv")
	if err := os.WriteFile(real, []byte("one\n"), 0o600); err != nil {
		t.Fatal(err)
	}
	if err := os.Symlink(real, link); err != nil {
		t.Skip("this file system has no links:", err)
	}
	r, err := recordFile(link)
	if err != nil {
		t.Fatal(err)
	}
	if err := r.Write([]byte("one\n"), []byte("two\n")); err != nil {
		t.Fatal(err)
	}
	st, err := os.Lstat(link)
	if text, _ := os.ReadFile(real); err != nil || st.Mode()&os.ModeSymlink == 0 || string(text) != "two\n" {
		t.Errorf("the link became %v, the file behind it %q", st.Mode(), text)
	}
	if st, err := os.Stat(real); err != nil || st.Mode().Perm() != 0o600 {
		t.Errorf("a file that only its owner could read is now %v", st.Mode())
	}
}

// A folder, and a file in a folder that is not there, are told when the page starts and not when the first line is to be kept.
func TestRecordThatCannotBeKept(t *testing.T) {
	dir := t.TempDir()
	for _, path := range []string{dir, filepath.Join(dir, "none", "record.csv")} {
		if _, err := recordFile(path); !errors.As(err, new(usageError)) {
			t.Errorf("recordFile(%s): %v, want a fault of the command line", path, err)
		}
	}
}
