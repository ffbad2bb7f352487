package lab

import (
	"fmt"
	"strings"
	"testing"
)

// Two laboratories below each other in one file: each by its own header, whichever of the two has more columns. Under the header of the
// other, 20 ppm of phosphorus would be 20 tons of lime.
func TestTablesBelowEachOther(t *testing.T) {
	const north = "Sample ID,Field Name,Depth,pH (water),Mehlich Buffer pH,Lime (t/ac)\nN1,Home,0-6 in,5.4,6.1,2\nN2,Kiln,0-6 in,5.6,6.2,1.5\n"
	const south = "Laboratory: South Lab\nSample ID,Field Name,Depth,pH CaCl2,SMP Buffer pH,P Olsen (ppm),K Olsen (ppm)\nS1,East,0-15 cm,5.0,6.4,20,150\n"
	for name, text := range map[string]string{"more columns second": "Laboratory: North Lab\n\n" + north + "\n" + south, "more columns first": south + "\n" + north,
		"in between": north + south + north} {
		r, faults := readString(t, text, nil)
		want := 3
		if name == "in between" {
			want = 5
		}
		if faults.Faults() != 0 || len(r.Samples) != want {
			t.Errorf("%s: %d samples, %s", name, len(r.Samples), faults)
			continue
		}
		for _, s := range r.Samples {
			p, hasP := s.Nutrient(Phosphorus, Olsen)
			got := fmt.Sprint(s.ID, " ", s.Place.Field, " ", s.PH.Has(), " ", s.PHCaCl2.Has(), " ", len(s.Lime) > 0, " ", hasP, " ", p.ByMass.Value.Or(0))
			want := map[string]string{"N1": "N1 Home true false true false 0", "N2": "N2 Kiln true false true false 0", "S1": "S1 East false true false true 20"}[s.ID]
			if got != want {
				t.Errorf("%s: %s, want %s", name, got, want)
			}
			if line := strings.Split(text, "\n")[s.Line-1]; !strings.HasPrefix(line, s.ID+",") {
				t.Errorf("%s: %s is said to stand in line %d, %q", name, s.ID, s.Line, line)
			}
		}
	}
}

// Words that stand among the bags begin no table: methods of a bag without results, a note, the header of the next page.
func TestNoOtherTable(t *testing.T) {
	const text = "sample_id,field_id,buffer,extractant,ph_water,p_ppm\nA1,F1,SMP,Mehlich 3,6.1,20\nA2,F1,SMP,Mehlich 3,,\n" +
		"sample_id,field_id,buffer,extractant,ph_water,p_ppm\nNote: pH by laboratory,,,,,\nA3,F1,SMP,Mehlich 3,6.3,22\n"
	r, faults := readString(t, text, nil)
	if len(r.Samples) != 2 || faults.Faults() != 0 || r.Samples[1].ID != "A3" || len(r.Understood.Columns) != 6 {
		t.Errorf("%d samples, %d columns, %s", len(r.Samples), len(r.Understood.Columns), faults)
	}
}
