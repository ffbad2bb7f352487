package soils

import "rootworthy/soils/unit"

// Survey is the attribute side of one or more survey areas.
type Survey struct {
	Areas []Area
	Units []MapUnit // sorted by key (numbers by value), unique
}

// Area is a survey area: what a county's soil survey says about itself.
type Area struct {
	Symbol  string // areasymbol, e.g. "AR017"; "US" in the general soil map
	Name    string
	Version string        // saversion
	Date    string        // day of saverest, "2021-09-13"
	Scale   unit.Opt[int] // projectscale, the denominator; missing when not recorded
	General bool          // the 1:250,000 general soil map, or one modelled: screening only
	Credit  string        // a sentence that names whose data these are; empty means the agency's soil survey
}

// MapUnit is one kind of ground on the map.
type MapUnit struct {
	Key         string      // mukey, the join key; text
	Symbol      string      // musym; not unique across survey areas
	Name        string      // muname
	Kind        string      // mukind: Consociation, Complex, …; empty when not recorded
	Area        string      // symbol of the survey area it belongs to
	Undescribed bool        // it is on the map, but in none of the tables: nothing is known but its key
	Components  []Component // by falling percent, then name, then content; never by record order or component key
}
