package proj

import (
	"flag"
	"os"
	"testing"
)

// TestMain raises the number of random cases from rapid's 100; -rapid.checks on the command line wins.
func TestMain(m *testing.M) {
	if err := flag.Set("rapid.checks", "1000"); err != nil {
		panic(err)
	}
	flag.Parse()
	os.Exit(m.Run())
}
