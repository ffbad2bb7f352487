package run

import (
	"io"

	"rootworthy/export"
	"rootworthy/export/words"
	"rootworthy/internal/atomicfile"
	"rootworthy/suitability"
)

// folder describes a run folder to those who keep it whole.
func folder(dir string) atomicfile.Folder {
	// Marked tells an earlier run from a folder of the user's own, which must never be overwritten: only a run.json that
	// this program can read lets it be replaced.
	return atomicfile.Folder{Dir: dir, Files: Files(), Marked: func(r io.Reader) error {
		_, err := readManifest(r)
		return err
	}}
}

// Check says whether [Write] would accept a folder: absent, empty or an earlier run. Ask before long work.
func Check(dir string) error { return folder(dir).Check() }

// Write writes a result as a run folder. An earlier run there is replaced whole; a folder that holds anything else is
// refused. On any error the folder is as it was before. Equal results give equal bytes.
func Write(dir string, r *suitability.Result) error {
	// A copy: the result of a job says nothing of folders, and its caller may write it elsewhere.
	stamped := *r
	stamped.Provenance.Schema = Schema
	return folder(dir).Write(func(name string, w io.Writer) error { return WriteFile(w, name, &stamped) })
}

// WriteFile writes one of [Files] alone.
func WriteFile(w io.Writer, name string, r *suitability.Result) error {
	// The same sentences in every file, by the limits that this run was rated with.
	say := words.Sentences(r.Profile)
	switch name {
	case zonesFile:
		return export.WriteZones(w, r, say)
	case fieldsFile:
		return export.WriteFields(w, r, say)
	case fieldsCSV:
		return export.WriteFieldsCSV(w, r)
	case limeCSV:
		return export.WriteLimeCSV(w, r, say)
	case reasonsFile:
		return export.WriteReasons(w, r)
	}
	// What is left of Files is run.json.
	return newManifest(r).write(w)
}
