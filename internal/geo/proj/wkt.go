package proj

import (
	"fmt"
	"strconv"
	"strings"
)

// Bounds of the text of a coordinate system. Real ones stay under 4 kB and 8 levels (a bound system in WKT 2); what
// exceeds these is not one.
const (
	maxWKT   = 64 << 10
	maxDepth = 24
)

// wktNode is one WORD["text", 1.5, EAST, CHILD[…]] with its arguments sorted by kind, each in order.
type wktNode struct {
	word string // upper case
	text []string
	nums []float64
	bare []string // words without brackets, such as directions of axes; upper case
	kids []*wktNode
}

// kid returns the first child that carries one of the words, or nil.
func (n *wktNode) kid(words ...string) *wktNode {
	if n == nil {
		return nil
	}
	for _, k := range n.kids {
		for _, w := range words {
			if k.word == w {
				return k
			}
		}
	}
	return nil
}

// name returns the node's first text, or "".
func (n *wktNode) name() string {
	if n == nil || len(n.text) == 0 {
		return ""
	}
	return n.text[0]
}

// num returns the i-th number.
func (n *wktNode) num(i int) (v float64, ok bool) {
	if n == nil || i >= len(n.nums) {
		return 0, false
	}
	return n.nums[i], true
}

// readWKT reads the nodes of a text: one, or several with commas between (a projected system and a vertical one).
func readWKT(s string) ([]*wktNode, error) {
	if len(s) > maxWKT {
		return nil, fmt.Errorf("coordinate system text: %d bytes are too many for one; check that this is a .prj file",
			len(s))
	}
	r := wktReader{s: s}
	var roots []*wktNode
	for {
		n, err := r.node(0)
		if err != nil {
			return nil, err
		}
		roots = append(roots, n)
		if r.blank(); !r.take(",") {
			break
		}
	}
	if r.i < len(s) {
		return nil, r.fault("nothing more")
	}
	return roots, nil
}

// wktReader is a place in the text.
type wktReader struct {
	s string
	i int
}

// fault says what stands at the place and what should.
func (r *wktReader) fault(wanted string) error {
	rest := r.s[r.i:]
	if len(rest) > 20 {
		rest = rest[:20]
	}
	return fmt.Errorf("coordinate system text, byte %d: %s found where %s should stand; "+
		"repair the .prj file or name the system with --crs EPSG:n", r.i+1, quote(rest), wanted)
}

// blank steps over white space.
func (r *wktReader) blank() {
	for r.i < len(r.s) && strings.IndexByte(" \t\r\n", r.s[r.i]) >= 0 {
		r.i++
	}
}

// take steps over the next byte if it is one of set.
func (r *wktReader) take(set string) bool {
	if r.i < len(r.s) && strings.IndexByte(set, r.s[r.i]) >= 0 {
		r.i++
		return true
	}
	return false
}

// run returns the longest run of bytes that belong.
func (r *wktReader) run(belongs func(byte) bool) string {
	from := r.i
	for r.i < len(r.s) && belongs(r.s[r.i]) {
		r.i++
	}
	return r.s[from:r.i]
}

// isWordByte tells what keywords and directions are made of.
func isWordByte(c byte) bool {
	return c == '_' || c >= 'a' && c <= 'z' || c >= 'A' && c <= 'Z' || c >= '0' && c <= '9'
}

// isNumberByte tells what a number may hold; whether it is one, strconv decides.
func isNumberByte(c byte) bool { return strings.IndexByte("0123456789+-.eE", c) >= 0 }

// node reads WORD[…]; WORD(…) is the same by the standard.
func (r *wktReader) node(depth int) (*wktNode, error) {
	r.blank()
	n := &wktNode{word: strings.ToUpper(r.run(isWordByte))}
	if n.word == "" || depth > maxDepth {
		return nil, r.fault("a keyword")
	}
	r.blank()
	if !r.take("[(") {
		return nil, r.fault(`"["`)
	}
	for {
		if err := r.argument(n, depth); err != nil {
			return nil, err
		}
		r.blank()
		switch {
		case r.take(","):
		case r.take("])"):
			return n, nil
		default:
			return nil, r.fault(`"," or "]"`)
		}
	}
}

// argument reads one argument into n: quoted text, a number, a bare word or a node.
func (r *wktReader) argument(n *wktNode, depth int) error {
	r.blank()
	if r.i == len(r.s) {
		return r.fault("an argument")
	}
	switch c := r.s[r.i]; {
	case c == '"':
		return r.quoted(n)
	case strings.IndexByte("0123456789+-.", c) >= 0:
		from := r.i
		v, err := strconv.ParseFloat(r.run(isNumberByte), 64)
		if err != nil {
			r.i = from
			return r.fault("a number")
		}
		n.nums = append(n.nums, v)
		return nil
	}
	from := r.i
	word := r.run(isWordByte)
	if r.blank(); word != "" && r.i < len(r.s) && strings.IndexByte("[(", r.s[r.i]) < 0 {
		n.bare = append(n.bare, strings.ToUpper(word))
		return nil
	}
	r.i = from
	kid, err := r.node(depth + 1)
	if err == nil {
		n.kids = append(n.kids, kid)
	}
	return err
}

// quoted reads a quoted text; a doubled quote inside stands for one.
func (r *wktReader) quoted(n *wktNode) error {
	r.i++
	var b strings.Builder
	for {
		b.WriteString(r.run(func(c byte) bool { return c != '"' }))
		if !r.take(`"`) {
			return r.fault("a closing quote")
		}
		if !r.take(`"`) {
			break
		}
		b.WriteByte('"')
	}
	n.text = append(n.text, b.String())
	return nil
}
