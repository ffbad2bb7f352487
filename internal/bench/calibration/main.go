// Command calibration asks whether the chances of package uncertainty come true, and whether sampling by value beats other
// ways to spend the same bags. The truth is made: random ground under a survey that is known.
//
//	go run ./internal/bench/calibration                        the invented survey
//	go run ./internal/bench/calibration -survey FOLDER         a survey export
//
// It says nothing of how well a survey knows the ground: that needs pits and laboratories.
package main

import (
	"flag"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"

	"rootworthy/testdata/demo"
)

func main() {
	survey := flag.String("survey", "", "folder of a survey export; the invented one without it")
	zones := flag.Int("zones", 200, "zones of the farm")
	times := flag.Int("times", 20, "how often its ground is made")
	seed := flag.Uint64("seed", 1, "of everything that is drawn")
	flag.Parse()
	if err := study(os.Stdout, *survey, *zones, *times, *seed); err != nil {
		fmt.Fprintln(os.Stderr, "calibration:", err)
		os.Exit(1)
	}
}

// study prints one table after the other, as Markdown.
func study(out io.Writer, survey string, zones, times int, seed uint64) error {
	if zones < 20 || times < 1 { // contests are of a twentieth of the zones and more
		return fmt.Errorf("%d zones made %d times are no study; give -zones 20 and -times 1 or more", zones, times)
	}
	name := "invented survey"
	files, err := fs.Sub(demo.Files, "survey")
	if err != nil {
		return err
	}
	if survey != "" {
		name, files = filepath.Base(survey), os.DirFS(survey)
	}
	units, err := unitsOf(name, files)
	if err != nil {
		return err
	}
	r := farm(units, zones, seed)
	fmt.Fprintf(out, "%s: %d zones, made %d times, seed %d\n\n", name, zones, times, seed)
	var judged *reliability
	// The first world is made by the very judgements that the program reckons with: only there should its chances come true.
	// The others tell how far they miss when the judgements are wrong.
	for i, w := range worlds() {
		b := calibrate(w, r, times, seed)
		if i == 0 {
			judged = b
			b.head(out)
		}
		b.line(out, w.name)
	}
	together(out, units, zones/4, times, seed)
	fmt.Fprintf(out, "\nas judged\n\n")
	judged.bins(out)
	// The contest needs many makings, so only two worlds: as judged, and one in which a single bag tells least of its zone.
	for _, w := range []world{worlds()[0], worlds()[4]} {
		fmt.Fprintf(out, "\n%s\n\n", w.name)
		contest(out, w, r, []int{zones / 20, zones / 10, zones / 5}, times, seed)
	}
	return nil
}
