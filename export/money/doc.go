// Package money writes what package economics works out: a document for page and paper that a landowner can read, tables for a
// spreadsheet, and a picture of what moves the result most.
//
//	b := money.Book{Run: result, Study: economics.Of(result, prices, economics.Options{Draws: 1000})}
//	for _, name := range money.Files() {
//		err := b.Write(w, name, report.Letter)
//	}
//
// Figures stand as ranges, with what they rest on and what is not in them. Nothing is promised.
package money
