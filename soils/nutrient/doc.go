// Package nutrient says what fertilizer a soil test calls for: test and extractant → class → rate, table by table.
//
// States rate the same soil differently, so every figure belongs to a [Table]: a state, sometimes a region, an edition and
// a source. A new edition is a new table beside the old one. A table holds for the extractant it was calibrated with; a test
// by another is refused with the question to ask, never converted. Where a source was read but its rates were not, the
// class stands and the rate is refused: nobody's rates fill another's table.
//
//	table, _ := nutrient.TableByName("south-carolina")
//	needs := table.Require(nutrient.Soil{Printed: []nutrient.Printed{
//		{Nutrient: nutrient.Phosphorus, Class: "medium"}, {Nutrient: nutrient.Potassium, Class: "low"}}}, nutrient.Ask{})
//
// Rates are of what fertilizer is sold by: P2O5, K2O, Mg, S, B and Mo. Beside the tables stand what hay removes
// ([Removals], sources disagree and all are kept), what plant tissue should hold ([TissueRanges]) and the nitrogen that
// the crop saves ([NitrogenSaved]).
package nutrient
