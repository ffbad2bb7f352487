// Package ranking orders fields for somebody who must choose among many: which to take, which to visit first, which to
// leave, by five criteria whose weights are in sight.
//
//	suited   ground that is suited once limed                              more is better
//	cost     what a suited acre costs; without prices, its lime            less is better
//	ready    days until at least half of that ground can be sown           fewer is better
//	sure     chance that the field is suited enough ([Rules].Enough)       more is better
//	risk     share of the ground called suited that may prove worse        less is better
//
// Each criterion is put on a scale from 0 to 1 that knows nothing of the other fields ([Scales]), so that a field more
// or less never turns two others round. The score is the plain weighted sum. A field is beaten when another is at least
// as good on every count and better on one. What is missing is never zero: a field without a value stands in the middle
// of its best and its worst, and both are told.
//
//	study := uncertainty.Of(result, uncertainty.Options{Enough: ranking.ProposedRules().Wanted()})
//	fields := ranking.Gather("north", result, study, ranking.GatherOptions{})
//	r, err := ranking.Rank(ctx, fields, ranking.Options{Weights: ranking.Proposal()})
//	r.Fields[0].Field.ID // the first
//	r.Fields[0].P10      // its place in the better of nine draws of ten …
//	r.Fields[0].P90      // … and in the worse, when weights and inputs move
//
// Scales, weights and limits of the verdict are proposals of this program. Whoever signs the contract sets their own.
package ranking
