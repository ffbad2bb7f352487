package suitability

// Code names a criterion in every output; "" means none limits.
type Code string

// The criteria, in the order that breaks ties for the limiting factor.
const (
	Drainage       Code = "drainage"
	Depth          Code = "depth"
	WaterTable     Code = "water_table"
	Ponding        Code = "ponding"
	Flooding       Code = "flooding"
	SubsoilPH      Code = "ph_subsoil"
	SurfacePH      Code = "ph_surface"
	Salinity       Code = "salinity"
	Sodicity       Code = "sodicity"
	AvailableWater Code = "available_water"
	Slope          Code = "slope"
)

// Codes lists every criterion in that order.
func Codes() []Code {
	return []Code{Drainage, Depth, WaterTable, Ponding, Flooding, SubsoilPH, SurfacePH, Salinity, Sodicity, AvailableWater, Slope}
}

// Correctable says whether a limit can be corrected, and how far.
type Correctable string

// The answers. Partly: subsoil acidity, in part and over years.
const (
	NotLimited     Correctable = ""
	Yes            Correctable = "yes"
	Partly         Correctable = "in part"
	No             Correctable = "no"
	AsDeclaredOnly Correctable = "as declared" // drainage works that the user declared
)
