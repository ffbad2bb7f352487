package soildata

import (
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"strings"

	"rootworthy/internal/atomicfile"
	"rootworthy/internal/diag"
)

// parts keeps the answers that came while a survey is fetched, so that a break costs one question at most. The name of
// each is the digest of its question and that of itself: what is damaged shows.
type parts struct {
	dir    string
	names  map[string]string // digest of a question → file name
	faults *diag.List
}

// openParts lists what a run that broke off has left in a folder, which may be absent.
func openParts(dir string, faults *diag.List) *parts {
	p := &parts{dir: dir, names: map[string]string{}, faults: faults}
	entries, _ := os.ReadDir(dir) // unreadable is as good as empty: everything is asked again
	for _, e := range entries {
		if q, _, ok := strings.Cut(e.Name(), "-"); ok && e.Type().IsRegular() && strings.HasSuffix(e.Name(), partEnding) {
			p.names[q] = e.Name()
		}
	}
	return p
}

// partEnding is that of kept answers; other files in the folder are not looked at.
const partEnding = ".json"

// digest names content: 64 letters, fit for a file name.
func digest(b []byte) string {
	sum := sha256.Sum256(b)
	return hex.EncodeToString(sum[:])
}

// get returns the kept answer to a question. Damage is told and counts as absent.
func (p *parts) get(question string, most int64) ([]byte, bool) {
	q := digest([]byte(question))
	name, ok := p.names[q]
	if !ok {
		return nil, false
	}
	path := filepath.Join(p.dir, name)
	b, err := readBounded(path, most)
	// the name says what the content must be, so no second file can disagree with it
	if err == nil && name == q+"-"+digest(b)+partEnding {
		return b, true
	}
	delete(p.names, q)
	if errors.Is(err, fs.ErrNotExist) {
		return nil, false // another program was done with it
	}
	p.faults.Notice(diag.Fault{File: path, Kind: "damaged part", What: "an answer kept from before is not as it was written", Fix: "it is asked for again"})
	os.Remove(path)
	return nil, false
}

// put keeps an answer.
func (p *parts) put(question string, answer []byte) error {
	if err := os.MkdirAll(p.dir, 0o755); err != nil {
		return fmt.Errorf("%s: cannot keep what was fetched: %w", p.dir, err)
	}
	q := digest([]byte(question))
	name := q + "-" + digest(answer) + partEnding
	p.names[q] = name
	return atomicfile.Write(filepath.Join(p.dir, name), func(w io.Writer) error {
		_, err := w.Write(answer)
		return err
	})
}

// drop removes the answers, and the folder unless another program is at work in it. What cannot be removed does no harm.
func (p *parts) drop() {
	for _, name := range p.names {
		os.Remove(filepath.Join(p.dir, name))
	}
	// fails while anything is left in it, which is meant
	os.Remove(p.dir)
}

// readBounded reads a file of at most so many bytes.
func readBounded(path string, most int64) ([]byte, error) {
	f, err := os.Open(path)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	b, err := io.ReadAll(io.LimitReader(f, most+1))
	if err == nil && int64(len(b)) > most {
		err = fmt.Errorf("%s: larger than %d bytes", path, most)
	}
	return b, err
}
