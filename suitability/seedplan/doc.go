// Package seedplan says how much alfalfa seed a field takes and how to put it in the ground: pure live seed from the tag, rate
// and rows, the drill's calibration, what to order, and how many plants to count when.
//
// A rate counts seed that can grow. The bag holds coating, dead seed and hard seed too, so more of it is sown:
//
//	tag := seedplan.Tag{Purity: 66, Germination: 90}
//	bulk := tag.Bulk(unit.PoundsPerAcre(22)) // 37 lb/ac of what is in the bag
//
// Alfalfa goes no deeper than half an inch, into sod that was cut or grazed to one to two inches and suppressed.
package seedplan
