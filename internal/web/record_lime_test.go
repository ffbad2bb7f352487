package web

import (
	"strings"
	"testing"
)

// Lime on record stands on the field's page against what the run asks: 0.6 of the 1.25 short tons an acre that the demonstration asks of its
// second field.
func TestRecordHoldsLimeAgainstTheRun(t *testing.T) {
	s := serveRecord(t, &paper{text: []byte("field_id,zone_id,date,kind,value,unit,note\nF2,,2026-04-02,lime,0.6,ton_ac,\n")})
	_, page := s.get("/run/1/field/1/record")
	if want := "Zone 1. The lime is begun: 0.6 of 1.25 short tons an acre are on record, 0.65 are missing"; !strings.Contains(page, want) {
		t.Errorf("the page does not say %q", want)
	}
	if !strings.Contains(page, `value="ton_ac_cce"`) {
		t.Error("pure lime is no unit of the form")
	}
	if _, other := s.get("/run/1/field/0/record"); strings.Contains(other, "spread and asked") {
		t.Error("a field without lime on record")
	}
}
