// Package unit holds the quantities of the trade as types, and the only conversion factors of the program.
//
// Quantities are SI or plain multiples of it inside (m², kg, kg/m², centimetres of depth); acres, short tons and
// inches appear where people read and write, through the functions of this package. pH in water, in calcium
// chloride and in a lime buffer are three types that do not mix. What was not recorded is an [Opt] without a value:
// never zero, never NaN.
//
//	area := unit.Hectares(4)
//	rate := unit.ShortTonsPerAcre(1.35)
//	order := rate.Over(area) // kg
package unit
