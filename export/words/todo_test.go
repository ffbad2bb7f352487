package words

import (
	"testing"

	"rootworthy/soils/unit"
	"rootworthy/suitability"
)

// Ground that reads the least pH to sow at already, and is limed for the target, is told what the lime is for: "sow only if the pH is 6.2 or
// more" alone would say that it can be sown at once. More acid ground, and ground without a pH, have the plain sentence.
func TestSowOnlySaysWhatTheLimeIsFor(t *testing.T) {
	for _, c := range []struct {
		ph   unit.Opt[unit.PH]
		want string
	}{
		{unit.Some(unit.PH(5.5)), "Sow only if the pH is 6.2 or more."},
		{unit.Some(unit.PH(6.2)), "Sow only if the pH is 6.2 or more; the lime is to bring it to 6.5."},
		{unit.Some(unit.PH(6.5)), "Sow only if the pH is 6.2 or more."},
		{unit.None[unit.PH](), "Sow only if the pH is 6.2 or more."},
	} {
		z := &suitability.Zone{Lime: suitability.Lime{Target: 6.5}}
		z.Rating.Values.PHSurface = c.ph
		if got := sowOnly(z, nil); got != c.want {
			t.Errorf("at %v: %q, want %q", c.ph, got, c.want)
		}
	}
}
