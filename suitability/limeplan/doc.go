// Package limeplan turns the rating of a zone into its lime: a screening band at 100 % calcium carbonate equivalent,
// the product as spread, how many yearly passes that makes on sod, when the last has worked and the earliest autumn
// in which alfalfa can be sown.
//
// [Asked.OnRecord] holds what was spread since against what each pass asks: a pass is spread when the record reaches it.
//
// From a soil survey alone the figure is a budget, not a rate: a soil test sets the rate.
package limeplan
