package main

import (
	"bytes"
	"compress/zlib"
	"io"
	"math"
	"os"
	"os/exec"
	"regexp"
	"strconv"
	"strings"
	"testing"
	"unicode/utf16"
)

// rowsOnPaper reads a PDF of ours as text: rows of cells in the order in which they were written, a paragraph being a
// row of one cell. It takes the file apart by itself, so that no test is left out where no other reader is installed;
// [TestPaperReadTwice] holds it against one where there is one.
func rowsOnPaper(t *testing.T, file string) (rows [][]string) {
	t.Helper()
	b, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	for _, page := range contents(t, b) {
		rows = append(rows, rowsOfPage(texts(t, page))...)
	}
	if len(rows) < 20 {
		t.Fatalf("%s: only %d rows of text", file, len(rows))
	}
	return rows
}

// contents returns the streams of a PDF that show text, in the order of the pages.
func contents(t *testing.T, pdf []byte) (pages [][]byte) {
	t.Helper()
	for len(pdf) > 0 {
		_, rest, ok := bytes.Cut(pdf, []byte("\nstream\n"))
		if !ok {
			break
		}
		body, after, _ := bytes.Cut(rest, []byte("\nendstream"))
		pdf = after
		z, err := zlib.NewReader(bytes.NewReader(body))
		if err != nil {
			continue // a font's map is not packed
		}
		plain, err := io.ReadAll(z)
		if err != nil {
			t.Fatal(err)
		}
		if bytes.Contains(plain, []byte(" Tj ET")) {
			pages = append(pages, plain)
		}
	}
	return pages
}

// shown is a piece of text on a page; y runs upwards.
type shown struct {
	x, y, size float64
	text       string
}

// texts returns what a page shows, in the order in which it is written; text that runs upwards is left out.
func texts(t *testing.T, page []byte) (out []shown) {
	t.Helper()
	font := regexp.MustCompile(`^BT /F\S+ (\S+) Tf ET$`)
	show := regexp.MustCompile(`(?s)BT (\S+) (\S+) Td \((.*)\) Tj ET`)
	size, turned := 0.0, false
	// a string may hold the byte of a line's end: such lines are joined again
	for _, line := range joined(strings.Split(string(page), "\n")) {
		if m := font.FindStringSubmatch(line); m != nil {
			size, _ = strconv.ParseFloat(m[1], 64)
		}
		if strings.HasSuffix(line, " cm") {
			turned = true
		}
		if line == "Q" {
			turned = false
		}
		m := show.FindStringSubmatch(line)
		if m == nil || turned {
			continue
		}
		x, errX := strconv.ParseFloat(m[1], 64)
		y, errY := strconv.ParseFloat(m[2], 64)
		if errX != nil || errY != nil {
			t.Fatalf("no place in %q", line)
		}
		out = append(out, shown{x, y, size, decoded(m[3])})
	}
	return out
}

// joined puts lines together again that a line's end within a string had parted.
func joined(lines []string) (out []string) {
	for i := 0; i < len(lines); i++ {
		l := lines[i]
		for strings.Contains(l, " Td (") && !strings.Contains(l, ") Tj ET") && i+1 < len(lines) {
			i++
			l += "\n" + lines[i]
		}
		out = append(out, l)
	}
	return out
}

// decoded turns a string of the file into text: two bytes a letter, some of them escaped.
//
// Source: ISO 32000-1, 7.3.4.2 (literal strings).
func decoded(s string) string {
	var b []byte
	for i := 0; i < len(s); i++ {
		c := s[i]
		if c == '\\' && i+1 < len(s) {
			i++
			switch c = s[i]; c {
			case 'r':
				c = '\r'
			case 'n':
				c = '\n'
			case 't':
				c = '\t'
			}
		}
		b = append(b, c)
	}
	units := make([]uint16, len(b)/2)
	for i := range units {
		units[i] = uint16(b[2*i])<<8 | uint16(b[2*i+1])
	}
	return string(utf16.Decode(units))
}

// rowsOfPage puts texts into rows: a text at the height of a row's first line begins a cell, one a line lower goes on
// with the cell, and any other begins a row.
func rowsOfPage(list []shown) (rows [][]string) {
	// Lines of a cell follow at 1.32 times the size of the letters; 0.1 of a point is more than coordinates are rounded by.
	const leading, near = 1.32, 0.1
	top, last := math.Inf(1), shown{}
	for _, s := range list {
		switch {
		case len(rows) > 0 && math.Abs(s.y-top) < near && s.size == last.size:
			rows[len(rows)-1] = append(rows[len(rows)-1], s.text)
		case len(rows) > 0 && math.Abs(last.y-s.y-s.size*leading) < near && s.size == last.size:
			row := rows[len(rows)-1]
			row[len(row)-1] += " " + s.text
		default:
			rows, top = append(rows, []string{s.text}), s.y
		}
		last = s
	}
	return rows
}

// lonelyHeadings returns headings that stand last on their page, above nothing but its foot.
func lonelyHeadings(t *testing.T, file string) (out []string) {
	t.Helper()
	b, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	const heading2, heading3 = 15, 12 // sizes that nothing else on a page is written in
	for _, page := range contents(t, b) {
		lowest := shown{y: math.Inf(1)}
		for _, s := range texts(t, page) {
			const foot = 19 / 25.4 * 72 // margin
			if s.y > foot+2 && s.y < lowest.y {
				lowest = s
			}
		}
		if lowest.size == heading2 || lowest.size == heading3 {
			out = append(out, lowest.text)
		}
	}
	return out
}

// What the reader above gets out of a PDF is what another reader gets, word for word.
func TestPaperReadTwice(t *testing.T) {
	if _, err := exec.LookPath("pdftotext"); err != nil {
		t.Skip("pdftotext is not installed (poppler-utils); the reader of these tests stands alone")
	}
	dir := demoReports(t)
	for _, name := range readers() {
		file := dir + "/report/" + name + ".pdf"
		out, err := exec.Command("pdftotext", "-raw", file, "-").Output()
		if err != nil {
			t.Fatal(err)
		}
		count := map[string]int{}
		for _, w := range strings.Fields(string(out)) {
			count[w]++
		}
		missing, seen := 0, 0
		for _, row := range rowsOnPaper(t, file) {
			for _, w := range strings.Fields(strings.Join(row, " ")) {
				if count[w]--; count[w] < 0 {
					missing++
				}
				seen++
			}
		}
		if missing > seen/200 { // words of a map that lie close are one word to the other reader
			t.Errorf("%s: %d of %d words are not there for pdftotext", name, missing, seen)
		}
	}
}
