// Package grower writes the grower's plan of a run: one dated plan by field as a document for page and paper, as three tables and as
// calendar entries.
//
//	doc := grower.Document(farm)            // HTML and PDF by package report
//	err := grower.WriteSteps(w, farm)       // plan.csv, a row for each zone and step
//	err = grower.WriteMaterials(w, farm)    // materials.csv, a row for each zone and material
//	err = grower.WriteOrder(w, farm)        // order.csv, a row for each thing to buy
//	entries := grower.Entries(farm)         // plan.ics by package calendar
//
// Everything comes from the result of the run as it stands and from plans made of it: ratings and lime are not worked out again. Each number
// stands with its source, or with the word that it has none.
package grower
