package economics_test

import (
	"bytes"
	"fmt"
	"slices"
	"time"

	"pgregory.net/rapid"

	"rootworthy/internal/diag"
	"rootworthy/soils/lime"
	"rootworthy/soils/unit"
	"rootworthy/suitability"
	"rootworthy/suitability/economics"
)

// zone is a made zone with lime in short tons an acre of product.
func zone(id string, field string, c suitability.Class, acres, low, likely, high float64, months int) suitability.Zone {
	z := suitability.Zone{ID: id, FieldID: field, Area: unit.Acres(acres), Rating: suitability.UnitRating{Class: c}}
	if c == suitability.NotRated || c == suitability.Unsuited {
		return z
	}
	rate := func(x float64) unit.Opt[unit.AreaRate] { return unit.Some(unit.ShortTonsPerAcre(x)) }
	z.Lime = suitability.Lime{Low: rate(low), Likely: rate(likely), High: rate(high), Product: rate(likely), WaitMonths: months}
	z.Lime.Passes = len(lime.Passes(unit.ShortTonsPerAcre(likely), unit.ShortTonsPerAcre(suitability.DefaultProfile().Lime.Cap.Value)))
	return z
}

// result is a run of zones, a field for each name in their order.
func result(zones ...suitability.Zone) *suitability.Result {
	r := &suitability.Result{Zones: zones, Profile: suitability.DefaultProfile()}
	at := map[string]int{}
	for i, z := range zones {
		k, ok := at[z.FieldID]
		if !ok {
			k = len(r.Fields)
			at[z.FieldID] = k
			r.Fields = append(r.Fields, suitability.Field{ID: z.FieldID})
		}
		r.Fields[k].Zones = append(r.Fields[k].Zones, i)
		r.Fields[k].Area += z.Area
	}
	return r
}

// prices are made prices in the first unit of each item.
func prices(of map[economics.Item]economics.Range[float64]) *economics.Prices {
	p := &economics.Prices{Name: "made", Date: time.Date(2026, 11, 25, 0, 0, 0, 0, time.UTC), Place: "made", Currency: "USD"}
	for _, i := range economics.Items() {
		if r, ok := of[i]; ok {
			u := i.Units()[0]
			p.Given = append(p.Given, economics.Price{Item: i, Value: r.Times(u.Scale), Unit: u, Source: "made", Year: 2026})
		}
	}
	return p
}

// again reads prices from the text that they write, so that made ones are as the reader gives them.
func again(p *economics.Prices) (*economics.Prices, error) {
	var b bytes.Buffer
	if err := p.WriteTOML(&b); err != nil {
		return nil, err
	}
	var faults diag.List
	out, err := economics.ReadPrices("made", &b, &faults)
	if out == nil {
		return nil, fmt.Errorf("%v\n%s", err, &faults)
	}
	return out, nil
}

// ranged draws a range within bounds.
func ranged(t *rapid.T, name string, least, most float64) economics.Range[float64] {
	x := rapid.SliceOfN(rapid.Float64Range(least, most), 3, 3).Draw(t, name)
	slices.Sort(x)
	return economics.Range[float64]{Low: x[0], Likely: x[1], High: x[2]}
}

// drawnPrices draws everything that a value takes, and most of the rest.
func drawnPrices(t *rapid.T) map[economics.Item]economics.Range[float64] {
	of := map[economics.Item]economics.Range[float64]{}
	mosts := map[economics.Item]float64{economics.Lime: 90, economics.LimeSpreading: 20, economics.LimePass: 10, economics.SoilSampling: 8, economics.Fertilizer: 250,
		economics.Seed: 9, economics.Inoculant: 5, economics.SodSuppression: 30, economics.Drilling: 40, economics.PerField: 500, economics.Nitrogen: 1,
		economics.Harvest: 100, economics.Upkeep: 150, economics.Insects: 40, economics.RFQPoint: 1, economics.SodBeforeNitrogen: 400}
	for _, i := range economics.Items() {
		if most, ok := mosts[i]; ok {
			of[i] = ranged(t, i.String(), 0, most)
		}
	}
	if rapid.Bool().Draw(t, "potash by the hay") {
		delete(of, economics.Upkeep)
		of[economics.Potash] = ranged(t, "potash", 0, 1)
	}
	of[economics.Hay] = ranged(t, "hay", 40, 260)
	of[economics.Yield] = ranged(t, "yield", 1, 7)
	of[economics.YieldMarginal] = ranged(t, "yield_marginal", 0.5, 6)
	of[economics.YieldUnsuited] = ranged(t, "yield_unsuited", 0, 4)
	of[economics.DiscountRate] = ranged(t, "discount_rate", 0, 15)
	return of
}

// drawnResult draws a farm of some fields.
func drawnResult(t *rapid.T) *suitability.Result {
	var zones []suitability.Zone
	for f := range rapid.IntRange(1, 4).Draw(t, "fields") {
		for n := range rapid.IntRange(1, 5).Draw(t, "zones") {
			field := fmt.Sprintf("F%d", f+1)
			class := rapid.SampledFrom(suitability.Classes()).Draw(t, "class")
			need := ranged(t, "lime", 0, 6)
			if rapid.IntRange(0, 3).Draw(t, "limed") == 0 {
				need = economics.Range[float64]{}
			}
			months := 12 * rapid.IntRange(0, 3).Draw(t, "years")
			zones = append(zones, zone(fmt.Sprintf("%s/%d", field, n+1), field, class, rapid.Float64Range(0.5, 80).Draw(t, "acres"), need.Low, need.Likely, need.High, months))
		}
	}
	return result(zones...)
}
