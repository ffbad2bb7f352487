package words

import (
	"bytes"
	"math"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"rootworthy/soils/unit"
	"rootworthy/suitability"
	"rootworthy/suitability/limeplan"
)

// A specialist checks an explanation by hand; this does the same on every map unit of six real surveys: each mean by
// percent, each reading of the lime table and its conversion must come out as printed.
func TestPrintedArithmeticComesOut(t *testing.T) {
	p := suitability.DefaultProfile()
	means, readings := 0, 0
	for name, s := range realSurveys(t) {
		for i, u := range s.Units {
			if testing.Short() && i%20 != 0 {
				continue
			}
			z := suitability.Zone{ID: name + "/" + u.Key, Area: unit.Acres(20), Rating: p.RateUnit(u, suitability.RateOptions{})}
			z.Lime = limeplan.Plan(p, z.Rating, z.Area, limeplan.Options{IncludeUnsuited: true})
			var b bytes.Buffer
			if err := Explain(&b, &z, p); err != nil {
				t.Fatal(err)
			}
			text := strings.Join(strings.Fields(b.String()), " ")
			means += checkMeans(t, z.ID, text)
			readings += checkReadings(t, z.ID, text)
		}
	}
	if means < 50 || readings < 50 {
		t.Errorf("only %d means and %d readings of the table were printed", means, readings)
	}
}

var (
	printedMean    = regexp.MustCompile(`\(([0-9. x+]+)\) / \(([0-9. +]+)\) = (\d+\.\d+)`)
	printedReading = regexp.MustCompile(`: ([0-9.]+) \+ \(([0-9.]+) - ([0-9.]+)\) x \(([0-9.]+) - ([0-9.]+)\) / 0\.5 = ([0-9.]+); x 0\.2178 = (?:at (?:least|most) )?(\d+\.\d+) short`)
)

// number64 reads a printed number.
func number64(t *testing.T, s string) float64 {
	t.Helper()
	x, err := strconv.ParseFloat(strings.TrimSpace(s), 64)
	if err != nil {
		t.Fatal(err)
	}
	return x
}

// checkMeans works out every mean by percent that a text prints, from the terms as printed, and returns how many there are.
func checkMeans(t *testing.T, id, text string) int {
	t.Helper()
	found := printedMean.FindAllStringSubmatch(text, -1)
	for _, m := range found {
		var sum, weights float64
		for _, term := range strings.Split(m[1], "+") {
			w, x, _ := strings.Cut(term, " x ")
			sum += number64(t, w) * number64(t, x)
		}
		for _, w := range strings.Split(m[2], "+") {
			weights += number64(t, w)
		}
		_, decimals, _ := strings.Cut(m[3], ".")
		last := math.Pow10(-len(decimals)) // terms and result are each rounded to half of it
		if got := sum / weights; math.Abs(got-number64(t, m[3])) > last*1.01 {
			t.Errorf("%s: %s comes out as %.5f", id, m[0], got)
		}
	}
	return len(found)
}

// checkReadings does the same with every reading between two columns of the lime table. A pound on 100 square feet is 0.2178 short tons an
// acre: 435.6 lb on the 43,560 square feet of an acre.
func checkReadings(t *testing.T, id, text string) int {
	t.Helper()
	found := printedReading.FindAllStringSubmatch(text, -1)
	for _, m := range found {
		var x [8]float64
		for i := 1; i < 8; i++ {
			x[i] = number64(t, m[i])
		}
		if lb := x[1] + (x[2]-x[3])*(x[4]-x[5])/0.5; math.Abs(lb-x[6]) > 0.5e-3 { // pH is printed to four decimals, the slope is 10 at most
			t.Errorf("%s: %s comes out as %.5f lb", id, m[0], lb)
		}
		if st := x[6] * 0.2178; math.Abs(st-x[7]) > 1e-4 {
			t.Errorf("%s: %s comes out as %.5f short tons/ac", id, m[0], st)
		}
	}
	return len(found)
}
