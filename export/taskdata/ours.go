package taskdata

import (
	"bytes"
	"errors"
	"io"
	"path"
	"strings"
)

// Ours says whether a TASKDATA.XML was written by this program, so that nobody else's is ever replaced. The head of the
// file is enough.
func Ours(r io.Reader) error {
	head := make([]byte, 4096)
	n, err := io.ReadFull(r, head)
	if err != nil && !errors.Is(err, io.ErrUnexpectedEOF) {
		return err
	}
	if !bytes.Contains(head[:n], []byte(`ManagementSoftwareManufacturer="`+manufacturer+`"`)) {
		return errors.New("it was written by another program")
	}
	return nil
}

// IsZip says whether a file begins as a zip does.
func IsZip(r io.Reader) error {
	head := make([]byte, 4)
	if _, err := io.ReadFull(r, head); err != nil || !bytes.HasPrefix(head, []byte("PK")) {
		return errors.New("it is no zip")
	}
	return nil
}

// MayBeOurs says whether a file beside a TASKDATA.XML of ours is a grid of an earlier writing.
func MayBeOurs(name string) bool {
	base := path.Base(name)
	digits, ok := strings.CutPrefix(strings.TrimSuffix(base, gridSuffix), "GRD")
	// In the folder TASKDATA or, on a card, directly in it.
	return ok && strings.HasSuffix(base, gridSuffix) && len(digits) == 5 && strings.Trim(digits, "0123456789") == "" &&
		(name == base || name == folderName+"/"+base)
}
