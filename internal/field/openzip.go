package field

import (
	"bufio"
	"context"
	"fmt"
	"io/fs"
	"path"
	"strings"

	"rootworthy/internal/diag"
	"rootworthy/internal/geo/kml"
	"rootworthy/internal/geo/shapefile"
)

// readZip reads the one layer of a zip: a shapefile, else a file of another format.
func (s Source) readZip(ctx context.Context, in stream, faults *diag.List) (layer, error) {
	// A zip has its list of members at its end, so it must be read from there first; a member of another zip comes as a
	// stream.
	if in.at == nil {
		return layer{}, fmt.Errorf("%s: is a zip, which cannot be read from here; unpack it", in.name)
	}
	files, err := shapefile.OpenZip(in.name, in.at, in.size)
	if err != nil {
		return layer{}, err
	}
	// Shapefiles come first: what is sold and sent as "the shapefile" is a zip, and anything beside it in the zip is
	// about it.
	if shps, err := shapefile.Find(files); err == nil && len(shps) == 0 {
		name, all := s.onlyMember(files)
		if name != "" {
			return s.readMember(ctx, files, name, faults)
		}
		if len(all) > 1 && s.Layer == "" {
			return layer{}, fmt.Errorf("%s: holds %d files of boundaries (%s); name one of them with --layer", in.name, len(all), someOf(all))
		}
		if len(all) > 0 && s.Layer != "" {
			return layer{}, fmt.Errorf("%s: holds no %q; it holds %s", in.name, s.Layer, someOf(all))
		}
	}
	// A workbook is a zip too; "holds no shapefile" would send its owner looking for one.
	if in.path != "" && strings.EqualFold(path.Ext(in.path), ".xlsx") {
		return layer{}, fmt.Errorf("%s: is a spreadsheet, which holds no boundaries", in.name)
	}
	l, err := shapefile.OpenOnly(s.Name, files, s.Layer, faults)
	if err != nil {
		return layer{}, err
	}
	return readLayer(l, faults)
}

// onlyMember returns the one file of a zip that holds boundaries, or the one that is meant; else all that might. A KMZ has
// one by its own rules, whatever lies beside it.
func (s Source) onlyMember(files fs.FS) (name string, all []string) {
	// doc.kml is what the main file of a KMZ is called by custom; beside it there may be KML files that it links to.
	if _, err := fs.Stat(files, "doc.kml"); err == nil && s.Layer == "" {
		if name, err := kml.Main(files, ""); err == nil {
			return name, nil
		}
	}
	if all, err := shapefile.FindExt(files, ".xml"); err == nil && s.Layer == "" {
		for _, name := range all {
			// The standard names the file so, in capitals; cards are copied by systems that change them. "._" begins the
			// side files that one system puts into every zip.
			if strings.EqualFold(path.Base(name), "TASKDATA.XML") && !strings.HasPrefix(path.Base(name), "._") {
				return name, nil
			}
		}
	}
	all, err := shapefile.FindExt(files, ".geojson", ".geojsonl", ".geojsons", ".json", ".kml", ".gml", ".fgb", ".gpkg")
	if err != nil {
		return "", nil
	}
	for _, name := range all {
		// By its whole path or by its name alone: people type what they see.
		if s.Layer != "" && (strings.EqualFold(name, s.Layer) || strings.EqualFold(path.Base(name), s.Layer)) {
			return name, nil
		}
	}
	// One file is meant by itself. Of several none is guessed: the wrong farm would be rated.
	if len(all) == 1 && s.Layer == "" {
		return all[0], nil
	}
	return "", all
}

// readMember reads a file of a zip, which is read in a stream.
func (s Source) readMember(ctx context.Context, files fs.FS, name string, faults *diag.List) (layer, error) {
	full := s.Name + "/" + name
	g, err := files.Open(name)
	if err != nil {
		return layer{}, fmt.Errorf("%s: %w", full, cause(err))
	}
	defer g.Close()
	inner := s
	inner.Layer, inner.Files = "", files // the layer named the file
	return inner.readStream(ctx, stream{name: full, path: name, r: bufio.NewReaderSize(g, sniffed)}, faults)
}
