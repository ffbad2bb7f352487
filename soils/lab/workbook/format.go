package workbook

import (
	"encoding/xml"
	"errors"
	"math"
	"strconv"
	"strings"
	"time"
)

// format is what a cell's number format makes of its figure.
type format uint8

const (
	plain format = iota
	date
	percentage
)

// readStyles reads what each cell style makes of a figure.
func (b *book) readStyles(part string) error {
	custom := map[string]format{}
	inCells := false
	return b.parts.walk(part, func(_ *xml.Decoder, t xml.Token) error {
		switch t := t.(type) {
		case xml.StartElement:
			switch t.Name.Local {
			case "numFmt":
				// the schema puts these before the cell styles, which refer to them
				custom[attr(t, "numFmtId")] = formatOf(attr(t, "formatCode"))
			case "cellXfs":
				inCells = true
			case "xf":
				// named styles have such elements too, and cells do not count by those
				if !inCells {
					return nil
				}
				if len(b.formats) > mostStrings {
					return errors.New("it holds more styles than are read")
				}
				b.formats = append(b.formats, styleFormat(attr(t, "numFmtId"), custom))
			}
		case xml.EndElement:
			if t.Name.Local == "cellXfs" {
				inCells = false
			}
		}
		return nil
	})
}

// styleFormat knows the formats that have a number instead of a code.
// Source: ECMA-376 part 1, 18.8.30: 9, 10 percent; 14 to 17 and 22 dates; 27 to 36 and 50 to 58 dates of East Asia.
func styleFormat(id string, custom map[string]format) format {
	if f, ok := custom[id]; ok {
		return f
	}
	n, err := strconv.Atoi(id)
	switch {
	case err != nil:
		return plain
	case n == 9 || n == 10:
		return percentage
	case n >= 14 && n <= 17 || n == 22 || n >= 27 && n <= 36 || n >= 50 && n <= 58:
		return date
	}
	return plain
}

// formatOf reads a format code such as "yyyy\-mm\-dd" or `0.0%;[Red]-0.0%`: quoted and escaped characters and what stands
// in brackets are not part of it. Times without a day stay figures.
func formatOf(code string) format {
	f := plain
	for i := 0; i < len(code); i++ {
		switch code[i] {
		// the next character is printed, made a blank of or repeated
		case '\\', '_', '*':
			i++
		// a quote or bracket that is never closed costs a character at most, so that what follows still counts
		case '"':
			i += 1 + max(0, strings.IndexByte(code[i+1:], '"'))
		case '[':
			i += max(0, strings.IndexByte(code[i:], ']'))
		case '%':
			return percentage
		// not m: it is minutes as well as months
		case 'y', 'Y', 'd', 'D':
			f = date
		case ';':
			return f // the first section speaks for positive figures
		}
	}
	if strings.EqualFold(code, "general") {
		return plain
	}
	return f
}

// figure gives a number as a person sees it: in the shortest digits that read back the same, a date as 2022-07-08, a
// percentage times 100. Spreadsheets store 6.18 as 6.1799999999999997.
func (b *book) figure(value string, style int) string {
	v, err := strconv.ParseFloat(value, 64)
	if err != nil || math.IsInf(v, 0) || math.IsNaN(v) {
		// left as the file has it, for the reader of tables to refuse
		return value
	}
	f := plain
	if style >= 0 && style < len(b.formats) {
		f = b.formats[style]
	}
	switch {
	// below 1 it is a time without a day, and stays a figure
	case f == date && v >= 1 && v < 2958466: // to 9999-12-31
		return SerialDay(v, b.from1904).Format(time.DateOnly)
	case f == percentage:
		// twelve digits: the multiplication must not show
		return strconv.FormatFloat(v*100, 'g', 12, 64) + "%"
	// written out while that is short: as 1e+07 the number of a sample would not be known again
	case math.Abs(v) < 1e15 && (v == 0 || math.Abs(v) >= 1e-6):
		return strconv.FormatFloat(v, 'f', -1, 64)
	}
	return strconv.FormatFloat(v, 'g', -1, 64)
}

// SerialDay is the day of a serial figure, midnight UTC. The 1900 system counts a 29 February 1900 that never was, so its day 0 lies
// at 1899-12-30 for every date since; the 1904 system starts four years later.
// Source: ECMA-376 part 1, 18.17.4.1.
func SerialDay(v float64, from1904 bool) time.Time {
	start := time.Date(1899, 12, 30, 0, 0, 0, 0, time.UTC)
	if from1904 {
		start = time.Date(1904, 1, 1, 0, 0, 0, 0, time.UTC)
	}
	return start.AddDate(0, 0, int(math.Floor(v)))
}
