// Package report writes a run as reports for three readers, each as PDF and as one stand-alone page of HTML:
//
//   - the landowner: the answer in three lines and a map, then zone by zone what, why, what to do and how sure, the lime
//     to order, a calendar, what to test next, cautions and sources, in plain words;
//   - the consultant: fields by rank, how sure each is and which soil test would settle it, maps, reasons by area, and two
//     fields side by side;
//   - the technician: rates, totals, files and checks.
//
// How sure an answer is stands in words before it stands in figures: "7 chances in 10 that it is suited (0.70)".
//
// A report is built once as a [Document], a list of blocks, and then written in either form, so that PDF and HTML cannot
// differ in a word or a number. Everything comes from the result of the run; areas and lime are the sums of package
// export, which the files of the run hold too.
//
//	doc := report.Landowner(result, report.Options{})
//	err := doc.HTML(w)
//	err = doc.PDF(w, report.Letter)
//
// The HTML is the accessible form: headings, tables and descriptions of maps can be read aloud. The PDF has bookmarks
// and a language but no tags, and says so.
package report
