package main

import (
	"fmt"
	"io"
	"os"
	"time"

	"golang.org/x/term"

	"rootworthy/internal/job"
)

// progressEvery is how often a line on a terminal is redrawn.
const progressEvery = 100 * time.Millisecond

// progress returns a line that says how far a long job has come, and what wipes it off; both do nothing unless out is
// a terminal.
func progress(out io.Writer) (job.Progress, func()) {
	// In a pipe or a log, a line that draws itself again is litter.
	if !isTerminal(out) {
		return nil, func() {}
	}
	var last time.Time
	show := func(stage string, done, total int) {
		// The first call draws at once, since the zero time is long ago; the last one may not draw, and is wiped anyway.
		if time.Since(last) < progressEvery {
			return
		}
		last = time.Now()
		// While polygons are read nobody knows yet how many there are: the total is then 0.
		if total > 0 {
			// Carriage return, then "erase to the end of the line" (ECMA-48, EL).
			fmt.Fprintf(out, "\r\x1b[K%s: %d of %d", stage, done, total)
		} else {
			fmt.Fprintf(out, "\r\x1b[K%s: %d", stage, done)
		}
	}
	return show, func() {
		if !last.IsZero() {
			fmt.Fprint(out, "\r\x1b[K")
		}
	}
}

// isTerminal says whether somebody is looking: a terminal, not a pipe or a file.
func isTerminal(w any) bool {
	f, ok := w.(*os.File)
	return ok && term.IsTerminal(int(f.Fd()))
}

// width returns the columns of the terminal, 80 when it is none.
func width(w any) int {
	if f, ok := w.(*os.File); ok {
		// Narrower than 40 columns no table of ours can be read, so it is laid out for 80 and left to the terminal to wrap.
		if cols, _, err := term.GetSize(int(f.Fd())); err == nil && cols > 40 {
			return cols
		}
	}
	return 80
}
