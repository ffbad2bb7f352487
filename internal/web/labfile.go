package web

import (
	"bytes"
	"path"
	"strings"

	"rootworthy/export/words"
	"rootworthy/internal/diag"
	"rootworthy/soils/lab"
)

// readBackLab tells a page what was understood of a laboratory's file.
type readBackLab struct {
	What    string   `json:"what"`
	Samples int      `json:"samples"`
	Columns []string `json:"columns"`
	Error   string   `json:"error,omitempty"`
}

// readLab reads a file as a laboratory's when its name says that it is none of boundaries.
func readLab(name string, files inMemory, faults *diag.List) (*readBackLab, bool) {
	text := files[name]
	switch strings.ToLower(path.Ext(name)) {
	case ".csv", ".txt", ".tsv", ".xlsx":
	case ".xml", ".json":
		if !bytes.Contains(text[:min(len(text), 4096)], []byte("Modus")) && !bytes.Contains(text[:min(len(text), 4096)], []byte("modus")) {
			return nil, false
		}
	default:
		return nil, false
	}
	results, err := lab.Read(name, bytes.NewReader(text), int64(len(text)), nil, faults)
	if err != nil {
		return &readBackLab{What: "This laboratory file cannot be used.", Error: err.Error()}, true
	}
	out := &readBackLab{What: words.Count(len(results.Samples), "soil sample", "soil samples") + " read: " + results.Understood.Format, Samples: len(results.Samples)}
	for _, c := range results.Understood.Columns {
		out.Columns = append(out.Columns, c.String())
	}
	return out, true
}
