package main

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"

	runfolder "rootworthy/internal/run"

	"rootworthy/internal/web"
)

// folder is a run folder, and what to call it.
type folder struct{ name, path string }

// runFolders tells runs from fields: a folder that is a run, or holds runs. Several folders are taken as several runs.
func runFolders(paths []string) (out []folder, areRuns bool, err error) {
	file := "" // the first that is none
	for _, p := range paths {
		st, err := os.Stat(p)
		if err != nil {
			return nil, false, err
		}
		if !st.IsDir() {
			if file == "" {
				file = p
			}
			continue
		}
		found, err := runsIn(p)
		if err != nil {
			return nil, false, err
		}
		if len(found) == 0 {
			return nil, false, fmt.Errorf("%s: holds no run; give a folder that screen wrote with --out, or one with such folders in it", p)
		}
		out = append(out, found...)
	}
	if file != "" && len(out) > 0 {
		return nil, false, usagef("%s is a file and %s a run; give runs or fields, not both", file, out[0].path)
	}
	return out, len(out) > 0, nil
}

// runsIn returns the folder itself when it is a run, else the runs directly in it, by name.
func runsIn(dir string) ([]folder, error) {
	if isRun(dir) {
		name := baseName(dir)
		// "." and ".." are no names to show; the folder's own is.
		if abs, err := filepath.Abs(dir); err == nil {
			name = baseName(abs)
		}
		return []folder{{name, dir}}, nil
	}
	entries, err := os.ReadDir(dir)
	if err != nil {
		return nil, err
	}
	var out []folder
	for _, e := range entries {
		// One level down and no deeper: a disk is not searched for runs.
		if path := filepath.Join(dir, e.Name()); e.IsDir() && isRun(path) {
			out = append(out, folder{e.Name(), path})
		}
	}
	return out, nil
}

// isRun says whether a folder is marked as a run, of whatever schema.
func isRun(dir string) bool {
	_, err := runfolder.ReadHead(os.DirFS(dir))
	// A run of a newer schema cannot be read, but it is one, and opening it will say why it cannot.
	return err == nil || !errors.Is(err, fs.ErrNotExist) && fileIn(dir, "run.json")
}

// fileIn says whether a folder holds a file of that name, and no folder.
func fileIn(dir, name string) bool {
	st, err := os.Stat(filepath.Join(dir, name))
	return err == nil && !st.IsDir()
}

// earlierRuns are the runs that a folder of runs holds already; a folder that is not there holds none.
func earlierRuns(dir string) ([]folder, error) {
	if _, err := os.Stat(dir); errors.Is(err, fs.ErrNotExist) {
		return nil, nil
	}
	if isRun(dir) {
		return nil, usagef("--runs: %s is a run itself; give a folder to keep runs in", dir)
	}
	return runsIn(dir)
}

// sources hands run folders to the page as file systems: nothing outside of them can be reached.
func sources(folders []folder) []web.Source {
	out := make([]web.Source, len(folders))
	for i, f := range folders {
		out[i] = web.Source{Name: f.name, Files: rooted{f.path}, Held: func() ([]byte, error) { return heldBeside(f.path) }}
	}
	return out
}

// rooted is a folder as a file system that follows no link out of it. It is opened for each file, so that a page that
// stands open for days holds no folder.
type rooted struct{ dir string }

// Open opens a file of the folder.
func (r rooted) Open(name string) (fs.File, error) {
	root, err := os.OpenRoot(r.dir)
	if err != nil {
		return nil, err
	}
	defer root.Close() // files that were opened stay so
	return root.FS().Open(name)
}
