package lime

import (
	"math"
	"strings"
	"testing"

	"rootworthy/internal/diag"
)

const inventedOffers = `name,price,ecce,cce,scheme,mesh_20,mesh_60,mesh_100,moisture,dolomitic
River quarry,42,63,,,,,,8,no
Hill quarry,55,,95,new-york,100,80,60,,yes
`

// Each faulty line names the field to mend.
func TestReadOffers(t *testing.T) {
	faults := &diag.List{}
	got, err := ReadOffers("limes.csv", strings.NewReader(inventedOffers), faults)
	if err != nil || faults.Faults() > 0 || len(got) != 2 {
		t.Fatal(got, err, faults)
	}
	// fine-04: Cornell University CCA study material, performance objective 41: 100, 80 and 60 % through 20, 60 and 100 mesh are
	// 84 % fine; at 95 % CCE an ENV of 79.8.
	if e := float64(got[1].Product.ECCE); math.Abs(e-79.8) > 1e-9 || !got[1].Dolomite || got[0].Dolomite {
		t.Errorf("%+v", got)
	}
	if p := got[0].PerEffectiveTon(); math.Abs(p-42/(0.63*0.92)) > 1e-9 {
		t.Errorf("%v an effective ton", p)
	}
	for text, field := range map[string]string{
		"a,40,63,90,,,,,,":            "cce", // never divide twice
		"a,40,,90,,,,,,":              "scheme",
		"a,40,,90,new-york,100,80,,,": "scheme",
		"a,,63,,,,,,,":                "price",
		",40,63,,,,,,,":               "name",
		"a,40,x,,,,,,,":               "ecce",
		"a,40,,,,,,,,":                "ecce",
		"a,40,63,,,,,,95,":            "ecce",
		"a,40,63,,,,,,8,perhaps":      "dolomitic",
		"a,NaN,63,,,,,,8,":            "price",
	} {
		faults := &diag.List{}
		got, err := ReadOffers("limes.csv", strings.NewReader(inventedOffers+text+"\n"), faults)
		if err != nil || len(got) != 2 || faults.Faults() == 0 || faults.Kept()[0].Line != 4 || faults.Kept()[0].Field != field {
			t.Errorf("%q: %v, %v\n%s", text, got, err, faults)
		}
	}
	if _, err := ReadOffers("x", strings.NewReader(strings.Repeat("a,", 1<<20)), &diag.List{}); err == nil {
		t.Error("a list without end is read")
	}
}

// An offer that passes has a price for what works in it, and a finite one.
func FuzzReadOffers(f *testing.F) {
	f.Add(inventedOffers)
	f.Add("name,price\n\"a")
	f.Add("mesh_20,mesh_20,cce,scheme,name,price\n1,2,90,mississippi,a,1e5")
	f.Fuzz(func(t *testing.T, text string) {
		offers, err := ReadOffers("x.csv", strings.NewReader(text), &diag.List{})
		if err != nil && len(text) <= mostOffers {
			t.Fatal(err)
		}
		for _, o := range offers {
			if p := o.PerEffectiveTon(); !(p > 0) || math.IsInf(p, 0) {
				t.Fatalf("%+v: %v", o, p)
			}
		}
	})
}
