package taskdata

import (
	"archive/zip"
	"bufio"
	"encoding/binary"
	"fmt"
	"io"
	"slices"
	"strconv"
	"strings"
	"time"
)

// Names of the files beside the grids. Capitals matter on terminals that run Linux.
const (
	folderName = "TASKDATA"
	xmlName    = "TASKDATA.XML"
	gridSuffix = ".bin"
	SheetText  = "load-sheet.txt"
	SheetHTML  = "load-sheet.html"
	readmeName = "README.txt"
)

// mostGrids is how many grids five digits can number.
const mostGrids = 99999

// CardFiles lists what a controller reads, without the folder TASKDATA: grids first, then TASKDATA.XML, without which
// there is nothing.
func (p *Plan) CardFiles() []string {
	var out []string
	if p.options.Form != Polygons {
		for i := range p.Tasks {
			out = append(out, gridName(i+1)+gridSuffix)
		}
	}
	return append(out, xmlName)
}

// Files lists what a folder holds: load sheets, a note, and the folder TASKDATA, its XML last.
func (p *Plan) Files() []string {
	out := []string{readmeName, SheetText, SheetHTML}
	for _, f := range p.CardFiles() {
		out = append(out, folderName+"/"+f)
	}
	return out
}

// WriteFile writes one of Files or CardFiles.
func (p *Plan) WriteFile(name string, w io.Writer) error {
	switch base := strings.TrimPrefix(name, folderName+"/"); {
	case name == readmeName:
		return p.writeReadme(w)
	case name == SheetText:
		return p.WriteSheetText(w)
	case name == SheetHTML:
		return p.WriteSheetHTML(w)
	case base == xmlName:
		return p.WriteXML(w)
	default:
		i := slices.Index(p.CardFiles(), base)
		if i < 0 {
			return fmt.Errorf("%s is no file of task data", name)
		}
		return p.WriteGrid(i, w)
	}
}

// WriteZip writes the folder TASKDATA as a zip and nothing else, as terminals want it. Entries have a fixed time.
func (p *Plan) WriteZip(w io.Writer) error {
	z := zip.NewWriter(w)
	for _, name := range p.CardFiles() {
		// The earliest time a zip can hold: no clock gets into the bytes.
		h := &zip.FileHeader{Name: folderName + "/" + name, Method: zip.Deflate, Modified: time.Date(1980, 1, 1, 0, 0, 0, 0, time.UTC)}
		f, err := z.CreateHeader(h)
		if err != nil {
			return err
		}
		if err := p.WriteFile(name, f); err != nil {
			return err
		}
	}
	return z.Close()
}

// WriteGrid writes the cells of a task: four bytes each, low byte first, or one byte for codes; from the south-west
// corner eastward, then row by row northward.
func (p *Plan) WriteGrid(task int, w io.Writer) error {
	if len(p.Tasks) > mostGrids {
		return fmt.Errorf("%s fields are too many for one file; choose some with --field", strconv.Itoa(len(p.Tasks)))
	}
	t := p.Tasks[task]
	out := bufio.NewWriterSize(w, 1<<16)
	c := t.newCells()
	// Of no lime there is no entry, and the zero that the map gives back is its code.
	codes := map[int32]uint8{}
	for _, rc := range t.codes() {
		codes[rc.rate] = rc.code
	}
	// A row at a time; a grid of a farm can be hundreds of megabytes.
	var b []byte
	for row := range t.Frame.Rows {
		b = b[:0]
		for _, rate := range c.row(row) {
			if p.options.Form == Grid1 {
				b = append(b, codes[rate])
			} else {
				b = binary.LittleEndian.AppendUint32(b, uint32(rate))
			}
		}
		if _, err := out.Write(b); err != nil {
			return err
		}
	}
	return out.Flush()
}

// writeReadme tells what the folder holds, for whoever finds it on a card.
func (p *Plan) writeReadme(w io.Writer) error {
	var b strings.Builder
	if text := p.UntestedText(); text != "" {
		b.WriteString(text + "\n\n")
	}
	b.WriteString("Lime for a spreader, as ISO 11783-10 task data, version " + strconv.Itoa(p.options.Version) + ".\n\n" +
		"Copy the folder TASKDATA, with this name in capitals, to the top of the card or stick\n" +
		"that the controller reads. Keep nothing else of that name there.\n\n" +
		"  " + SheetHTML + "  for the driver: print it and take it along\n" +
		"  " + SheetText + "   the same as text\n")
	_, err := io.WriteString(w, b.String())
	return err
}
