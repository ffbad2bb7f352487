package stand

import (
	"cmp"
	"encoding/csv"
	"fmt"
	"io"
	"slices"
	"strconv"
	"strings"
	"time"

	"rootworthy/soils/unit"
)

// Record is one line: something seen or done on a day. Value stays in the unit it was written in, so that a record that is read and
// written again is the same record.
type Record struct {
	Field, Zone string // zone "" for the whole field
	Day         time.Time
	Kind        Kind
	Value       unit.Opt[float64]
	Unit        string // of Kind.Units; "" without a value
	Note        string // one line
	Line        int    // in the file; 0 when it was not read
	Unread      bool   // a value stands in the file that cannot be understood: how much it was is not known, though somebody wrote it down
}

// header is the first line of a record, with which [Write] begins.
const header = "field_id,zone_id,date,kind,value,unit,note"

// Write writes records sorted by field, zone, day and kind. The same records give the same bytes, in whatever order they come.
func Write(w io.Writer, records []Record) error {
	out := csv.NewWriter(w)
	if err := out.Write(strings.Split(header, ",")); err != nil {
		return err
	}
	// The caller's records stay in their order.
	sorted := slices.Clone(records)
	slices.SortStableFunc(sorted, compare)
	for _, r := range sorted {
		value := ""
		if v, ok := r.Value.Get(); ok {
			// As few digits as read back to the same number, never with an exponent: spreadsheets show those as they please.
			value = strconv.FormatFloat(v, 'f', -1, 64)
		}
		if err := out.Write([]string{r.Field, r.Zone, r.Day.Format(time.DateOnly), string(r.Kind), value, r.Unit, oneLine(r.Note)}); err != nil {
			return err
		}
	}
	out.Flush()
	return out.Error()
}

// compare orders records; the place of a kind is that of [Kinds].
func compare(a, b Record) int {
	// all that is written is compared, so that equal places mean equal lines and the order of the input never shows; a missing value
	// comes first
	return cmp.Or(cmp.Compare(a.Field, b.Field), cmp.Compare(a.Zone, b.Zone), a.Day.Compare(b.Day),
		cmp.Compare(a.Kind.index(), b.Kind.index()), cmp.Compare(a.Value.Or(-1), b.Value.Or(-1)), cmp.Compare(a.Unit, b.Unit),
		cmp.Compare(a.Note, b.Note))
}

// oneLine brings a note to one line without doubled blanks.
func oneLine(s string) string { return strings.Join(strings.Fields(s), " ") }

// Density returns a count per area; ok is false for a record that is none.
func (r Record) Density() (d unit.PerArea, ok bool) {
	v, ok := r.Value.Get()
	switch {
	case !ok:
		return 0, false
	case r.Unit == "per_ft2":
		return unit.PerArea(v) * unit.PerSquareFoot, true
	// A square yard is nine square feet.
	case r.Unit == "per_yd2":
		return unit.PerArea(v) * unit.PerSquareFoot / 9, true
	case r.Unit == "per_m2":
		return unit.PerArea(v), true
	}
	return 0, false
}

// Hay returns a yield; ok is false for a record that is none.
func (r Record) Hay() (y unit.AreaRate, ok bool) {
	v, ok := r.Value.Get()
	switch {
	case !ok || r.Kind != Yield:
		return 0, false
	case r.Unit == "ton_ac":
		return unit.ShortTonsPerAcre(v), true
	}
	return unit.AreaRate(v) * unit.TonnePerHectare, true
}

// Spread returns how much lime a line tells of; pure says that it is reckoned as calcium carbonate (100 % CCE) and not as the product that
// was spread. ok is false for a record that is none, or has no amount.
func (r Record) Spread() (rate unit.AreaRate, pure, ok bool) {
	v, ok := r.Value.Get()
	if !ok || r.Kind != Lime {
		return 0, false, false
	}
	of, pure := strings.CutSuffix(r.Unit, "_cce")
	if of == "t_ha" {
		return unit.AreaRate(v) * unit.TonnePerHectare, pure, true
	}
	return unit.ShortTonsPerAcre(v), pure, true
}

// String prints the record as a person reads it.
func (r Record) String() string {
	s := fmt.Sprintf("%s %s %s", r.Field, r.Day.Format(time.DateOnly), r.Kind)
	if v, ok := r.Value.Get(); ok {
		s += fmt.Sprintf(" %g %s", v, r.Unit)
	}
	return s
}
