package atomicfile

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path"
	"path/filepath"
	"slices"
	"sync"
)

// Folder is a folder whose files appear together or not at all.
type Folder struct {
	Dir    string
	Files  []string               // every file it gets, "a/b" for one in a folder within; the last marks it as complete and is put in place last
	Marked func(io.Reader) error  // says whether a marker is one of ours; nil takes any
	Stale  func(name string) bool // says which further files, and folders of such, an earlier writing may have left; they go when it is replaced. nil: none
}

// atOnce is how many files are filled at a time: enough to keep the disk busy, few enough for the limit on open files.
const atOnce = 16

// tmpPattern names the folder in which files wait until all are whole.
const tmpPattern = ".rootworthy-*.tmp"

// litter are files that file managers strew about; they are nobody's work and do not make a folder foreign.
var litter = []string{".DS_Store", "Thumbs.db", "desktop.ini"}

// Check says whether Write would be allowed: the folder is absent, empty, or complete and of the same making. It
// changes nothing. A folder that holds anything else is refused, so that nobody's file is ever lost.
func (f Folder) Check() error {
	_, err := f.present()
	return err
}

// present returns the names of ours that stand in the folder, or an error when it holds anything else.
func (f Folder) present() (names []string, err error) {
	ours := map[string]bool{} // files, and the folders that they stand in
	for _, name := range f.Files {
		for dir := path.Dir(name); dir != "."; dir = path.Dir(dir) {
			ours[dir] = true
		}
		ours[name] = true
	}
	// Nothing of ours means empty, for anything foreign was an error already; then no marker is asked for.
	if names, err = f.list("", ours); err != nil || len(names) == 0 {
		return nil, err
	}
	return names, f.checkMarker(names)
}

// list returns the names of ours in a folder within, and in those in it.
func (f Folder) list(within string, ours map[string]bool) (names []string, err error) {
	entries, err := os.ReadDir(filepath.Join(f.Dir, filepath.FromSlash(within)))
	if errors.Is(err, fs.ErrNotExist) {
		return nil, nil
	}
	if err != nil {
		return nil, fmt.Errorf("%s: cannot be used as a folder for results: %w", f.Dir, err)
	}
	for _, e := range entries {
		name := path.Join(within, e.Name())
		// The pattern is our own and sound, so there is no error to look at.
		leftover, _ := filepath.Match(tmpPattern, e.Name())
		stale := f.Stale != nil && f.Stale(name)
		switch {
		// A link or a device of one of our names is no file that was written here, and falls through to the refusal.
		case (ours[name] || stale) && e.Type().IsRegular():
			names = append(names, name)
		case (ours[name] || stale) && e.IsDir():
			more, err := f.list(name, ours)
			if err != nil {
				return nil, err
			}
			names = append(names, more...)
		// Left of a program that was killed; swept after the next writing.
		case leftover && e.IsDir(), slices.Contains(litter, e.Name()):
		default:
			return nil, fmt.Errorf("%s: holds %q, which is none of the files that belong here; name an empty or new folder", f.Dir, name)
		}
	}
	return names, nil
}

// checkMarker says whether files of our names are of our making: somebody may have a fields.csv of their own.
func (f Folder) checkMarker(names []string) error {
	marker := f.Files[len(f.Files)-1]
	if !slices.Contains(names, marker) {
		return fmt.Errorf("%s: holds %q but no %s, so it is not a complete run; name an empty or new folder", f.Dir, names[0], marker)
	}
	if f.Marked == nil {
		return nil
	}
	r, err := os.Open(filepath.Join(f.Dir, marker))
	if err != nil {
		return fmt.Errorf("%s: %w", f.Dir, err)
	}
	defer r.Close()
	if err := f.Marked(r); err != nil {
		return fmt.Errorf("%s: holds a %s that is not of a run (%v); name an empty or new folder", f.Dir, marker, err)
	}
	return nil
}

// Write fills every file of the folder by fill, several at once, and puts them in place together. What stood in the
// folder before is replaced whole; on any error the folder is as it was: absent, empty, or with its old files.
func (f Folder) Write(fill func(name string, w io.Writer) error) (err error) {
	// Looked at again, though the caller may have asked [Folder.Check]: hours of work may lie between.
	old, err := f.present()
	if err != nil {
		return err
	}
	// A folder that this call has made goes again if the writing fails: absent is what it was.
	undo, err := makeDirs(f.Dir)
	if err != nil {
		return fmt.Errorf("%s: cannot create: %w", f.Dir, err)
	}
	defer func() {
		if err != nil {
			undo()
		}
	}()
	// Within the folder, because a rename works on one file system only and the folder may be a mount point.
	tmp, err := os.MkdirTemp(f.Dir, tmpPattern)
	if err != nil {
		return fmt.Errorf("%s: cannot write: %w", f.Dir, err)
	}
	defer os.RemoveAll(tmp)
	if err := f.fillAll(tmp, fill); err != nil {
		return err
	}
	if err := f.swap(tmp, old); err != nil {
		return fmt.Errorf("%s: cannot put the files in place: %w", f.Dir, err)
	}
	// Folders within that only the old writing needed.
	f.prune(old)
	f.sweep()
	return nil
}

// prune removes folders within that held old files and hold nothing any more; what holds anything stays.
func (f Folder) prune(old []string) {
	for _, name := range old {
		for dir := path.Dir(name); dir != "."; dir = path.Dir(dir) {
			if os.Remove(filepath.Join(f.Dir, filepath.FromSlash(dir))) != nil {
				break
			}
		}
	}
}

// fillAll writes every file into tmp, many at once: most of the time goes into waiting for the disk. The first error in
// the order of Files wins.
func (f Folder) fillAll(tmp string, fill func(name string, w io.Writer) error) error {
	// By place in Files, so that which error is told does not depend on which file was quicker.
	errs := make([]error, len(f.Files))
	places := make(chan struct{}, atOnce)
	var wg sync.WaitGroup
	for i, name := range f.Files {
		if err := os.MkdirAll(filepath.Join(tmp, filepath.FromSlash(path.Dir(name))), 0o755); err != nil {
			errs[i] = err
			break
		}
		// Waits here, in the loop, so that no more than atOnce goroutines are ever there.
		places <- struct{}{}
		wg.Go(func() {
			defer func() { <-places }()
			if err := Write(filepath.Join(tmp, filepath.FromSlash(name)), func(w io.Writer) error { return fill(name, w) }); err != nil {
				// Without what Write said of the temporary path, which means nothing to the user and is gone by then.
				errs[i] = fmt.Errorf("%s: %s: %w", f.Dir, name, errors.Unwrap(err))
			}
		})
	}
	wg.Wait()
	for _, err := range errs {
		if err != nil {
			return err
		}
	}
	return nil
}

// swap moves the old files out and the new ones in. The marker goes first and comes last, so that a reader who looks
// in between sees no run rather than half of two. Any failure moves everything back.
//
// The folder itself stays: it may be a mount point or somebody's working directory, which a rename would break.
func (f Folder) swap(tmp string, old []string) (err error) {
	// The old files are kept until all new ones stand in place; they go with the temporary folder.
	attic := filepath.Join(tmp, "old")
	if err := os.Mkdir(attic, 0o755); err != nil {
		return err
	}
	// One list of moves, so that undoing is the same list backwards.
	type move struct{ from, to string }
	var moves []move
	in := func(dir, name string) string { return filepath.Join(dir, filepath.FromSlash(name)) }
	marker := f.Files[len(f.Files)-1]
	if slices.Contains(old, marker) {
		moves = append(moves, move{in(f.Dir, marker), in(attic, marker)})
	}
	for _, name := range old {
		if name != marker {
			moves = append(moves, move{in(f.Dir, name), in(attic, name)})
		}
	}
	for _, name := range f.Files {
		// In the order of Files, the marker last.
		moves = append(moves, move{in(tmp, name), in(f.Dir, name)})
	}
	var undo []func()
	for i, m := range moves {
		// Folders within are made when the first file moves in.
		remove, err := makeDirs(filepath.Dir(m.to))
		if err == nil {
			undo = append(undo, remove)
			err = os.Rename(m.from, m.to)
		}
		if err != nil {
			for _, back := range slices.Backward(moves[:i]) {
				err = errors.Join(err, os.Rename(back.to, back.from))
			}
			for _, remove := range slices.Backward(undo) {
				remove()
			}
			return err
		}
	}
	return nil
}

// sweep removes what an interrupted run left behind. Nothing depends on it, so its errors do not matter.
func (f Folder) sweep() {
	entries, _ := os.ReadDir(f.Dir)
	for _, e := range entries {
		if leftover, _ := filepath.Match(tmpPattern, e.Name()); leftover && e.IsDir() {
			os.RemoveAll(filepath.Join(f.Dir, e.Name()))
		}
	}
}

// makeDirs creates dir and its parents; undo removes those that were created and are still empty.
func makeDirs(dir string) (undo func(), err error) {
	var made []string // deepest first
	for d := filepath.Clean(dir); ; d = filepath.Dir(d) {
		// The root is its own parent, and ends the walk.
		if _, err := os.Stat(d); err == nil || d == filepath.Dir(d) {
			break
		}
		made = append(made, d)
	}
	undo = func() {
		for _, d := range made {
			// os.Remove takes no folder that holds something; whoever put it there in the meantime keeps it, and so all above it
			// stay.
			if os.Remove(d) != nil {
				return
			}
		}
	}
	if err := os.MkdirAll(dir, 0o755); err != nil {
		undo()
		return nil, err
	}
	return undo, nil
}
