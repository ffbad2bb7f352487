// Package diag says what is wrong with a user's data: where, what, and what to do about it.
//
// Two channels never mix. A [Fault] is wrong content that a reader stepped over; it goes into a [List]. An error
// means that the work could not go on at all (I/O, cancelled, not this format). A fault that changed nothing the
// user asked for (a ring that was closed, a field partly outside the survey) is a notice: told, but no failure.
//
//	faults := &diag.List{}
//	faults.Add(diag.Fault{File: "tests.csv", Line: 41, Field: "water pH", Kind: "range",
//		What: `"64" is not a pH between 2 and 12`, Fix: "correct the cell, or leave it empty if it was not measured"})
//	fmt.Print(faults) // tests.csv:41: water pH: "64" is not a pH between 2 and 12; correct the cell, …
package diag
