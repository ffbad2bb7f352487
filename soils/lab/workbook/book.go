package workbook

import (
	"encoding/xml"
	"errors"
	"regexp"
	"strings"

	"rootworthy/internal/diag"
)

// book is a workbook being read.
type book struct {
	file     string
	parts    *parts
	faults   *diag.List
	strings  []string
	formats  []format // by cell style
	from1904 bool
	sheets   []Sheet
	cells    int // of all sheets so far, against mostCells
}

// read follows the relations from the package to its sheets.
func (b *book) read() error {
	main := "xl/workbook.xml"
	top, err := b.parts.relations("")
	if err != nil {
		return err
	}
	// the name is not fixed: programs other than the usual one call it something else
	for _, r := range top {
		if r.kind == "officeDocument" {
			main = r.target
		}
	}
	if !b.parts.has(main) {
		return errors.New("it has no workbook part; it may be another kind of zip")
	}
	rels, err := b.parts.relations(main)
	if err != nil {
		return err
	}
	// sheets are named by the id of their relation, not by their part
	targets := map[string]string{}
	for _, r := range rels {
		targets[r.id] = r.target
		switch r.kind {
		// strings and styles first: cells refer to both by number
		case "sharedStrings":
			err = b.readStrings(r.target)
		case "styles":
			err = b.readStyles(r.target)
		}
		if err != nil {
			return err
		}
	}
	return b.readSheets(main, targets)
}

// readSheets reads the list of sheets and then each of them.
func (b *book) readSheets(main string, targets map[string]string) error {
	type entry struct {
		Sheet
		target string
	}
	var list []entry
	err := b.parts.walk(main, func(_ *xml.Decoder, t xml.Token) error {
		e, ok := t.(xml.StartElement)
		switch {
		case !ok:
		case e.Name.Local == "workbookPr":
			v := attr(e, "date1904")
			b.from1904 = v == "1" || v == "true"
		case e.Name.Local == "sheet":
			// The part is still being read; sheets come after, since one part is walked at a time. "id" is r:id, the link; sheetId is
			// a number of its own and leads nowhere. A sheet may also be "veryHidden".
			list = append(list, entry{Sheet{Name: attr(e, "name"), Hidden: strings.Contains(strings.ToLower(attr(e, "state")), "hidden")}, targets[attr(e, "id")]})
		}
		return nil
	})
	if err != nil {
		return err
	}
	for _, s := range list {
		if s.target == "" || !b.parts.has(s.target) {
			b.fault(s.Name, 0, "missing sheet", "the workbook lists the sheet but does not hold it", "save the workbook again in a spreadsheet program")
			continue
		}
		rows, err := b.readRows(s.Name, s.target)
		if err != nil {
			return err
		}
		s.Rows = rows
		b.sheets = append(b.sheets, s.Sheet)
	}
	return nil
}

// readStrings reads the shared strings. Runs of differently set text are joined; readings for Asian scripts are not.
func (b *book) readStrings(part string) error {
	var text strings.Builder
	// phonetic counts how deep in readings the walk is; their text is not the cell's
	inText, phonetic := false, 0
	return b.parts.walk(part, func(_ *xml.Decoder, t xml.Token) error {
		switch t := t.(type) {
		case xml.StartElement:
			switch t.Name.Local {
			case "si":
				text.Reset()
			case "rPh":
				phonetic++
			case "t":
				inText = phonetic == 0
			}
		case xml.CharData:
			if inText {
				text.Write(t)
			}
		case xml.EndElement:
			switch t.Name.Local {
			case "t":
				inText = false
			case "rPh":
				phonetic--
			case "si":
				if len(b.strings) >= mostStrings {
					return errors.New("it holds more strings than are read")
				}
				b.strings = append(b.strings, unescape(text.String()))
			}
		}
		return nil
	})
}

// escaped is how workbooks write control characters, which XML cannot hold: _x000D_ and its kin. Source: ECMA-376 part 1, 22.9.2.19; of
// its four digits the first two are zero here, since other letters need no such form.
var escaped = regexp.MustCompile(`_x00[0-9A-Fa-f]{2}_`)

// unescape makes a blank of each, since cells are read as words. _x005F_, an underscore that is itself written so, becomes a blank too: no
// heading and no result has one.
func unescape(s string) string { return escaped.ReplaceAllString(s, " ") }

// fault tells of a cell as a person finds it: by the name of its sheet and the row that the spreadsheet shows.
func (b *book) fault(sheet string, row int, kind, what, fix string) {
	b.faults.Add(diag.Fault{File: b.file, Line: row, Feature: sheet, Kind: kind, What: what, Fix: fix})
}
