// Package soils is the soil survey as the trade knows it: map units made of components, components made of
// horizons, with restrictions and monthly wetness; and how values are gathered over depth and over components.
//
// A map unit is drawn on the map; a component has a percent of it but no place of its own; a horizon is one layer
// of a component. Sources: USDA Soil Survey Manual; SSURGO metadata (tables mapunit, component, chorizon,
// corestrictions, comonth, cosoilmoist). Readers of a survey format ([rootworthy/soils/ssurgo]) fill these types; nothing here knows files.
package soils
