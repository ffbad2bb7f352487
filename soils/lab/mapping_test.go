package lab

import (
	"bytes"
	"reflect"
	"strings"
	"testing"

	"rootworthy/internal/diag"
)

// Headers may hold what TOML has marks for, quotes, line ends and backslashes among it.
func TestMappingRoundTrip(t *testing.T) {
	m := &Mapping{Columns: map[string]string{`B"pH` + "\n\\": "buffer_ph_sikora", "P": "p_m3_ppm", "Notes": "ignore", "é #2": "k_m1_lb_ac"},
		PH: "water", Buffer: "smp", Extractant: "olsen", Unit: "meq", SliceLbAc: 2.4e6, DepthUnit: "cm", DepthInID: true, TopCm: 15, BottomCm: 30.5,
		DateOrder: "dmy", Decimal: ",", Lab: "L"}
	var b bytes.Buffer
	if err := m.Write(&b); err != nil {
		t.Fatal(err)
	}
	var faults diag.List
	back, err := ReadMapping("m.toml", bytes.NewReader(b.Bytes()), &faults)
	if err != nil || faults.Faults() != 0 || !reflect.DeepEqual(back, m) {
		t.Errorf("read back %+v, %v, %s from\n%s", back, err, &faults, b.String())
	}
	var empty bytes.Buffer
	if err := (&Mapping{}).Write(&empty); err != nil || empty.Len() != 0 {
		t.Errorf("a mapping that overrides nothing writes %q, %v", empty.String(), err)
	}
}

// An editor on Windows may put a byte order mark first and end lines its own way; neither is a fault of the user's.
func TestMappingOfAnotherEditor(t *testing.T) {
	var faults diag.List
	m, err := ReadMapping("m.toml", strings.NewReader("\ufeffph = \"water\"\r\nbuffer = \"smp\"\r\n"), &faults)
	if err != nil || faults.Faults() != 0 || m.PH != "water" || m.Buffer != "smp" {
		t.Errorf("%+v, %v, %s", m, err, &faults)
	}
}

// All ten in one go, and what is right beside them is kept.
func TestMappingFaults(t *testing.T) {
	text := "ph = \"milk\"\nbuffer = \"jones\"\nunit = \"stone\"\nslice_lb_ac = 2\nbottom_cm = -3\ndate_order = \"ydm\"\ndecimal = \";\"\nnosuch = 1\n" +
		"[columns]\n\"A\" = \"p_m3\"\n\"B\" = \"p_m3_ppm\"\n\"C\" = \"P (ppm)\"\n"
	var faults diag.List
	m, err := ReadMapping("m.toml", strings.NewReader(text), &faults)
	if err != nil {
		t.Fatal(err)
	}
	if !reflect.DeepEqual(m, &Mapping{Columns: map[string]string{"B": "p_m3_ppm"}}) {
		t.Errorf("kept %+v", m)
	}
	if faults.Faults() != 10 || !strings.Contains(faults.String(), `m.toml:8: nosuch: "nosuch" is no setting`) {
		t.Errorf("%d faults, want 10: %s", faults.Faults(), faults.String())
	}
	if _, err := ReadMapping("m.toml", strings.NewReader("ph = \n"), &faults); err == nil || !strings.HasPrefix(err.Error(), "m.toml:1:") || strings.Contains(err.Error(), "\n") {
		t.Errorf("broken TOML: %v", err)
	}
	if _, err := ReadMapping("m.toml", strings.NewReader(strings.Repeat("#", 2<<20)), &faults); err == nil {
		t.Error("two megabytes were taken for a mapping")
	}
}
