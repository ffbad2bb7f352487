package soils_test

import (
	"fmt"

	"rootworthy/soils"
	"rootworthy/soils/unit"
)

// Woodland soil under 2 cm of litter, as the survey describes it: acid leaves, a less acid topsoil, an acid subsoil.
func Example() {
	c := soils.Component{Name: "Doniphan", Order: "Ultisols", Percent: unit.Some[unit.Percent](85), Horizons: []soils.Horizon{
		horizon("Oi", 0, 2, 4.3), horizon("A", 2, 13, 5.8), horizon("BE", 13, 33, 4.9), horizon("2Bt", 33, 79, 4.8)}}

	surface := soils.Window{From: 0, To: 20}
	ph, _ := soils.WindowMean(c.Horizons, surface, soils.PHOf)
	fmt.Printf("pH 0-20 cm from the top of the litter: %.3f\n", ph.Or(0))

	mineral, litter := c.MineralSurface()
	ph, covered := soils.WindowMean(mineral.Horizons, surface, soils.PHOf)
	fmt.Printf("pH 0-20 cm from the mineral surface, %g cm lower: %.3f (%g of 20 cm described)\n", float64(litter), ph.Or(0), float64(covered))

	subsoil := soils.Window{From: 30, To: 100}
	ph, covered = soils.WindowMean(mineral.Horizons, subsoil, soils.PHOf)
	fmt.Printf("pH 30-100 cm: %.3f (%g of 70 cm described)\n", ph.Or(0), float64(covered))
	// Output:
	// pH 0-20 cm from the top of the litter: 5.335
	// pH 0-20 cm from the mineral surface, 2 cm lower: 5.395 (20 of 20 cm described)
	// pH 30-100 cm: 4.802 (47 of 70 cm described)
}

func horizon(name string, top, bottom, ph float64) soils.Horizon {
	return soils.Horizon{Name: name, Top: unit.Some(unit.Depth(top)), Bottom: unit.Some(unit.Depth(bottom)),
		PH: soils.Range[unit.PH]{Value: unit.Some(unit.PH(ph))}}
}
