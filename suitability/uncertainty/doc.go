// Package uncertainty says how sure a class and a lime figure are: the chance of each class by zone and by field, once
// corrected and today, and the interval that holds the lime need in nine cases of ten.
//
// A survey gives a range and a percent where the rating takes one value and one mixture. Both are drawn again and
// again, the rules of the profile judge every draw, and the draws are counted:
//
//	pH of a component     anywhere from its low to its high, most often at its value (a triangle); so its depth to a
//	                      restriction, water table, slope and available water where the survey gives a range
//	the soil of a zone    bodies, each of them a component of the map unit with the chance of its percent
//	a tested pH           the reading, give or take what sampling and the laboratory miss
//	the lime of a pH      half to twice the table, as the screening band says; or a method's own error
//
//	s := uncertainty.Of(result, uncertainty.Options{Seed: 1})
//	s.Zones[0].Class.Of(suitability.Suited) // 0.72, give or take s.Zones[0].Error
//
// Soils of one name share the place in their ranges in all zones of a field, and the table of lime errs alike in all: the
// interval of a field is as wide as errors that do not cancel make it.
//
// How the draws are made is judgement, not measurement: [Judgements] names every one; [Fixed] lists what is taken as the survey
// has it. So the chances are of the ground as the survey describes it; what
// the survey does not know (levelling, tile, litter, old lime) is not in them.
package uncertainty
