// Package season finds sowing windows: which autumn allows what, counted from dates that the caller gives. It never
// reads a clock.
package season
