package soilmap_test

import (
	"bytes"
	"context"
	"slices"
	"strings"
	"testing"

	"rootworthy/export/words"
	"rootworthy/internal/diag"
	"rootworthy/internal/job"
	"rootworthy/internal/soilmap"
	"rootworthy/soils"
	"rootworthy/suitability"
)

// rated opens tables alone and rates every map unit.
func rated(t *testing.T, name string) ([]job.RatedUnit, *soils.Survey, *diag.List) {
	t.Helper()
	faults := &diag.List{}
	s, err := soilmap.Open(context.Background(), []soilmap.Source{asTables(folder(shared(t, name))[0])}, soilmap.Options{}, faults)
	if err != nil {
		t.Fatal(err)
	}
	defer s.Close()
	return job.Units(s.Survey(), suitability.DefaultProfile()), s.Survey(), faults
}

// The general soil map comes without tables of texture: lime has figures all the same, by sand, silt and clay, and says so;
// every class is of low confidence.
func TestGeneralSoilMapIsForScreeningOnly(t *testing.T) {
	units, _, faults := rated(t, "statsgo2-ut-tabular")
	if len(units) != 559 || faults.Faults() != 0 || !strings.Contains(faults.String(), "for screening only") {
		t.Fatalf("%d units\n%s", len(units), faults)
	}
	figures, marked := 0, 0
	for _, u := range units {
		c := u.Rating.Confidence
		if c.Level != suitability.Low || !slices.Contains(c.Reasons, suitability.ReasonCoarse) {
			t.Fatalf("unit %s: confidence %+v", u.Unit.Key, c)
		}
		for _, soil := range u.Rating.Components {
			if soil.Lime.Figure.Or(0) <= 0 {
				continue
			}
			figures++
			if slices.Contains(soil.Lime.Caveats, suitability.LimeReckoned) {
				marked++
			}
		}
	}
	if figures < 100 || marked != figures {
		t.Errorf("%d components have a lime figure, %d of them say that their texture is reckoned", figures, marked)
	}
	var b bytes.Buffer
	for _, u := range units {
		if slices.ContainsFunc(u.Rating.Components, func(c suitability.ComponentRating) bool { return c.Lime.Figure.Or(0) > 0 }) {
			z := suitability.Zone{ID: "a/1", FieldID: "a", Rating: u.Rating}
			if err := words.Explain(&b, &z, nil); err != nil {
				t.Fatal(err)
			}
			break
		}
	}
	if text := strings.Join(strings.Fields(b.String()), " "); !strings.Contains(text, "* by sand, silt and clay: the survey does not name the texture") {
		t.Errorf("the explanation does not say where the texture is from:\n%s", b.String())
	}
}

// An excerpt of the old layout: keys with a colon join, and the fragipan that only the name of a horizon tells of stops
// the roots where it begins. Its horizon Bx is read off the file by eye: component 541991:786581, 58 to 119 cm.
func TestOldLayout(t *testing.T) {
	units, survey, _ := rated(t, "ssurgo-pa061-oldformat")
	horizons, pans := 0, 0
	for _, u := range survey.Units {
		for _, c := range u.Components {
			horizons += len(c.Horizons)
			if len(c.Horizons) > 0 && !strings.Contains(c.Key, ":") {
				t.Errorf("component key %q", c.Key)
			}
		}
	}
	for _, u := range units {
		for _, c := range u.Rating.Components {
			for _, f := range c.Findings {
				if f.Note == suitability.NotePanByName {
					pans++
					if f.Word != "Fragipan" || f.Criterion != suitability.Depth {
						t.Errorf("%+v", f)
					}
				}
			}
		}
	}
	if horizons != 4 || pans != 1 {
		t.Errorf("%d horizons, %d pans by name; want 4, 1", horizons, pans)
	}
}

// Nothing is reckoned where the survey itself names it.
func TestSurveysWithTexturesStand(t *testing.T) {
	for _, name := range []string{"ssurgo-mo181-tabular", "ssurgo-tx347-tx401-tabular", "ssurgo-az649-tabular"} {
		_, survey, faults := rated(t, name)
		reckoned, all := 0, 0
		for _, u := range survey.Units {
			for _, c := range u.Components {
				for _, h := range c.Horizons {
					all++
					if h.TextureReckoned {
						reckoned++
					}
				}
			}
		}
		if reckoned != 0 || all == 0 {
			t.Errorf("%s: %d of %d textures reckoned\n%s", name, reckoned, all, faults)
		}
	}
}
