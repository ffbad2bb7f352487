package soilmap

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strconv"

	"rootworthy/soils"
	"rootworthy/soils/unit"
)

// describe makes a map unit of every cell that has a value.
// near and values go side by side; cells and units are filled in their order.
func (s *stack) describe(layers []gridLayer, near []cell, values [][]float64) {
	var depths [][2]unit.Depth
	for _, l := range layers {
		// depths as the files are named; those of one property may be fewer than those of another
		if d := [2]unit.Depth{l.top, l.bottom}; !slices.Contains(depths, d) {
			depths = append(depths, d)
		}
	}
	slices.SortFunc(depths, func(a, b [2]unit.Depth) int { return cmp.Or(cmp.Compare(a[0], b[0]), cmp.Compare(a[1], b[1])) })
	for i, c := range near {
		var horizons []soils.Horizon
		for _, d := range depths {
			m := modelled{}
			for j, l := range layers {
				// Less than 0 is the mark of [none].
				if l.top == d[0] && l.bottom == d[1] && values[j][i] >= 0 {
					m[l.property+" "+l.figure] = values[j][i]
				}
			}
			if len(m) > 0 {
				h := m.horizon()
				h.Name = fmt.Sprintf("%g-%g", float64(d[0]), float64(d[1]))
				h.Top, h.Bottom = unit.Some(d[0]), unit.Some(d[1])
				horizons = append(horizons, h)
			}
		}
		// All or nothing: water to 60 cm taken for the whole would make every cell droughty.
		if !holdsWater(horizons) {
			for k := range horizons {
				horizons[k].AWC = unit.None[float64]()
			}
		}
		// A cell without any value (water, a town) becomes no map unit: its ground is then outside the survey, which it is.
		if len(horizons) > 0 {
			s.cells = append(s.cells, c)
			s.units = append(s.units, s.unit(c, horizons))
		}
	}
}

// waterTo is how deep water is summed up for roots, cm. A profile that has figures for a part of it alone would seem dry.
const waterTo = 150

// holdsWater says whether water capacity is known of every layer and deep enough.
func holdsWater(horizons []soils.Horizon) bool {
	for i := range horizons {
		if !horizons[i].AWC.Has() || i > 0 && horizons[i].Top != horizons[i-1].Bottom {
			return false
		}
	}
	// Or gives the value that fails the test where a depth is missing.
	return len(horizons) > 0 && horizons[0].Top.Or(1) == 0 && horizons[len(horizons)-1].Bottom.Or(0) >= waterTo
}

// unit is the map unit of a cell. Its key is where the middle of the cell lies, so that it does not depend on the window
// that somebody cut out.
func (s *stack) unit(c cell, horizons []soils.Horizon) soils.MapUnit {
	// In the raster's own system and not in degrees: longitude and latitude are for people alone.
	middle := s.ground.frame.Center(c.col, c.row)
	digits := func(v float64) string { return strconv.FormatFloat(math.Round(v*1e6)/1e6, 'f', -1, 64) }
	name := "modelled soil"
	if at, ok := s.ground.frame.CRS.ToLonLat(middle); ok {
		name = fmt.Sprintf("modelled soil of the cell at latitude %.4f, longitude %.4f", at[1], at[0])
	}
	return soils.MapUnit{Key: digits(middle[0]) + " " + digits(middle[1]), Symbol: "cell", Name: name, Area: stackArea,
		Components: []soils.Component{{Name: "modelled soil", Percent: unit.Some(unit.Percent(100)), Horizons: horizons}}}
}

// modelled are the values of one cell and depth, by property and figure.
type modelled map[string]float64

// value returns the mean of a property or, where only quantiles were given, its median.
func (m modelled) value(property string) unit.Opt[float64] {
	// The mean first: a stack with both must not depend on which file was read first.
	for _, figure := range []string{" mean", " q0.5"} {
		if v, ok := m[property+figure]; ok {
			return unit.Some(v)
		}
	}
	return unit.None[float64]()
}

// carbonToMatter is how much organic matter goes with a gram of organic carbon (van Bemmelen's factor).
// Source: common practice, no source.
const carbonToMatter = 1.724

// horizon makes a layer of soil of the values of one depth; a property that is not there stays missing.
func (m modelled) horizon() soils.Horizon {
	h := soils.Horizon{BulkDensity: m.value("bdod"), CEC7: m.value("cec"),
		PH: soils.Range[unit.PH]{Low: m.ph(m.quantile("q0.05")), Value: m.ph(m.value("phh2o")), High: m.ph(m.quantile("q0.95"))}}
	if v, ok := m.value("soc").Get(); ok { // g/kg
		// g/kg to percent of weight, then carbon to matter.
		h.OrganicMatter = unit.Some(unit.Percent(v / 10 * carbonToMatter))
	}
	field, okField := m.value("wv0033").Get()
	wilt, okWilt := m.value("wv1500").Get()
	// Water held between field capacity (33 kPa) and wilting point (1500 kPa), which the names of the layers give. Less at
	// field capacity than at wilting is a model's slip, and no water capacity.
	if okField && okWilt && field >= wilt {
		h.AWC = unit.Some(field - wilt)
	}
	m.texture(&h)
	return h
}

// quantile is a figure of pH other than the middle, for its range.
func (m modelled) quantile(q string) unit.Opt[float64] {
	if v, ok := m["phh2o "+q]; ok {
		return unit.Some(v)
	}
	return unit.None[float64]()
}

// ph takes what can be one: water and ice have zeros in some layers.
func (m modelled) ph(v unit.Opt[float64]) unit.Opt[unit.PH] {
	if x, ok := v.Get(); ok && x >= 2 {
		return unit.Some(unit.PH(x))
	}
	return unit.None[unit.PH]()
}

// texture fills in sand, silt, clay and the class that they make. The three are modelled one by one and need not sum to
// a hundred; what is up to a tenth off is brought there.
func (m modelled) texture(h *soils.Horizon) {
	sand, okSand := m.value("sand").Get()
	silt, okSilt := m.value("silt").Get()
	clay, okClay := m.value("clay").Get()
	// clay alone is of use (it bears on lime), sand alone is not
	if okClay {
		h.Clay = unit.Some(unit.Percent(clay))
	}
	sum := sand + silt + clay
	if !okSand || !okSilt || !okClay || math.Abs(sum-100) > 10 {
		return
	}
	by := 100 / sum
	h.Sand, h.Silt, h.Clay = unit.Some(unit.Percent(sand*by)), unit.Some(unit.Percent(silt*by)), unit.Some(unit.Percent(clay*by))
	h.Texture, h.TextureReckoned = soils.TextureOf(unit.Percent(sand*by), unit.Percent(silt*by), unit.Percent(clay*by))
}
