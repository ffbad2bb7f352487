package web

import (
	"bytes"
	"path"
	"strings"

	"rootworthy/export/words"
	"rootworthy/internal/diag"
	"rootworthy/soils/lab"
	"rootworthy/suitability"
)

// Roles of files in the record of a run, as the command line has them.
const (
	roleFields  = "fields"
	roleTests   = "tests"
	roleMapping = "mapping"
	roleTable   = "lime table"
)

// readBackLab tells a page what was understood of a laboratory's file.
type readBackLab struct {
	Name    string       `json:"name"`
	What    string       `json:"what"`
	Samples int          `json:"samples"`
	Parts   []words.Part `json:"parts"` // as `tests check` prints them
	Error   string       `json:"error,omitempty"`
}

// readLabs reads every file that is a laboratory's, with the column mapping that came along.
func (b *readBack) readLabs(u *upload, files inMemory, faults *diag.List) {
	var mapping *lab.Mapping
	// a mapping first, whatever its name: the laboratory's files are read by it. A second one is left as a file of boundaries, whose fault is told.
	for _, n := range files.names() {
		if strings.EqualFold(path.Ext(n), ".toml") && u.mapping == nil {
			u.mapping = &Text{n, files[n]}
			m, err := lab.ReadSoundMapping(n, bytes.NewReader(files[n]), faults)
			if err != nil {
				b.Lab = append(b.Lab, readBackLab{Name: n, What: "This column mapping cannot be used.", Error: err.Error()})
			}
			mapping = m
		}
	}
	samples := 0
	for _, n := range files.names() {
		if !isLab(n, files[n]) {
			continue
		}
		u.labs = append(u.labs, n)
		told := readLab(n, files[n], mapping, faults)
		b.Lab = append(b.Lab, told)
		if told.Error != "" || told.Samples == 0 {
			continue
		}
		samples += told.Samples
		u.tests = append(u.tests, Text{n, files[n]})
		u.inputs = append(u.inputs, suitability.Input{Role: roleTests, Name: n, SHA256: files.digest(n)})
		if u.name == "" {
			u.name = n
		}
	}
	if u.mapping != nil && len(u.tests) > 0 { // before the tests, as the command line records it
		u.inputs = append([]suitability.Input{{Role: roleMapping, Name: u.mapping.Name, SHA256: files.digest(u.mapping.Name)}}, u.inputs...)
	}
	if u.mapping != nil && len(u.labs) == 0 {
		b.Lab = append(b.Lab, readBackLab{Name: u.mapping.Name, What: "This is a column mapping.", Error: "Drop it together with the laboratory's file that it is for."})
	}
	if len(u.labs) > 0 {
		b.What = words.Count(samples, "soil sample", "soil samples") + " read"
	}
}

// isLab says that a file is a laboratory's, by its name: no boundaries come in such files.
func isLab(name string, text []byte) bool {
	switch strings.ToLower(path.Ext(name)) {
	case ".csv", ".txt", ".tsv", ".xlsx":
		return true
	case ".xml", ".json":
		head := text[:min(len(text), 4096)]
		return bytes.Contains(head, []byte("Modus")) || bytes.Contains(head, []byte("modus"))
	}
	return false
}

func readLab(name string, text []byte, mapping *lab.Mapping, faults *diag.List) readBackLab {
	results, err := lab.Read(name, bytes.NewReader(text), int64(len(text)), mapping, faults)
	if err != nil {
		return readBackLab{Name: name, What: "This laboratory file cannot be used.", Error: err.Error()}
	}
	out := readBackLab{Name: name, Samples: len(results.Samples)}
	out.What, out.Parts = words.UnderstoodParts(name, results)
	return out
}

// use says what can be done with tests: how to work out lime where a survey is open, else what is lacking and the command
// that does without a page.
func (s *Server) use(b *readBack, u *upload, run string) {
	shown := s.book(run)
	if s.screener != nil {
		b.Lime = s.limeChoices(shown)
		return
	}
	b.Lacks = "This page shows a run that is done. What the soil survey says of its ground is not open here, so nothing can be rated again with these tests."
	if shown == nil {
		return
	}
	var names []string
	for _, t := range u.tests {
		names = append(names, t.Name)
	}
	b.Again = screenAgain(&shown.Head.Provenance, names)
}
