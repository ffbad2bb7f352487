package taskdata

import (
	"bufio"
	"encoding/xml"
	"io"
	"strconv"
	"strings"
)

// xmlWriter writes elements that have attributes and no text, one a line. Its first error is kept by the bufio.Writer.
type xmlWriter struct {
	w    *bufio.Writer
	open []string
}

// newXMLWriter begins the file.
func newXMLWriter(w io.Writer) *xmlWriter {
	x := &xmlWriter{w: bufio.NewWriterSize(w, 1<<16)}
	x.w.WriteString("<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n")
	return x
}

// comment writes a comment; two hyphens, which would end it, are parted.
func (x *xmlWriter) comment(text string) {
	for strings.Contains(text, "--") {
		text = strings.ReplaceAll(text, "--", "- -")
	}
	text = strings.NewReplacer("&", "and", "<", "(", ">", ")").Replace(text) // some readers look for tags in comments
	x.w.WriteString("<!-- " + text + " -->\n")
}

// start begins an element that has others in it. Attributes are names and values in turn.
func (x *xmlWriter) start(name string, attributes ...string) {
	x.tag(name, attributes)
	x.w.WriteString(">\n")
	x.open = append(x.open, name)
}

// end closes the last element begun.
func (x *xmlWriter) end() {
	name := x.open[len(x.open)-1]
	x.open = x.open[:len(x.open)-1]
	x.indent()
	x.w.WriteString("</" + name + ">\n")
}

// element writes an element with nothing in it.
func (x *xmlWriter) element(name string, attributes ...string) {
	x.tag(name, attributes)
	x.w.WriteString("/>\n")
}

// tag writes a tag without its end. Attributes stand in the order given.
func (x *xmlWriter) tag(name string, attributes []string) {
	x.indent()
	x.w.WriteString("<" + name)
	for i := 0; i+1 < len(attributes); i += 2 {
		x.w.WriteString(" " + attributes[i] + `="`)
		xml.EscapeText(x.w, []byte(attributes[i+1]))
		x.w.WriteByte('"')
	}
}

func (x *xmlWriter) indent() {
	for range x.open {
		x.w.WriteByte(' ')
	}
}

// decimal prints degrees as terminals read them: a plain decimal with at most nine decimals, never an exponent.
func decimal(degrees float64) string {
	s := strconv.FormatFloat(degrees, 'f', 9, 64)
	s = strings.TrimRight(strings.TrimRight(s, "0"), ".")
	if s == "-0" || s == "" {
		return "0"
	}
	return s
}

// nanoDegrees prints steps of 1e-9 degree exactly.
func nanoDegrees(n int64) string {
	sign := ""
	if n < 0 {
		sign, n = "-", -n
	}
	digits := strconv.FormatInt(n%nano, 10)
	s := sign + strconv.FormatInt(n/nano, 10) + "." + strings.Repeat("0", 9-len(digits)) + digits
	return strings.TrimSuffix(strings.TrimRight(s, "0"), ".")
}
