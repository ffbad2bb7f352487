package taskdata

import (
	"fmt"

	"rootworthy/internal/diag"
)

// faultAt is a fault at a line of a file; 0 is no line.
func faultAt(file string, line int, kind, what, fix string) diag.Fault {
	return diag.Fault{File: file, Line: line, Kind: kind, What: what, Fix: fix}
}

// references tells what points at nothing, and which codes mean nothing.
func (r *reader) references() {
	for i := range r.file.Tasks {
		t := &r.file.Tasks[i]
		point := func(id, what string) {
			if id != "" && r.ids[id] == 0 {
				r.faults.Add(faultAt(r.named, t.Line, "reference", fmt.Sprintf("%s names the %s %s, which is not in the file", t.label(), what, visible(id)), "export it again"))
			}
		}
		point(t.Field, "field")
		for _, z := range t.Zones {
			for _, s := range z.Values {
				point(s.Product, "product")
				point(s.Display, "unit of display")
			}
		}
		for _, c := range []struct {
			code int
			what string
		}{{t.Default, "default"}, {t.Lost, "position-lost"}, {t.Outside, "out-of-field"}} {
			if _, ok := t.Zone(c.code); c.code >= 0 && !ok {
				r.faults.Add(faultAt(r.named, t.Line, "code without zone", fmt.Sprintf("%s has the %s zone code %d, but no such zone", t.label(), c.what, c.code), "export it again"))
			}
		}
	}
}
