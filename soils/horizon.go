package soils

import (
	"strings"

	"rootworthy/soils/unit"
)

// Horizon is one layer of a component. Depths count from the top of the described profile, litter included.
type Horizon struct {
	Key              string                      // chkey
	Name             string                      // hzname, e.g. "Btx1"
	Master           string                      // desgnmaster, e.g. "B"; empty when not recorded
	Top, Bottom      unit.Opt[unit.Depth]        // hzdept_r, hzdepb_r
	PH               Range[unit.PH]              // ph1to1h2o
	PHCaCl2          Range[unit.PHCaCl2]         // ph01mcacl2
	AWC              unit.Opt[float64]           // awc_r, cm of water per cm of soil, net of fragments
	AWCLow, AWCHigh  unit.Opt[float64]           // awc_l, awc_h
	Sand, Silt, Clay unit.Opt[unit.Percent]      // of the fine earth
	OrganicMatter    unit.Opt[unit.Percent]      // om_r
	BulkDensity      unit.Opt[float64]           // dbthirdbar_r, g/cm³
	Carbonate        unit.Opt[unit.Percent]      // caco3_r
	EC               unit.Opt[unit.Conductivity] // ec_r
	SAR              unit.Opt[float64]           // sar_r
	CEC7, ECEC       unit.Opt[float64]           // cmolc/kg; in acid soil CEC7 is usually null and ECEC is not CEC7
	Texture          string                      // class code of the representative texture, e.g. "SL", see ParseTexture; empty when there is no one class
	TextureReckoned  bool                        // Texture is by Sand, Silt and Clay, see TextureOf: the survey names none
	TextureGroup     string                      // the representative texture as the survey codes it, e.g. "GRV-SIL", "SR- FSL SIL", "BR"
}

// Fragipan says whether the horizon is a pan by its designation: x among the small letters, as in Bx or 2Btx1.
// Source: USDA Soil Survey Manual, chapter 3, suffix symbols.
func (h *Horizon) Fragipan() bool {
	// a designation is a number of the parent material, capitals of the master horizons, small letters, and a number of the subdivision:
	// 2Btx1. Only the small letters are looked at
	name := strings.TrimLeft(h.Name, "0123456789^")
	suffixes := strings.TrimLeft(name, "ABCEO/'")
	// without a capital before it an x is no suffix of a horizon
	return suffixes != name && strings.Contains(strings.TrimRight(suffixes, "0123456789"), "x")
}
