package unzip

import (
	"archive/zip"
	"io"
	"strings"
	"unicode/utf8"

	"golang.org/x/text/encoding/charmap"
)

// Open is [zip.NewReader] with names that can be looked up: slashes between folders, text in UTF-8. Errors are those of the library;
// [zip.ErrFormat] is what is no zip, or one cut off.
func Open(r io.ReaderAt, size int64) (*zip.Reader, error) {
	z, err := zip.NewReader(r, size)
	if err != nil {
		return nil, err
	}
	// The library makes its list of names when a file is first looked up, so they can be put right until then.
	for _, f := range z.File {
		f.Name = plainName(f.Name)
	}
	return z, nil
}

// plainName is a name as it should have been written.
// The format wants forward slashes; a backslash in a name is a folder's on Windows, and hardly ever a letter of a file's name elsewhere.
func plainName(name string) string {
	if !utf8.ValidString(name) {
		// Names that do not say UTF-8 are in this code page by the format's own rule (APPNOTE.TXT, appendix D.1). Another page gives other
		// letters, but a name that can be opened: every byte of it is some letter.
		if s, err := charmap.CodePage437.NewDecoder().String(name); err == nil {
			name = s
		}
	}
	return strings.ReplaceAll(name, `\`, "/")
}
