// Package stand follows alfalfa after it is sown: a record in plain CSV, what counts of plants and stems say (keep, thicken or give
// up), what tissue tests say, and from which number of insects to act.
//
//	field_id,zone_id,date,kind,value,unit,note
//	home,home/1,2026-10-20,sown,,,
//	home,home/1,2027-03-18,stems,48,per_ft2,north end thin
//
// Lime is written down as the tons that were spread (ton_ac, t_ha), or as what they are worth in pure carbonate (ton_ac_cce, t_ha_cce).
//
// [Read] and [Write] keep the record, [History] tells it year by year for seven years. Thresholds are of pure stands farther north: in
// sod the grass fills what the alfalfa leaves, so they say when the alfalfa no longer carries its share. Every one has its source.
package stand
