// Package csvlist reads the small lists that users keep by hand: what a stand has seen, the classes of a laboratory's report, limes and their
// prices, trials of varieties, a place's normals. Each is a line of headings and rows under it, saved by some spreadsheet.
//
//	list, err := csvlist.Open("limes.csv", r, csvlist.Form{Columns: []string{"name", "price"}, MostBytes: 1 << 20})
//	for row := range list.Rows(faults) {
//		fmt.Println(row.Line, row.Cell("name"), row.Cell("price"))
//	}
//
// What spreadsheets do to such a file is forgiven: a byte order mark, semicolons or tabs between the cells, headings in capitals, columns in
// another order, lines that are empty but for separators. What would lose a row is told, with its line. What the cells mean is the caller's.
//
// The free tables of laboratories, whose headings have to be guessed, are read by soils/lab.
package csvlist
