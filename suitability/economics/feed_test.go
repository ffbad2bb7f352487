package economics_test

import (
	"testing"

	"rootworthy/soils/nutrient"
	"rootworthy/soils/unit"
	"rootworthy/suitability"
	"rootworthy/suitability/economics"
	"rootworthy/suitability/nutrientplan"
)

// product prices a fertilizer by the short ton.
func product(p *economics.Prices, name string, r economics.Range[float64]) {
	u := economics.Lime.Units()[0]
	p.Products = append(p.Products, economics.Product{Name: name, Price: economics.Price{Item: economics.Fertilizer, Value: r.Times(u.Scale), Unit: u, Source: "made", Year: 2026}})
}

// A zone with rates pays for its products and for nutrients without one; a zone without rates pays by the acre; where something has no price
// the plan is not used at all.
func TestFertilizerByItsPlan(t *testing.T) {
	advised := []nutrientplan.Advised{{Nutrient: nutrient.Phosphorus, Rate: unit.PoundsPerAcre(100), Source: "made"}, {Nutrient: nutrient.Potassium, Rate: unit.PoundsPerAcre(300), Source: "made"}}
	potash, err := nutrientplan.ParseProduct("0-0-60")
	if err != nil {
		t.Fatal(err)
	}
	a, b := zone("A/1", "A", suitability.Suited, 10, 0, 0, 0, 0), zone("A/2", "A", suitability.Suited, 10, 0, 0, 0, 0)
	plan := nutrientplan.Make([]nutrientplan.Zone{{ID: a.ID, FieldID: "A", Area: a.Area, Class: suitability.Suited, Tests: []nutrientplan.Test{{Advised: advised}}},
		{ID: b.ID, FieldID: "A", Area: b.Area, Class: suitability.Suited}}, nutrientplan.Options{Products: []nutrientplan.Product{potash}})
	p := prices(map[economics.Item]economics.Range[float64]{economics.Fertilizer: fixed(90)})
	product(p, "0-0-60", economics.Range[float64]{Low: 300, Likely: 400, High: 600})
	fertilizer := func() (by, flat economics.Line) {
		s := economics.Of(result(a, b), p, economics.Options{Nutrients: plan})
		for k, z := range s.Zones {
			for _, l := range z.Lines {
				if l.Item == economics.Fertilizer && k == 0 {
					by = l
				} else if l.Item == economics.Fertilizer {
					flat = l
				}
			}
		}
		return by, flat
	}
	if by, _ := fertilizer(); by.Planned {
		t.Errorf("phosphate has no price, yet the plan is priced: %+v", by)
	}
	product(p, nutrient.Phosphorus.Sold(), fixed(1000))
	by, flat := fertilizer()
	if !by.Planned || flat.Planned {
		t.Fatalf("%+v, %+v", by, flat)
	}
	// 300 lb of K2O are 500 lb of 0-0-60, a quarter ton; 100 lb of P2O5 are a twentieth of a ton.
	near(t, "low", by.Money.Low.PerAcre(), 300*0.25+50, 1e-9)
	near(t, "likely", by.Money.Likely.PerAcre(), 400*0.25+50, 1e-9)
	near(t, "high", by.Money.High.PerAcre(), 600*0.25+50, 1e-9)
	near(t, "by the acre", flat.Money.Likely.PerAcre(), 90, 1e-9)
}
