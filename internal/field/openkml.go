package field

import (
	"bufio"
	"fmt"
	"io/fs"
	"net/url"
	"path"

	"rootworthy/internal/diag"
	geofeature "rootworthy/internal/geo/feature"
	"rootworthy/internal/geo/kml"
)

// readKML reads a KML, which is in longitude and latitude by its standard. The main file of a KMZ often holds nothing but
// links to a file for each layer in the same zip: those are read too, in the order of the links, each once. Links out of
// the zip, and those of a file that lies loose, are not followed.
func (s Source) readKML(in stream, faults *diag.List) (layer, error) {
	out := layer{name: in.name, format: "KML"}
	// A file that lies loose can be read at any place, a member of a zip cannot; so this tells a KMZ.
	inZip := in.at == nil
	// Files may link to each other in a circle.
	seen := map[string]bool{path.Clean(in.path): true}
	var linked []string
	read := func(in stream, dir string) error {
		out.name = in.name
		// Places are counted on over all files: they name features until these have ids.
		before := len(out.drawings)
		return kml.ScanLinks(in.name, in.r, faults, func(href string) bool {
			target, ok := beside(s.Files, dir, href)
			if ok = ok && inZip; ok && !seen[target] {
				seen[target] = true
				linked = append(linked, target)
			}
			return ok
		}, func(f geofeature.Feature) error {
			f.Index += before
			return out.take(f)
		})
	}
	err := read(in, path.Dir(in.path))
	// A list and not a recursion, so that a chain of links of any length takes no stack.
	for len(linked) > 0 && err == nil {
		target := linked[0]
		linked = linked[1:]
		err = func() error {
			full := s.Name + "/" + target
			f, err := s.Files.Open(target)
			if err != nil {
				return fmt.Errorf("%s: %w", full, cause(err))
			}
			defer f.Close()
			return read(stream{name: full, path: target, r: bufio.NewReaderSize(f, sniffed)}, path.Dir(target))
		}()
	}
	out.name = in.name
	return out, err
}

// beside returns the file in files that a link in folder dir leads to.
func beside(files fs.FS, dir, href string) (string, bool) {
	u, err := url.Parse(href)
	// Nothing is fetched: an address on the network is left alone, and told by the scanner as a link that was not
	// followed.
	if err != nil || u.Scheme != "" || u.Host != "" || u.Path == "" {
		return "", false
	}
	target := path.Join(dir, u.Path)
	// "../" may not lead out of the zip.
	if !fs.ValidPath(target) {
		return "", false
	}
	info, err := fs.Stat(files, target)
	return target, err == nil && info.Mode().IsRegular()
}
