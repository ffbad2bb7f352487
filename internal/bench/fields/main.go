// Command fields writes made fields as GeoJSON, to measure the program from outside:
//
//	go run ./internal/bench/fields -n 1000 -within=-91.45,33.05,-91.15,33.5 > fields.geojson
package main

import (
	"bufio"
	"flag"
	"fmt"
	"os"

	"github.com/paulmach/orb"

	"rootworthy/internal/bench"
)

func main() {
	n := flag.Int("n", 1000, "how many")
	seed := flag.Uint64("seed", 1, "seed")
	// Ground in the south-east of Arkansas by default.
	within := flag.String("within", "-91.45,33.05,-91.15,33.5", "west,south,east,north in degrees")
	flag.Parse()
	var b orb.Bound
	if _, err := fmt.Sscanf(*within, "%g,%g,%g,%g", &b.Min[0], &b.Min[1], &b.Max[0], &b.Max[1]); err != nil {
		fmt.Fprintln(os.Stderr, "fields: -within wants west,south,east,north:", err)
		os.Exit(2)
	}
	w := bufio.NewWriter(os.Stdout)
	err := bench.WriteGeoJSON(w, bench.Fields(b, *n, *seed))
	if err == nil {
		err = w.Flush()
	}
	if err != nil {
		fmt.Fprintln(os.Stderr, "fields:", err)
		os.Exit(1)
	}
}
