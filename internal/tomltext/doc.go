// Package tomltext reads settings in TOML with the line of every key. Decoding into a map does not keep lines; without them a fault of content
// ("the score is not between 0 and 100") could not say where it stands.
//
//	text, ok := tomltext.Parse("own.toml", bytes, "give a crop profile, not another file", faults)
//	if ok && text.Root["crop"] != "alfalfa" {
//		text.Fault("crop", "crop", "write alfalfa", "%v is another crop", text.Root["crop"])
//	}
//
// Crop profiles, lime tables and prices are read by it; what their keys mean is theirs.
package tomltext
