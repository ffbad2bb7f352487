package atomicfile

import (
	"errors"
	"io"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

func testFolder(dir string) Folder {
	return Folder{Dir: dir, Files: []string{"a.csv", "b.csv", "mark.json"}, Marked: func(r io.Reader) error {
		if b, err := io.ReadAll(r); err != nil || !strings.HasPrefix(string(b), "mark") {
			return errors.New("no mark")
		}
		return nil
	}}
}

func content(text string) func(string, io.Writer) error {
	return func(name string, w io.Writer) error {
		_, err := io.WriteString(w, name[:1]+name[1:]+" "+text)
		return err
	}
}

// listing prints a folder as "name=content" lines, hidden files too; "absent" when there is none.
func listing(t *testing.T, dir string) string {
	t.Helper()
	entries, err := os.ReadDir(dir)
	if errors.Is(err, os.ErrNotExist) {
		return "absent"
	}
	if err != nil {
		t.Fatal(err)
	}
	var out []string
	for _, e := range entries {
		b, _ := os.ReadFile(filepath.Join(dir, e.Name()))
		out = append(out, e.Name()+"="+string(b))
	}
	return strings.Join(out, "\n")
}

// Into folders that are not there yet; the second writing replaces every file of the first.
func TestFolderAppearsWholeAndIsReplacedWhole(t *testing.T) {
	f := testFolder(filepath.Join(t.TempDir(), "not", "yet", "there"))
	for _, text := range []string{"first", "second"} {
		if err := f.Check(); err != nil {
			t.Fatal(err)
		}
		if err := f.Write(content(text)); err != nil {
			t.Fatal(err)
		}
		want := "a.csv=a.csv " + text + "\nb.csv=b.csv " + text + "\nmark.json=mark.json " + text
		if got := listing(t, f.Dir); got != want {
			t.Errorf("folder holds\n%s\nwant\n%s", got, want)
		}
	}
	if st, err := os.Stat(filepath.Join(f.Dir, "a.csv")); err != nil || st.Mode().Perm() != 0o644 {
		t.Errorf("mode %v, %v; want 0644", st.Mode(), err)
	}
}

// On any failure the folder is as it was: absent, empty, or with its old files.
func TestFailureLeavesTheFolderAsItWas(t *testing.T) {
	boom := errors.New("disk full")
	for _, c := range []struct {
		name string
		make func(Folder)
		fail func(name string, w io.Writer) error
	}{
		{"absent", func(Folder) {}, nil},
		{"empty", func(f Folder) { os.MkdirAll(f.Dir, 0o755) }, nil},
		{"old files", func(f Folder) { f.Write(content("old")) }, nil},
	} {
		for _, failing := range testFolder("").Files {
			root := t.TempDir()
			f := testFolder(filepath.Join(root, "deep", "out"))
			c.make(f)
			before := listing(t, f.Dir)
			err := f.Write(func(name string, w io.Writer) error {
				io.WriteString(w, "half of "+name)
				if name == failing {
					return boom
				}
				return nil
			})
			if !errors.Is(err, boom) || !strings.Contains(err.Error(), failing) {
				t.Errorf("%s: err = %v, want the cause and the file %s", c.name, err, failing)
			}
			if after := listing(t, f.Dir); after != before {
				t.Errorf("%s, failing at %s: folder holds\n%s\nbefore\n%s", c.name, failing, after, before)
			}
			if c.name == "absent" && listing(t, root) != "" {
				t.Errorf("parents are left: %s", listing(t, root))
			}
		}
	}
}

// A move that fails in the middle is undone. A folder in the place of a file makes os.Rename fail.
func TestAMoveThatFailsIsUndone(t *testing.T) {
	f := testFolder(t.TempDir())
	if err := f.Write(content("old")); err != nil {
		t.Fatal(err)
	}
	before := listing(t, f.Dir)
	err := f.Write(func(name string, w io.Writer) error {
		if name == "mark.json" { // all checks are over: put something in the way of b.csv
			os.Remove(filepath.Join(f.Dir, "b.csv"))
			os.MkdirAll(filepath.Join(f.Dir, "b.csv", "x"), 0o755)
		}
		return content("new")(name, w)
	})
	if err == nil {
		t.Skip("this system renames a file over a folder")
	}
	os.RemoveAll(filepath.Join(f.Dir, "b.csv"))
	if after, want := listing(t, f.Dir), strings.ReplaceAll(before, "b.csv=b.csv old\n", ""); after != want {
		t.Errorf("folder holds\n%s\nwant\n%s", after, want)
	}
}

// Nobody's file may be lost to a slip in the name of the folder.
func TestForeignFoldersAreRefusedUntouched(t *testing.T) {
	for name, files := range map[string]map[string]string{
		"somebody's file":             {"notes.txt": "mine"},
		"a run and somebody's file":   {"a.csv": "", "mark.json": "mark", "notes.txt": "mine"},
		"file of ours without a mark": {"a.csv": "mine, by chance of the same name"},
		"a mark that is not ours":     {"mark.json": "{}"},
		"somebody's folder":           {"a.csv/x": ""},
	} {
		f := testFolder(t.TempDir())
		for path, text := range files {
			full := filepath.Join(f.Dir, path)
			os.MkdirAll(filepath.Dir(full), 0o755)
			os.WriteFile(full, []byte(text), 0o644)
		}
		before := listing(t, f.Dir)
		errCheck, errWrite := f.Check(), f.Write(content("new"))
		if errCheck == nil || errWrite == nil || !strings.Contains(errWrite.Error(), "empty or new folder") {
			t.Errorf("%s: Check %v, Write %v; want both to refuse and say what to do", name, errCheck, errWrite)
		}
		if after := listing(t, f.Dir); after != before {
			t.Errorf("%s: folder holds\n%s\nbefore\n%s", name, after, before)
		}
	}
}

func TestAFileInPlaceOfTheFolderIsRefused(t *testing.T) {
	path := filepath.Join(t.TempDir(), "out")
	os.WriteFile(path, []byte("mine"), 0o644)
	if err := testFolder(path).Write(content("new")); err == nil {
		t.Error("a file was taken for a folder")
	}
	if b, _ := os.ReadFile(path); string(b) != "mine" {
		t.Errorf("file now holds %q", b)
	}
}

// What file managers and killed programs leave is no reason to refuse, and the latter goes.
func TestLitterAndLeftoversDoNotMatter(t *testing.T) {
	f := testFolder(t.TempDir())
	os.WriteFile(filepath.Join(f.Dir, ".DS_Store"), nil, 0o644)
	os.MkdirAll(filepath.Join(f.Dir, ".rootworthy-123.tmp", "old"), 0o755)
	if err := f.Write(content("new")); err != nil {
		t.Fatal(err)
	}
	if got := listing(t, f.Dir); strings.Contains(got, "tmp") {
		t.Errorf("a leftover of an interrupted run is still there:\n%s", got)
	}
}

// A writing with fewer files takes those of the earlier one away, but only once it has succeeded; a stranger's file
// within is noticed.
func TestFoldersWithinAndFilesOfAnEarlierWriting(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "out")
	f := testFolder(dir)
	f.Files = []string{"note.txt", "in/1.bin", "in/2.bin", "in/mark.json"}
	f.Stale = func(name string) bool { return strings.HasPrefix(name, "in/") && strings.HasSuffix(name, ".bin") }
	marked := func(name string, w io.Writer) error { _, err := io.WriteString(w, "mark "+name); return err }
	if err := f.Write(marked); err != nil {
		t.Fatal(err)
	}
	f.Files = []string{"note.txt", "in/1.bin", "in/mark.json"}
	broken := func(name string, w io.Writer) error {
		if name == "in/mark.json" {
			return errors.New("disk full")
		}
		return marked(name, w)
	}
	if err := f.Write(broken); err == nil {
		t.Error("a failed file was passed over")
	}
	if got := listing(t, filepath.Join(dir, "in")); !strings.Contains(got, "2.bin=mark in/2.bin") {
		t.Errorf("after a failure the folder holds\n%s", got)
	}
	if err := f.Write(marked); err != nil {
		t.Fatal(err)
	}
	if got, want := listing(t, filepath.Join(dir, "in")), "1.bin=mark in/1.bin\nmark.json=mark in/mark.json"; got != want {
		t.Errorf("folder within holds\n%s\nwant\n%s", got, want)
	}
	if err := os.WriteFile(filepath.Join(dir, "in", "mine.txt"), nil, 0o644); err != nil {
		t.Fatal(err)
	}
	if err := f.Check(); err == nil {
		t.Error("somebody's file in a folder within was not noticed")
	}
}

func TestAFolderOfAnEarlierWritingGoesWithItsFiles(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "out")
	f := testFolder(dir)
	f.Files = []string{"one/a.txt", "two/b.txt", "mark.json"}
	f.Stale = func(name string) bool { return name == "two" || name == "two/b.txt" }
	marked := func(name string, w io.Writer) error { _, err := io.WriteString(w, "mark "+name); return err }
	if err := f.Write(marked); err != nil {
		t.Fatal(err)
	}
	f.Files = []string{"one/a.txt", "mark.json"}
	if err := os.WriteFile(filepath.Join(dir, "two", "mine.txt"), nil, 0o644); err != nil {
		t.Fatal(err)
	}
	if err := f.Write(marked); err == nil {
		t.Error("somebody's file in a folder of an earlier writing was not noticed")
	}
	if err := os.Remove(filepath.Join(dir, "two", "mine.txt")); err != nil {
		t.Fatal(err)
	}
	if err := f.Write(marked); err != nil {
		t.Fatal(err)
	}
	if got := listing(t, filepath.Join(dir, "two")); got != "absent" {
		t.Errorf("the folder of the earlier writing holds\n%s", got)
	}
	if got, want := listing(t, filepath.Join(dir, "one")), "a.txt=mark one/a.txt"; got != want {
		t.Errorf("the folder holds\n%s\nwant\n%s", got, want)
	}
}
