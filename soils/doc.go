// Package soils is the soil survey as the trade knows it: map units made of components, components made of
// horizons, with restrictions and monthly wetness; and how values are gathered over depth and over components.
//
// A map unit is drawn on the map; a component has a percent of it but no place of its own; a horizon is one layer
// of a component. So values are gathered in two steps, over depth within the component, then by percent:
//
//	c, litter := component.MineralSurface()                                  // depths from the mineral surface
//	ph, covered := soils.WindowMean(c.Horizons, soils.Window{0, 20}, soils.PHOf) // one component
//	ph, weight := soils.UnitWindowMean(&unit, soils.Window{0, 20}, soils.PHOf)   // the whole unit
//
// A value that is not recorded takes no part, and every mean says how much it stands for. [Aggregate] gathers a unit
// into the row that the agency itself publishes.
//
// Sources: USDA Soil Survey Manual; SSURGO metadata (tables mapunit, component, chorizon,
// corestrictions, comonth, cosoilmoist). Readers of a survey format ([rootworthy/soils/ssurgo]) fill these types; nothing here knows files.
package soils
