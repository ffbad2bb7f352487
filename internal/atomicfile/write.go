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
// renames it; on any error the temporary file is removed and what stood at path before is untouched.
func Write(path string, fill func(io.Writer) error) (err error) {
	// Beside the file and not in the system's folder for such: a rename across file systems is a copy, and a copy can be
	// half done.
	tmp, err := os.CreateTemp(filepath.Dir(path), "."+filepath.Base(path)+".*.tmp")
	if err != nil {
		return fmt.Errorf("%s: cannot create: %w", path, err)
	}
	defer func() {
		if err != nil {
			tmp.Close()
			os.Remove(tmp.Name())
			err = fmt.Errorf("%s: cannot write: %w", path, err)
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
