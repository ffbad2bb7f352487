// Package variety makes a short list of alfalfa varieties from the user's own table, and says of every other variety which trait
// fails. The program knows no names.
//
//	variety,dormancy,region,trial,yield_ton_ac,lsd_ton_ac,persistence_pct,anthracnose,bacterial wilt
//	first,6,piedmont,2025,5.1,0.4,88,HR,R
//
// Columns other than those named in [Read] are diseases and pests; their cells are HR, R, MR, LR or S, or the percent of
// resistant plants. An empty cell is not known, which is neither resistant nor susceptible. Trial means are compared only within a
// trial, and only with its least significant difference.
package variety
