// Package nutrientplan turns soil tests into fertilizer, zone by zone: rates, when each part goes on, the product, and
// what to order for the farm.
//
// A laboratory prints classes and rates beside its figures; [ReadReport] takes them from a small table. The rate of a zone is the plain mean of what the table asks for over the tests that speak for it, each counted once; what the
// laboratory itself advises goes before the table. A zone that nobody tested has no rate: it is told what to test for and
// what span to expect. Potash comes first, since want of it is the first cause of stand loss.
//
//	plan := nutrientplan.Make(zones, nutrientplan.Options{Table: table, Products: products})
//	plan.Farm.Of(nutrient.Potassium) // the same mass as the zones' together
//
// Amounts are not rounded, so that zones add up to fields, fields to the farm and the farm to the order.
package nutrientplan
