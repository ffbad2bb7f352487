// Package soiltest says what laboratory samples mean for a zone: which of them speak for it, and what they show of the pH
// of its topsoil and subsoil.
//
// Bags dug in the zone speak for it before those of its map unit, and those before a composite of the whole field; a
// farther one counts only where no nearer one was dug at that depth. A bag speaks for a window of depth when more than half of
// its own layer lies in it; one that does not say its depth speaks for the topsoil. Each bag counts once, however many
// cores were mixed into it.
//
//	field        0–20 cm        30–100 cm
//	 zone 1      bags 1, 2      composite    ← no bag of the zone is so deep
//	 zone 2      composite      composite
//
// The pH of a window is the mean over its centimetres, each the mean of the bags that hold it. It stands for the window
// when a third of it was dug.
package soiltest
