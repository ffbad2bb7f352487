// Package atomicfile creates files that are whole or absent: a reader never sees half of one under its final name.
package atomicfile

import (
	"bufio"
	"fmt"
	"io"
	"os"
	"path/filepath"
)

// Write fills path by calling fill with a buffered writer. It writes a temporary file beside path, syncs it and
// renames it; on any error the temporary file is removed and what stood at path before is untouched. Of a link, the file behind it is
// written. A folder, a device or a pipe is refused.
func Write(path string, fill func(io.Writer) error) (err error) {
	named := path
	if path, err = target(path); err != nil {
		return err
	}
	// Beside the file and not in the system's folder for such: a rename across file systems is a copy, and a copy can be
	// half done.
	tmp, err := os.CreateTemp(filepath.Dir(path), "."+filepath.Base(path)+".*.tmp")
	if err != nil {
		return fmt.Errorf("%s: cannot create: %w", named, err)
	}
	defer func() {
		if err != nil {
			tmp.Close()
			os.Remove(tmp.Name())
			err = fmt.Errorf("%s: cannot write: %w", named, err)
		}
	}()
	w := bufio.NewWriterSize(tmp, 1<<16)
	if err = fill(w); err != nil {
		return err
	}
	if err = w.Flush(); err != nil {
		return err
	}
	if err = tmp.Chmod(0o644); err != nil { // CreateTemp makes 0600
		return err
	}
	// Before the rename: after a power failure the name could otherwise stand for a file whose content never reached the
	// disk.
	if err = tmp.Sync(); err != nil {
		return err
	}
	if err = tmp.Close(); err != nil {
		return err
	}
	return os.Rename(tmp.Name(), path)
}

// target is the file that a path means. A rename puts a file in the place of whatever has the name: of /dev/stdout, which then is gone for
// every program of the machine, or of the link by which somebody keeps the file in another folder.
func target(path string) (string, error) {
	st, err := os.Stat(path)
	switch {
	// Mostly because it is new. What else there may be is told by the attempt to write it.
	case err != nil:
		return path, nil
	case !st.Mode().IsRegular():
		return "", fmt.Errorf("%s: is no ordinary file but a folder, a device or a pipe; name a file", path)
	}
	if st, err = os.Lstat(path); err != nil || st.Mode()&os.ModeSymlink == 0 {
		return path, err
	}
	return filepath.EvalSymlinks(path)
}
