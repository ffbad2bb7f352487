package suitability_test

import (
	"fmt"

	"rootworthy/soils"
	"rootworthy/soils/unit"
	"rootworthy/suitability"
)

// A deep, well drained soil that is acid on top: unsuited as it is, suited once limed.
func Example() {
	horizon := func(top, bottom unit.Depth, texture string, ph unit.PH) soils.Horizon {
		return soils.Horizon{Top: unit.Some(top), Bottom: unit.Some(bottom), Texture: texture, PH: soils.Range[unit.PH]{Value: unit.Some(ph)}}
	}
	ground := soils.MapUnit{Components: []soils.Component{{
		Name: "Made", Percent: unit.Some(unit.Percent(100)), Drainage: soils.WellDrained,
		Horizons: []soils.Horizon{horizon(0, 15, "SL", 5.4), horizon(15, 150, "SCL", 5.6)},
	}}}
	p := suitability.DefaultProfile()
	r := p.RateUnit(ground, suitability.RateOptions{})
	fmt.Println(r.ClassToday, "today, limited by", r.LimitingToday, "- correctable:", r.CorrectableToday)
	fmt.Println(r.Class, "once limed, score", r.Score.Or(0))
	fmt.Println("confidence", r.Confidence.Level, r.Confidence.Reasons)
	// Output:
	// unsuited today, limited by ph_surface - correctable: yes
	// suited once limed, score 76
	// confidence medium [no laboratory test]
}
