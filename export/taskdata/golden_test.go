package taskdata_test

import (
	"bytes"
	"flag"
	"os"
	"testing"

	"rootworthy/export/taskdata"
	"rootworthy/soils/unit"
)

var update = flag.Bool("update", false, "rewrite the golden files")

// TestGolden: a small file of each kind and its load sheet, to be read line by line when they change.
func TestGolden(t *testing.T) {
	var m made
	m.field("A", "North Field", rect(0, 0, 30, 20))
	m.zone(2, tested, rect(0, 0, 14, 20))
	m.zone(1, tested, rect(14, 0, 30, 20))
	hopper := taskdata.Machine{Width: 18, Hopper: unit.ShortTon / 20}
	for file, o := range map[string]taskdata.Options{"grid2": {Machine: hopper}, "grid1": {Form: taskdata.Grid1}, "polygons4": {Form: taskdata.Polygons, Version: 4}} {
		all := written(t, plan(t, &m.r, o))
		golden(t, file+".xml", all["TASKDATA/TASKDATA.XML"].Data)
		if file == "grid2" {
			golden(t, "load-sheet.txt", all[taskdata.SheetText].Data)
			golden(t, "load-sheet.html", all[taskdata.SheetHTML].Data)
		}
	}
}

// golden compares a file with the one kept; -update rewrites that instead.
func golden(t *testing.T, name string, got []byte) {
	t.Helper()
	path := "testdata/" + name
	if *update {
		if err := os.MkdirAll("testdata", 0o755); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(path, got, 0o644); err != nil {
			t.Fatal(err)
		}
		return
	}
	want, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	if !bytes.Equal(got, want) {
		t.Errorf("%s differs; run with -update and read the difference. Now:\n%s", path, got)
	}
}

// TestTrayWeight: 2 short tons an acre put 448.3 g on a square metre (exact from the pound and the acre; computed).
func TestTrayWeight(t *testing.T) {
	p := plan(t, twoZones(), taskdata.Options{Machine: taskdata.Machine{Tray: 0.25}})
	sheet := string(written(t, p)[taskdata.SheetText].Data)
	if !bytes.Contains([]byte(sheet), []byte("2.00      4000      4.48              112       4.0")) {
		t.Errorf("0.25 m² at 2 short tons an acre must catch 112 g:\n%s", sheet)
	}
}
