// Command rootworthy says which parts of which fields will hold a stand of alfalfa sown into warm-season sod, what
// stops the others, and what lime must go where.
package main

import (
	"context"
	"os"
	"os/signal"
)

func main() {
	// Ctrl-C cancels the work, which then says what it leaves behind and ends with code 130. Nothing is killed in the middle of a
	// file: outputs are put in place when they are whole.
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt)
	defer stop()
	os.Exit(run(ctx, os.Args[1:], stdio{os.Stdin, os.Stdout, os.Stderr}))
}
