package uncertainty_test

import (
	"testing"

	"rootworthy/soils"
	"rootworthy/soils/unit"
	"rootworthy/suitability"
	"rootworthy/suitability/uncertainty"
)

// The chance of enough is that of the class where a field is one zone, falls with what is asked, and without spread is what the rating says.
func TestChanceOfEnough(t *testing.T) {
	r := resultOf([]soils.MapUnit{{Area: "XX001", Key: "a", Components: []soils.Component{soil(60, 6.5, 0.3), soil(40, 4.4, 0.2)}}}, false)
	of := func(o uncertainty.Options) *uncertainty.Study { return uncertainty.Of(r, o) }
	half := of(uncertainty.Options{Enough: uncertainty.Enough{Share: 0.5, Area: unit.Acres(1e6)}}).Fields[0]
	p, ok := half.Enough.Get()
	if want := half.Class.Of(suitability.Suited); !ok || p != want || !(p > 0 && p < 1) {
		t.Errorf("chance of half the field %v, %v; its class is suited with %v", p, ok, want)
	}
	if got := of(uncertainty.Options{}).Fields[0].Enough; got.Has() {
		t.Errorf("nothing was asked, told %v", got)
	}
	last := 2.0
	for _, acres := range []float64{0, 1, 9.99, 10, 10.01, 50} {
		f := of(uncertainty.Options{Enough: uncertainty.Enough{Share: 10, Area: unit.Acres(acres)}}).Fields[0]
		p := f.Enough.Or(-1)
		if p > last || p < 0 || acres == 0 && p != 1 || acres > 10 && p != 0 {
			t.Errorf("chance of %v of its 10 acres: %v, of less %v", acres, p, last)
		}
		last = p
	}
	two := resultOf([]soils.MapUnit{{Area: "XX001", Key: "a", Components: []soils.Component{soil(100, 6.5, 0.3)}}, {Area: "XX001", Key: "b", Components: []soils.Component{soil(100, 4.2, 0.1)}}}, false)
	for acres, want := range map[float64]float64{9: 1, 11: 0} { // one of its two zones of 10 acres is suited
		f := uncertainty.Of(two, uncertainty.Options{NoSpread: true, AsMapped: true, Enough: uncertainty.Enough{Share: 1, Area: unit.Acres(acres)}}).Fields[0]
		if p := f.Enough.Or(-1); p != want {
			t.Errorf("nothing varies, %v acres are wanted, and the chance is %v, want %v", acres, p, want)
		}
	}
}
