package lab

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"slices"
	"strconv"
	"strings"

	"github.com/pelletier/go-toml/v2"

	"rootworthy/internal/diag"
)

// Mapping says what the file does not: it is asked of the laboratory once and kept beside the file. The zero value, and
// nil, override nothing.
type Mapping struct {
	// Columns gives columns their plain names, by header as the file writes it: "BpH" = "buffer_ph_sikora". "ignore"
	// leaves a column out. The second of two columns with one header is "Lime Rec #2".
	Columns map[string]string `toml:"columns"`

	PH         string  `toml:"ph"`          // what a column called just "pH" was measured in: "water" or "cacl2"
	Buffer     string  `toml:"buffer"`      // of a buffer pH whose header names none, e.g. "mehlich"
	Extractant string  `toml:"extractant"`  // of nutrients whose header names none, e.g. "m3"
	Unit       string  `toml:"unit"`        // of nutrients whose header names none, e.g. "ppm" or "lb_ac"
	SliceLbAc  float64 `toml:"slice_lb_ac"` // soil that the laboratory's lb/ac is about; 0 means 2,000,000
	DepthUnit  string  `toml:"depth_unit"`  // of depths without one: "cm" or "in"
	DepthInID  bool    `toml:"depth_in_id"` // sample ids end in their layer, "A5 10-20"
	TopCm      float64 `toml:"top_cm"`      // layer of samples without one; used when BottomCm is over 0
	BottomCm   float64 `toml:"bottom_cm"`
	DateOrder  string  `toml:"date_order"` // "mdy" or "dmy"
	Decimal    string  `toml:"decimal"`    // "." or ","
	Lab        string  `toml:"lab"`        // name of the laboratory when the file gives none
}

// ReadSoundMapping reads a mapping as [ReadMapping] does and refuses one with a fault in it: read wrong, every sample would be.
func ReadSoundMapping(name string, r io.Reader, faults *diag.List) (*Mapping, error) {
	var own diag.List
	m, err := ReadMapping(name, r, &own)
	if err != nil {
		return nil, err
	}
	// all of them at once, and not the first alone
	if own.Faults() > 0 {
		return nil, fmt.Errorf("the column mapping has faults:\n%s", own.String())
	}
	// notices do not stand in the way, and are handed on
	for _, f := range own.Kept() {
		faults.Add(f)
	}
	return m, nil
}

// ReadMapping reads a mapping from TOML. Unknown keys and values out of range are faults; what is wrong is left unset.
// The error says that it is no TOML or could not be read.
func ReadMapping(name string, r io.Reader, faults *diag.List) (*Mapping, error) {
	const most = 1 << 20 // a mapping is some lines long
	b, err := io.ReadAll(io.LimitReader(r, most+1))
	if err != nil {
		return nil, fmt.Errorf("%s: %w", name, err)
	}
	if len(b) > most {
		return nil, fmt.Errorf("%s: over 1 MiB; this is no column mapping", name)
	}
	// unknown settings are faults and not errors: the rest of the mapping is read, and all of them are told at once
	m := &Mapping{}
	err = toml.NewDecoder(bytes.NewReader(bytes.TrimPrefix(b, []byte("\ufeff")))).DisallowUnknownFields().Decode(m)
	var strict *toml.StrictMissingError
	var syntax *toml.DecodeError
	switch {
	case errors.As(err, &strict):
		for _, e := range strict.Errors {
			line, _ := e.Position()
			key := strings.Join(e.Key(), ".")
			faults.Add(diag.Fault{File: name, Line: line, Field: key, Kind: "unknown setting",
				What: strconv.Quote(key) + " is no setting of a column mapping", Fix: "remove it, or correct its spelling"})
		}
	case errors.As(err, &syntax):
		line, _ := syntax.Position()
		return nil, fmt.Errorf("%s:%d: not a column mapping: %s", name, line, syntax.Error())
	case err != nil:
		return nil, fmt.Errorf("%s: not a column mapping: %w", name, err)
	}
	m.check(name, faults)
	return m, nil
}

// check reports what cannot be followed and takes it out.
func (m *Mapping) check(name string, faults *diag.List) {
	bad := func(field, value, want string) {
		faults.Add(diag.Fault{File: name, Field: field, Kind: "bad setting", What: strconv.Quote(value) + " is not known", Fix: "write " + want})
	}
	for _, s := range []struct {
		field string
		value *string
		known []string
	}{
		{"ph", &m.PH, []string{"water", "cacl2"}},
		{"buffer", &m.Buffer, codes(LimeBuffers())},
		{"extractant", &m.Extractant, codes(Extractants())},
		{"unit", &m.Unit, []string{"ppm", "mg_dm3", "lb_ac", "kg_ha", "meq"}},
		{"depth_unit", &m.DepthUnit, []string{"cm", "in"}},
		{"date_order", &m.DateOrder, []string{"mdy", "dmy"}},
		{"decimal", &m.Decimal, []string{".", ","}},
	} {
		if *s.value != "" && !slices.Contains(s.known, *s.value) {
			bad(s.field, *s.value, strings.Join(s.known, ", "))
			// unset, so that nothing is read by a word that nobody understands
			*s.value = ""
		}
	}
	// from an inch or two of muck to nearly three feet of mineral soil; beyond it the figure has another unit
	if !(m.SliceLbAc == 0 || m.SliceLbAc >= 1e5 && m.SliceLbAc <= 1e7) {
		bad("slice_lb_ac", fmt.Sprint(m.SliceLbAc), "the pounds of soil on an acre, such as 2000000")
		m.SliceLbAc = 0
	}
	if !(m.TopCm >= 0 && m.BottomCm >= 0 && (m.BottomCm == 0 || m.BottomCm > m.TopCm) && m.BottomCm <= deepest) {
		bad("bottom_cm", fmt.Sprint(m.BottomCm), "a bottom below the top, in cm")
		// both: an end alone would be another layer
		m.TopCm, m.BottomCm = 0, 0
	}
	for _, header := range sortedKeys(m.Columns) {
		// a name that is nearly plain would be read as something else or nothing
		if c := m.Columns[header]; c != "ignore" && plainName(c).holds == nothing {
			bad("columns."+header, c, `a plain name such as "p_m3_ppm", or "ignore"`)
			delete(m.Columns, header)
		}
	}
}

// plainName reads a name of the plain header; nothing when it is not one in full.
func plainName(s string) column {
	c := understand(s, "")
	// Headers are understood generously; a plain name must be the one name of its column, so that it means the same in
	// years.
	if c.code() != s {
		return column{}
	}
	return c
}

// codes lists the plain names of a closed set, for messages.
func codes[T interface{ Code() string }](all []T) []string {
	var out []string
	for _, m := range all {
		out = append(out, m.Code())
	}
	return out
}

// sortedKeys gives a map an order, without which faults and files would differ from run to run.
func sortedKeys(m map[string]string) []string {
	out := make([]string, 0, len(m))
	for k := range m {
		out = append(out, k)
	}
	slices.Sort(out)
	return out
}

// Write writes the mapping as TOML that [ReadMapping] reads back; settings that override nothing are left out.
func (m *Mapping) Write(w io.Writer) error {
	var b bytes.Buffer
	text := func(key, value string) {
		if value != "" {
			fmt.Fprintf(&b, "%s = %s\n", key, tomlText(value))
		}
	}
	// never with an exponent: a person reads this file
	figure := func(key string, v float64) {
		if v != 0 {
			fmt.Fprintf(&b, "%s = %s\n", key, strconv.FormatFloat(v, 'f', -1, 64))
		}
	}
	text("lab", m.Lab)
	text("ph", m.PH)
	text("buffer", m.Buffer)
	text("extractant", m.Extractant)
	text("unit", m.Unit)
	figure("slice_lb_ac", m.SliceLbAc)
	text("depth_unit", m.DepthUnit)
	if m.DepthInID {
		b.WriteString("depth_in_id = true\n")
	}
	figure("top_cm", m.TopCm)
	figure("bottom_cm", m.BottomCm)
	text("date_order", m.DateOrder)
	text("decimal", m.Decimal)
	if len(m.Columns) > 0 {
		b.WriteString("\n[columns]\n")
	}
	for _, k := range sortedKeys(m.Columns) {
		// headers hold blanks, dots and quotes, so all of them are quoted
		text(tomlText(k), m.Columns[k])
	}
	_, err := w.Write(b.Bytes())
	return err
}

// tomlText writes a basic string of TOML.
func tomlText(s string) string {
	var b strings.Builder
	b.WriteByte('"')
	for _, r := range strings.ToValidUTF8(s, "\uFFFD") {
		switch {
		case r == '"' || r == '\\':
			b.WriteString(`\` + string(r))
		case r < ' ' || r == 0x7f:
			fmt.Fprintf(&b, `\u%04X`, r)
		default:
			b.WriteRune(r)
		}
	}
	b.WriteByte('"')
	return b.String()
}
