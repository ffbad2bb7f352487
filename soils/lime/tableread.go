package lime

import (
	"fmt"
	"io"
	"slices"
	"strings"

	"rootworthy/internal/diag"
	"rootworthy/internal/tomltext"
	"rootworthy/soils/unit"
)

// mostTable is the longest table file, in bytes; real ones have some kilobytes.
const mostTable = 1 << 20

// ReadTable reads a user's own table from TOML:
//
//	name    = "County table of 2024"
//	source  = "where the table is printed"
//	buffer  = "sikora"            # mehlich, adams_evans, moore_sikora, smp, sikora, woodruff
//	unit    = "short tons/ac"     # or lb/ac, t/ha, kg/ha, lb/1000 ft2
//	quality = 100                 # ECCE of the lime it means, percent; or "as sold"
//	slice_in = 8                  # or slice_cm; leave out where the table does not say
//	states  = ["KY"]
//	targets = [6.4, 6.8]
//
//	[[row]]
//	buffer_ph = 6.0
//	lime = [2.5, 3.5]
//
// Every fault is reported with its line. Rows may stand in any order; lime may not fall where the soil is more acid or
// the target higher, for then a figure is misprinted. ok is false when there were faults: a table with a hole is not
// used. The error says that the file could not be read.
func ReadTable(name string, r io.Reader, faults *diag.List) (t *Table, ok bool, err error) {
	text, err := io.ReadAll(io.LimitReader(r, mostTable+1))
	if err != nil {
		return nil, false, fmt.Errorf("%s: %w", name, err)
	}
	if len(text) > mostTable {
		return nil, false, fmt.Errorf("%s: over 1 MiB; this is no lime table", name)
	}
	parsed, ok := tomltext.Parse(name, text, "give a lime table, not another file", faults)
	if !ok {
		return nil, false, nil
	}
	t = tableText{parsed}.table(parsed.Root)
	if parsed.Told > 0 {
		return nil, false, nil
	}
	return t, true, nil
}

// tableUnits are the units a table may be in.
func tableUnits() map[string]unit.AreaRate {
	return map[string]unit.AreaRate{
		"short tons/ac": unit.ShortTonPerAcre, "lb/ac": unit.PoundPerAcre, "t/ha": unit.TonnePerHectare, "kg/ha": unit.TonnePerHectare / 1000,
		"lb/1000 ft2": unit.AreaRate(float64(unit.Pound) / (1000 * float64(unit.SquareFoot))),
	}
}

// table checks the content.
func (d tableText) table(root map[string]any) *Table {
	known := []string{"name", "source", "buffer", "unit", "quality", "slice_in", "slice_cm", "states", "targets", "row"}
	d.unknown("", root, known)
	t := &Table{Name: d.text(root, "name"), Source: d.text(root, "source")}
	t.Buffer = Buffer(d.text(root, "buffer"))
	if t.Buffer != "" && !slices.Contains(Buffers(), t.Buffer) {
		d.Fault("buffer", "unknown buffer", "write mehlich, adams_evans, moore_sikora, smp, sikora or woodruff", "%q is no lime buffer", string(t.Buffer))
	}
	factor, ok := tableUnits()[d.text(root, "unit")]
	if !ok && root["unit"] != nil {
		d.Fault("unit", "unknown unit", "write short tons/ac, lb/ac, t/ha, kg/ha or lb/1000 ft2", "%q is no unit of lime", fmt.Sprint(root["unit"]))
	}
	t.Quality = d.quality(root)
	t.Slice = d.slice(root)
	t.States = d.states(root)
	t.Targets = d.targets(root)
	d.rows(root, t, factor)
	return t
}

// quality has no default: lime of 60 and of 100 percent under one rate are two different rates.
func (d tableText) quality(root map[string]any) Quality {
	v, ok := root["quality"]
	if !ok {
		d.Fault("quality", "missing", `write the ECCE of the lime the table means, percent, or "as sold"`, "the quality of lime is missing")
		return AsSold
	}
	if v == "as sold" {
		return AsSold
	}
	q, ok := asNumber(v)
	if !ok || !(q >= 1 && q <= float64(MostECCE)) {
		d.Fault("quality", "quality", `write a percent from 1 to 250, or "as sold"`, "%q is no quality of lime", fmt.Sprint(v))
	}
	return Quality(q)
}

// slice is missing where the table does not say; other depths are then refused.
func (d tableText) slice(root map[string]any) unit.Opt[unit.Depth] {
	var out unit.Opt[unit.Depth]
	for _, key := range []string{"slice_in", "slice_cm"} {
		v, ok := root[key]
		if !ok {
			continue
		}
		n, ok := asNumber(v)
		depth := unit.Depth(n)
		if key == "slice_in" {
			depth = unit.InchesDeep(n)
		}
		switch {
		case !ok || !(depth > 0 && depth <= deepest):
			d.Fault(key, "slice", "write a depth up to 60 cm (23 in), or leave it out", "%q is no depth", fmt.Sprint(v))
		case out.Has():
			d.Fault(key, "slice", "keep slice_in or slice_cm", "the slice is given twice")
		}
		out = unit.Some(depth)
	}
	return out
}

func (d tableText) states(root map[string]any) []string {
	var out []string
	for i, v := range d.list(root, "states", false) {
		s, ok := v.(string)
		if !ok || len(s) != 2 || s != strings.ToUpper(s) {
			d.Fault(tomltext.Join("states", i), "state", `write a postal code such as "KY"`, "%q is no state", fmt.Sprint(v))
			continue
		}
		out = append(out, s)
	}
	return out
}

// targets must rise: rates are read between neighbours.
func (d tableText) targets(root map[string]any) []unit.PH {
	var out []unit.PH
	for i, v := range d.list(root, "targets", true) {
		n, ok := asNumber(v)
		switch {
		case !ok || !(n >= 4 && n <= 9):
			d.Fault(tomltext.Join("targets", i), "target", "write a pH from 4 to 9", "%q is no target pH", fmt.Sprint(v))
		case len(out) > 0 && unit.PH(n) <= out[len(out)-1]:
			d.Fault(tomltext.Join("targets", i), "target", "write targets in ascending order, each once", "target %g does not follow %g", n, float64(out[len(out)-1]))
		}
		// kept though wrong: rows are counted against targets, and one fault should not make a second
		out = append(out, unit.PH(n))
	}
	return out
}
