package ssurgo_test

import (
	"encoding/csv"
	"fmt"
	"math"
	"os"
	"strconv"
	"strings"
	"testing"

	"rootworthy/soils"
	"rootworthy/soils/unit"
)

const checkValues = "../../../shared/reference/soil-check-values.csv"

// 4,669 values of five real surveys. Those marked published are the agency's muaggatt; the others were computed from
// the same exports in exact decimals by a separately written program, and the means again by a third one.
func TestCheckValues(t *testing.T) {
	f, err := os.Open(checkValues)
	if err != nil {
		t.Skipf("the check values are not beside the repository: %v", err)
	}
	defer f.Close()
	rows, err := csv.NewReader(f).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	folders := map[string]string{"ar017": "ssurgo-ar017", "az649": "ssurgo-az649-tabular", "mo181": "ssurgo-mo181-tabular",
		"ia015-aoi": "ssurgo-ia015-aoi", "ia073-aoi": "ssurgo-ia073-aoi"}
	surveys := map[string]*soils.Survey{}
	for name, folder := range folders {
		surveys[name] = readSurvey(t, realFolder(t, folder))
	}
	checked := 0
	for _, row := range rows[1:] {
		u := unitByKey(t, surveys[row[0]], row[2])
		quantity, rule, want := row[3], row[4], row[5]
		got, step := checkValue(t, u, quantity, rule)
		checked++
		if !sameText(got, want, step) {
			t.Errorf("%s %s %s %s: got %q, want %q", row[0], row[2], quantity, rule, got, want)
		}
	}
	if checked != 4669 {
		t.Errorf("%d values checked, want 4669", checked)
	}
}

// checkValue computes one value as text; step is the last digit that the reference gives, 0 where it is exact.
func checkValue(t *testing.T, u *soils.MapUnit, quantity, rule string) (text string, step float64) {
	t.Helper()
	if rule == "muaggatt" {
		if strings.HasPrefix(quantity, "aws") {
			step = 0.01
		}
		return aggregateTexts(soils.Aggregate(u))[quantity], step
	}
	kind, window, _ := strings.Cut(rule, " ")
	if kind == "dcp" {
		kind, window, _ = strings.Cut(window, " ")
		kind = "dcp " + kind
	}
	var w soils.Window
	fmt.Sscanf(window, "%g-%g", &w.From, &w.To)
	dominant, _ := u.DominantComponent()
	value := map[string]func(*soils.Horizon) unit.Opt[float64]{
		"ph1to1h2o_r": func(h *soils.Horizon) unit.Opt[float64] { return plain(h.PH.Value) },
		"claytotal_r": func(h *soils.Horizon) unit.Opt[float64] { return plain(h.Clay) },
		"om_r":        func(h *soils.Horizon) unit.Opt[float64] { return plain(h.OrganicMatter) },
		"cec7_r":      func(h *soils.Horizon) unit.Opt[float64] { return h.CEC7 },
	}[quantity]
	switch kind {
	case "wmean":
		v, _ := soils.UnitWindowMean(u, w, value)
		return fixed(v, 3), 0.0005
	case "dcp wmean":
		v, _ := soils.WindowMean(dominant.Horizons, w, value)
		return fixed(v, 3), 0.0005
	case "hplus":
		v, _ := soils.UnitMeanPH(u, w)
		return fixed(v, 3), 0.0005
	case "cover":
		return fixed(unit.Some(soils.UnitCover(u, w, value)), 2), 0.005
	case "first<5.5":
		return optText(soils.FirstBelow(dominant.Horizons, 5.5, value)), 0
	case "dcp min":
		r, _ := dominant.Shallowest(nil)
		return optText(r.Top), 0
	case "dcp wet":
		d, _ := dominant.ShallowestWet(soils.AprilToJune)
		return optText(d), 0
	}
	t.Fatalf("no such rule: %q", rule)
	return "", 0
}

func plain[T ~float64](v unit.Opt[T]) unit.Opt[float64] {
	if x, ok := v.Get(); ok {
		return unit.Some(float64(x))
	}
	return unit.None[float64]()
}

// fixed writes enough digits for the comparison with half of the last one.
func fixed[T ~float64](v unit.Opt[T], decimals int) string {
	if x, ok := v.Get(); ok {
		return strconv.FormatFloat(float64(x), 'f', decimals+6, 64)
	}
	return ""
}

// sameText compares exactly, or numbers to within step (and the width of a binary float).
func sameText(got, want string, step float64) bool {
	if step == 0 || got == "" || want == "" {
		return got == want
	}
	x, errX := strconv.ParseFloat(got, 64)
	y, errY := strconv.ParseFloat(want, 64)
	return errX == nil && errY == nil && math.Abs(x-y) <= step+1e-6
}
