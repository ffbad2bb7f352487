package main

import (
	"context"
	"fmt"
	"runtime/debug"
)

// version is the program's own; a release build sets it with -ldflags "-X main.version=…".
var version = "0.1.0-dev"

// printVersion prints the version, and the Go it was built with: what a fault report needs first.
func printVersion(_ context.Context, args []string, std stdio) error {
	if len(args) == 1 && (args[0] == "--help" || args[0] == "-h") {
		fmt.Fprint(std.out, "  rootworthy version\n\nPrints the version of the program and of the Go it was built with.\n")
		return nil
	}
	if len(args) > 0 {
		return usagef("version takes no arguments")
	}
	fmt.Fprintf(std.out, "rootworthy %s", version)
	if info, ok := debug.ReadBuildInfo(); ok {
		fmt.Fprintf(std.out, " (%s)", info.GoVersion)
	}
	fmt.Fprintln(std.out)
	return nil
}
