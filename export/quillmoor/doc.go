// Package quillmoor holds the result of an invented run for tests: Quillmoor Farm, five fields in an invented survey
// area, with every kind of answer: suited once limed, too wet, too shallow, marginal by subsoil pH, and outside the
// survey. Names carry what breaks files: quotes, commas, accents, formulas, attributes that clash with ours.
//
// Its ratings are written down by hand, after the rules but not by the program's rating, so that tests of outputs do
// not move when the rating does.
package quillmoor
