// Package words puts the data of a result into words: why a zone has its class, what can be done about it, what the
// lime figure rests on, and what every reader must be told.
//
// Three readers ask three questions of the same data, so every stable code has words for each: a [Consultant] wants
// the term and the figure, a [Technician] what it means for the work, a [Landowner] plain words, acres and inches.
// The lists of codes are those of package suitability; a test fails for a code that has no words.
package words
