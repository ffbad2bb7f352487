package ssurgo_test

import (
	"math"
	"strconv"
	"strings"
	"testing"

	"rootworthy/soils"
	"rootworthy/soils/unit"
)

// What the agency ships as muaggatt.txt, recomputed from components, horizons, restrictions and months. Water may be
// off by 0.01 cm, since the agency rounds exact halves in binary; all else is exact, and empty where it is empty.
func TestAggregatesReproduceTheAgency(t *testing.T) {
	for _, c := range []struct {
		survey string
		units  int
	}{
		{"ssurgo-ar017", 41}, {"ssurgo-az649-tabular", 36}, {"ssurgo-mo181-tabular", 117}, {"ssurgo-ia015-aoi", 4},
		{"ssurgo-ia073-aoi", 5}, {"ssurgo-tx347-tx401-tabular", 141}, {"statsgo2-ut-tabular", 559},
	} {
		t.Run(c.survey, func(t *testing.T) {
			t.Parallel()
			folder := realFolder(t, c.survey)
			survey := readSurvey(t, folder)
			if len(survey.Units) != c.units {
				t.Fatalf("%d map units, want %d", len(survey.Units), c.units)
			}
			compareAggregates(t, survey, muaggatt(t, folder))
		})
	}
}

// compareAggregates asks for the agency's figures to the letter, but for water, where the last digit may differ by rounding.
func compareAggregates(t *testing.T, survey *soils.Survey, published map[string]map[string]string) {
	t.Helper()
	off, values := 0, 0
	for i := range survey.Units {
		u := &survey.Units[i]
		want := published[u.Key]
		if want == nil {
			t.Errorf("unit %s is not in muaggatt", u.Key)
			continue
		}
		for column, got := range aggregateTexts(soils.Aggregate(u)) {
			values++
			if strings.HasPrefix(column, "aws") && nearly(got, want[column]) {
				if got != want[column] {
					off++
				}
			} else if got != want[column] {
				t.Errorf("%s %s (%s): got %q, the agency has %q", u.Key, column, u.Symbol, got, want[column])
			}
		}
	}
	t.Logf("%d of %d values exact, %d water values off by 0.01 cm", values-off, values, off)
}

// nearly compares centimetres of water to 0.01; empty equals only empty.
func nearly(a, b string) bool {
	x, errA := strconv.ParseFloat(a, 64)
	y, errB := strconv.ParseFloat(b, 64)
	return errA == nil && errB == nil && math.Abs(x-y) < 0.01+1e-9
}

// aggregateTexts writes an aggregate under the agency's column names, as the agency writes it.
func aggregateTexts(a soils.UnitAggregate) map[string]string {
	out := map[string]string{
		"slopegraddcp": optText(a.SlopeDominant), "slopegradwta": optText(a.SlopeMean), "brockdepmin": optText(a.BedrockMin),
		"wtdepannmin": optText(a.WetMin), "wtdepaprjunmin": optText(a.WetMinAprilToJune), "flodfreqdcd": a.FloodingDominant.String(),
		"flodfreqmax": a.FloodingHighest.String(), "pondfreqprs": optText(a.PondingPercent), "drclassdcd": a.Drainage.String(),
		"drclasswettest": a.DrainageWettest.String(), "hydgrpdcd": a.HydrologicGroup, "hydclprs": optText(a.HydricPercent),
		"iccdcd": a.Irrigated.Class, "iccdcdpct": optText(a.Irrigated.Percent), "niccdcd": a.Nonirrigated.Class,
		"niccdcdpct": optText(a.Nonirrigated.Percent),
	}
	for i, column := range []string{"aws025wta", "aws050wta", "aws0100wta", "aws0150wta"} {
		if mm, ok := a.Water[i].Get(); ok {
			out[column] = decimal(math.Round(float64(mm)*10) / 100) // the agency writes cm
		} else {
			out[column] = ""
		}
	}
	return out
}

// optText is a value as muaggatt writes it; missing is empty.
func optText[T ~float64](v unit.Opt[T]) string {
	if x, ok := v.Get(); ok {
		return decimal(float64(x))
	}
	return ""
}

func decimal(x float64) string { return strconv.FormatFloat(x, 'f', -1, 64) }
