// Package surveypack keeps a soil survey on disk in a form that opens at once: a whole state in a second, whatever its
// size, with memory that stays bounded. A pack is a folder:
//
//	map.blocks   the polygons in the working plane, in blocks by place, each with a checksum (overlay.Writer)
//	units.jsonl  a line for each map unit with all it holds, by key
//	units.index  where each line stands: key, symbol, name, place, checksum
//	pack.json    what it was made from and when; written last, so that a folder without it is no pack
//
// Only the directory of the map and the index are read on opening; blocks and map units are read as fields need them.
// Damage is found when the damaged part is read, by its checksum, and never passes for data.
package surveypack
