package soilmap

import (
	"fmt"
	"regexp"
	"strconv"
	"strings"

	"rootworthy/soils/unit"
)

// gridName is what the name of a raster of modelled soil says: which property, of which depth, and which figure of it.
type gridName struct {
	property    string // as the files are named: "phh2o"
	top, bottom unit.Depth
	figure      string // in small letters: "mean", "q0.05", "q0.5", "q0.95", "uncertainty"
}

// gridProperty is a property that is read, and what its stored integers are divided by.
type gridProperty struct {
	name    string
	divisor float64 // to pH, percent, g/cm³, cmol/kg, g/kg, or cm of water per cm of soil
	most    float64 // after division; more is no value
}

// gridProperties lists the properties that are read.
//
// Source: SoilGrids 2.0 documentation of units and conversion factors (mapped units phh2o pH×10, clay, sand and silt g/kg,
// soc dg/kg, cec mmol(c)/kg, bdod cg/cm³, wv 0.1 vol %). That wv stands in parts of a thousand: not verified on files.
func gridProperties() []gridProperty {
	return []gridProperty{{"phh2o", 10, 12}, {"clay", 10, 100}, {"sand", 10, 100}, {"silt", 10, 100}, {"soc", 10, 600}, {"cec", 10, 300},
		{"bdod", 100, 3}, {"wv0033", 1000, 1}, {"wv1500", 1000, 1}}
}

// gridNames is how the files are named: phh2o_0-5cm_mean.tif.
var gridNames = regexp.MustCompile(`(?i)^(phh2o|clay|sand|silt|soc|cec|bdod|nitrogen|ocd|ocs|cfvo|wv0010|wv0033|wv1500)_(\d{1,3})-(\d{1,3})cm_(mean|Q0\.05|Q0\.5|Q0\.95|uncertainty)\.tiff?$`)

// parseGridName reads the name of a file; ok is false when it is none of a stack of soil properties.
func parseGridName(name string) (g gridName, ok bool) {
	// The name is all that is asked: nothing inside a file is looked at for property or depth.
	m := gridNames.FindStringSubmatch(name)
	if m == nil {
		return g, false
	}
	top, _ := strconv.Atoi(m[2])
	bottom, _ := strconv.Atoi(m[3])
	return gridName{strings.ToLower(m[1]), unit.Depth(top), unit.Depth(bottom), strings.ToLower(m[4])}, top < bottom
}

// String says in words which layer it is.
func (g gridName) String() string {
	return fmt.Sprintf("%s of %g to %g cm, %s", g.property, float64(g.top), float64(g.bottom), g.figure)
}

// of returns the property that the name tells; ok is false for one that is not read.
func (g gridName) of() (p gridProperty, ok bool) {
	for _, p := range gridProperties() {
		if p.name == g.property {
			// Uncertainty says how sure the model is, and is no value of the soil.
			return p, g.figure != "uncertainty"
		}
	}
	return p, false
}
