// Package changes tells what changed between two runs, for people and as a table: the comparison itself is suitability/change. The page and the
// command line print the same sentences and write the same file.
package changes
