// Package choice writes a ranking of fields for those who must choose: the list as a table, page and sheets of paper, and
// a short letter for each field that says take, visit first or leave, and why.
//
//	c := &choice.Choice{Ranking: r, Runs: runs, Date: "2026-03-01"}
//	err := choice.WriteCSV(w, c)           // rank.csv, a row for each field
//	err = choice.WritePage(w, c.Document()) // rank.html; its tables can be sorted
//	err = c.Document().PDF(w, report.Letter)
//	doc := c.Letters(50)                   // a page for each field
//	doc = c.Letter(0)                      // one of them alone
//
// The page is whole without its script; with it, the heads of its tables sort them. Its own content security policy lets
// nothing else run and nothing be fetched.
package choice
