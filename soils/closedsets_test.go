package soils

import "testing"

// Every class goes through its words and back; nothing recorded is not a class.
func TestClosedSetsRoundTrip(t *testing.T) {
	for _, c := range DrainageClasses() {
		if got, ok := ParseDrainage(c.String()); !ok || got != c {
			t.Errorf("ParseDrainage(%q) = %v, %v", c, got, ok)
		}
	}
	for _, f := range Frequencies() {
		if got, ok := ParseFrequency(" " + f.String() + " "); !ok || got != f {
			t.Errorf("ParseFrequency(%q) = %v, %v", f, got, ok)
		}
	}
	if c, ok := ParseDrainage(""); !ok || c != DrainageUnknown {
		t.Errorf(`ParseDrainage("") = %v, %v, want not recorded`, c, ok)
	}
	if _, ok := ParseDrainage("drained"); ok {
		t.Error(`"drained" was taken for a class`)
	}
	if !(VeryPoorlyDrained < WellDrained) {
		t.Error("classes are ordered wettest first")
	}
}
