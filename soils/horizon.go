package soils

import "rootworthy/soils/unit"

// Horizon is one layer of a component. Depths count from the top of the described profile, litter included.
type Horizon struct {
	Key              string                      // chkey
	Name             string                      // hzname, e.g. "Btx1"
	Master           string                      // desgnmaster, e.g. "B"; empty when not recorded
	Top, Bottom      unit.Opt[unit.Depth]        // hzdept_r, hzdepb_r
	PH               Range[unit.PH]              // ph1to1h2o
	PHCaCl2          Range[unit.PHCaCl2]         // ph01mcacl2
	AWC              unit.Opt[float64]           // awc_r, cm of water per cm of soil, net of fragments
	Sand, Silt, Clay unit.Opt[unit.Percent]      // of the fine earth
	OrganicMatter    unit.Opt[unit.Percent]      // om_r
	BulkDensity      unit.Opt[float64]           // dbthirdbar_r, g/cm³
	Carbonate        unit.Opt[unit.Percent]      // caco3_r
	EC               unit.Opt[unit.Conductivity] // ec_r
	SAR              unit.Opt[float64]           // sar_r
	CEC7, ECEC       unit.Opt[float64]           // cmolc/kg; in acid soil CEC7 is usually null and ECEC is not CEC7
	Texture          string                      // class code of the representative texture, e.g. "SL", see ParseTexture; empty when there is no one class
	TextureGroup     string                      // the representative texture as the survey codes it, e.g. "GRV-SIL", "SR- FSL SIL", "BR"
}
