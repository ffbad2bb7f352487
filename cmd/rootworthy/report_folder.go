package main

import (
	"context"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"io"
	"os"
	"path"
	"path/filepath"
	"runtime"
	"strings"

	"rootworthy/export"
	"rootworthy/export/mapdraw"
	"rootworthy/export/marker"
	"rootworthy/export/report"
	"rootworthy/internal/atomicfile"
	runfolder "rootworthy/internal/run"
	"rootworthy/suitability"
)

// reportFile marks a folder of reports; it is put in place last.
const reportFile = "report.json"

// named is a report and the base name of its files.
type named struct {
	name string
	doc  *report.Document
}

// reportWork is what one call of report makes.
type reportWork struct {
	readers   []string
	paper     report.Paper
	kinds     []string // svg, png
	opt       report.Options
	parts     []part
	documents []named
	drawn     int // maps
}

// reportMark is report.json: what the folder holds, so that a later call knows which files it may replace.
type reportMark struct {
	marker.Head
	Files []string `json:"files"`
}

// reportKind is the kind of report.json.
func reportKind() marker.Kind { return marker.Kind{Word: "report", What: "reports"} }

// make writes the folder: whole, or as it was.
func (w *reportWork) make(ctx context.Context, dir string, r *suitability.Result) (err error) {
	for _, p := range w.parts {
		docs, err := documentsOf(ctx, p, w.readers, w.opt)
		if err != nil {
			return err
		}
		w.documents = append(w.documents, docs...)
	}
	tasks := w.tasks()
	// The mark lists what is written, so that the next report into the folder knows which files it may take away.
	mark := reportMark{Head: reportKind().Head(r.Provenance.Program, r.Provenance.Date)}
	for _, t := range tasks {
		mark.Files = append(mark.Files, t.name)
	}
	folder := atomicfile.Folder{Dir: dir, Files: append(mark.Files, reportFile), Stale: formerFiles(dir, reportFile, reportKind()), Marked: reportKind().Ours}
	byName := map[string]func(io.Writer) error{reportFile: func(out io.Writer) error { return marker.Write(out, mark) }}
	for _, t := range tasks {
		byName[t.name] = t.write
	}
	seats := make(chan struct{}, runtime.GOMAXPROCS(0)) // pictures are large: as many at once as there are processors
	return folder.Write(func(name string, out io.Writer) error {
		seats <- struct{}{}
		defer func() { <-seats }()
		if ctx.Err() != nil {
			return context.Cause(ctx)
		}
		return byName[name](out)
	})
}

// formerFiles says which files in the folder an earlier call of the same command wrote, by its marker; nil where there is no such marker, and
// then the folder is not touched anyway.
func formerFiles(dir, markFile string, kind marker.Kind) func(name string) bool {
	f, err := os.Open(filepath.Join(dir, markFile))
	if err != nil {
		return nil
	}
	defer f.Close()
	files, err := kind.Files(f)
	if err != nil {
		return nil
	}
	former := map[string]bool{}
	for _, name := range files {
		for ; name != "." && name != "/"; name = path.Dir(name) { // folders within too; a path from the root is none that we wrote
			former[name] = true
		}
	}
	return func(name string) bool { return former[name] }
}

// reportTask is one file to write.
type reportTask struct {
	name  string
	write func(io.Writer) error
}

// tasks lists the files of the folder in the order in which they are told.
func (w *reportWork) tasks() []reportTask {
	var out []reportTask
	for _, d := range w.documents {
		out = append(out, reportTask{d.name + ".html", d.doc.HTML},
			reportTask{d.name + ".pdf", func(out io.Writer) error { return d.doc.PDF(out, w.paper) }})
	}
	for _, p := range w.parts {
		maps := w.maps(p)
		w.drawn += len(maps)
		out = append(out, maps...)
	}
	return out
}

// pixelsPerUnit makes pictures of 1,400 pixels across, enough for a page of paper.
const pixelsPerUnit = 2

// maps lists the maps of every field of a part as files.
func (w *reportWork) maps(p part) []reportTask {
	if len(w.kinds) == 0 {
		return nil
	}
	var out []reportTask
	add := func(base string, draw func() *mapdraw.Drawing) {
		for _, k := range w.kinds {
			if k == "svg" {
				out = append(out, reportTask{path.Join(p.folder, base+".svg"), func(out io.Writer) error { return draw().SVG(out, "map") }})
			} else {
				out = append(out, reportTask{path.Join(p.folder, base+".png"), func(out io.Writer) error { return draw().PNG(out, pixelsPerUnit) }})
			}
		}
	}
	sums := export.Sums(p.run)
	for _, kind := range mapKinds() {
		// One field alone is its own overview.
		if len(sums) > 1 {
			add("map-all-"+kind.String(), func() *mapdraw.Drawing {
				return mapdraw.Overview(p.run, sums, mapdraw.Options{Kind: kind, Parts: mapdraw.Whole, Shade: w.opt.Shade})
			})
		}
	}
	for i := range sums {
		for _, kind := range mapKinds() {
			// A drawing is made when its file is written, not here: all of a county's at once would not fit into memory.
			add(fmt.Sprintf("map-%03d-%s-%s", i+1, fileWord(sums[i].Field.ID), kind), func() *mapdraw.Drawing {
				return mapdraw.Field(p.run, &sums[i], mapdraw.Options{Kind: kind, Parts: mapdraw.Whole, Shade: w.opt.Shade})
			})
		}
	}
	return out
}

// fileWord makes an id fit for the name of a file on any system: the number before it keeps names apart.
func fileWord(id string) string {
	s := strings.Join(strings.FieldsFunc(id, func(r rune) bool {
		return !(r >= 'a' && r <= 'z' || r >= 'A' && r <= 'Z' || r >= '0' && r <= '9')
	}), "-")
	// Only ASCII is left by now, so cutting by bytes splits no letter. 40 of them keep names readable and paths short.
	return strings.TrimRight(s[:min(len(s), 40)], "-")
}

// runFiles tells of the files of a run as they stand, for the technician to compare.
func runFiles(dir string) ([]report.FileInfo, error) {
	var out []report.FileInfo
	for _, name := range runfolder.Files() {
		f, err := os.Open(filepath.Join(dir, name))
		if errors.Is(err, os.ErrNotExist) {
			continue // the files for people are not needed to read a run
		}
		if err != nil {
			return nil, err
		}
		h := sha256.New()
		n, err := io.Copy(h, f)
		f.Close()
		if err != nil {
			return nil, err
		}
		out = append(out, report.FileInfo{Name: name, What: runfolder.Meaning(name), Size: n, SHA256: hex.EncodeToString(h.Sum(nil))})
	}
	return out, nil
}
