package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"strings"

	"github.com/spf13/pflag"

	"rootworthy/internal/diag"
)

// Exit codes, the same for every verb. The last is 128 and the number of SIGINT, as shells tell of a program that Ctrl-C ended.
const (
	exitDone        = 0
	exitCould       = 1 // could not: nothing was written
	exitUsage       = 2 // wrong command line
	exitFaults      = 3 // done, but something asked for has no answer
	exitInterrupted = 130
)

// stdio is where a verb reads and prints. Tests give buffers, so that whole command lines run within one process.
type stdio struct {
	in       io.Reader
	out, err io.Writer
}

// verb is one subcommand. Its help begins with an example and fits one screen.
type verb struct {
	name, short string
	run         func(ctx context.Context, args []string, std stdio) error
}

// verbs lists the subcommands in the order of the help: first what most people come for, in the order of a job.
func verbs() []verb {
	return []verb{
		{"screen", "rate fields against a soil survey and plan lime by zone", screen},
		{"spread", "task data for the spreader and a load sheet; check them, compare", spread},
		{"convert", "write the zones for other programs: shapefile, workbook, raster …", convert},
		{"sample", "where to take soil samples, how deep and why; for the receiver", sample},
		{"tests", "look into a laboratory's file: check what was understood", tests},
		{"lime", "lime for each sample of a laboratory's file; needs no survey", limeSamples},
		{"report", "make reports and maps of a run: landowner, consultant, technician", runReport},
		{"plan", "the grower's plan of a run, dated by field, with a calendar file", runPlan},
		{"rank", "which fields to take, visit first or leave; a letter for each", runRank},
		{"money", "what a stand may cost and bring, by your own prices", runMoney},
		{"compare", "what changed between two runs, ground with ground", compareRuns},
		{"view", "a page for your browser: map, reasons, what if, two runs compared", view},
		{"demo", "see it at work on an invented farm; needs no data", runDemo},
		{"survey", "look into a soil survey, or fetch one: check, list, units, fetch", survey},
		{"version", "print the version", printVersion},
	}
}

// run carries out one command line and returns its exit code.
func run(ctx context.Context, args []string, std stdio) int {
	switch {
	// The spellings of other programs are understood, since nobody reads a manual to ask for help.
	// Only with one name behind it: `rootworthy help` alone is answered below.
	case len(args) == 2 && args[0] == "help":
		args = []string{args[1], "--help"}
	case len(args) == 1 && args[0] == "--version":
		args = []string{"version"}
	}
	if len(args) == 0 || args[0] == "help" || args[0] == "--help" || args[0] == "-h" {
		fmt.Fprint(std.out, usage())
		// Asked for nothing, the program shows its help, but a script that lost its arguments must notice: that is code 2.
		if len(args) == 0 {
			return exitUsage
		}
		return exitDone
	}
	for _, v := range verbs() {
		if v.name == args[0] {
			return exitCode(v.run(ctx, args[1:], std), std)
		}
	}
	return exitCode(usagef("there is no command %q%s; `rootworthy help` lists them", args[0], suggestion(args[0])), std)
}

// exitCode prints what went wrong, once, and turns it into a code.
func exitCode(err error, std stdio) int {
	var u usageError
	var path *fs.PathError
	switch {
	case err == nil, errors.Is(err, pflag.ErrHelp):
		return exitDone
	case errors.Is(err, errFaults):
		return exitFaults
	// Verbs put their outputs in place whole, so nothing is written unless the verb says otherwise.
	case errors.Is(err, context.Canceled):
		left := interrupted{"nothing was written", err}
		errors.As(err, &left)
		fmt.Fprintln(std.err, "interrupted;", left.what)
		return exitInterrupted
	case errors.As(err, &u):
		fmt.Fprintln(std.err, "rootworthy:", err)
		return exitUsage
	// The message of a path error begins with the system call ("open x: …"), which says nothing to a user; the path and the cause remain.
	// Errors that name the file already are left as they are.
	case errors.As(err, &path) && (err == error(path) || !strings.Contains(err.Error(), path.Path+":")):
		err = fmt.Errorf("%s: %w", path.Path, path.Err)
	}
	fmt.Fprintln(std.err, "rootworthy:", err)
	return exitCould
}

// errFaults says that the work was done and told, but something asked for has no answer.
var errFaults = errors.New("done, with faults")

// interrupted is the end of work that leaves something behind.
// It still is a cancelled context to errors.Is, so that it ends with code 130 like any other interruption.
type interrupted struct {
	what string // that is left, in words
	err  error
}

func (i interrupted) Error() string { return i.err.Error() }
func (i interrupted) Unwrap() error { return i.err }

// usageError is a command line that cannot be meant.
type usageError struct{ text string }

func (e usageError) Error() string { return e.text }

// usagef is fmt.Errorf for a wrong command line: exit code 2, and nothing was begun.
func usagef(format string, args ...any) error { return usageError{fmt.Sprintf(format, args...)} }

// usage is the help of the whole program. It begins with two command lines that work as they stand.
func usage() string {
	var b strings.Builder
	b.WriteString(`Which parts of which fields will hold a stand of alfalfa sown into warm-season
sod, what stops the others, and what lime must go where, how much and when.

  rootworthy demo
  rootworthy screen fields.geojson --survey AR017.zip --out run

Commands:
`)
	for _, v := range verbs() {
		fmt.Fprintf(&b, "  %-9s %s\n", v.name, v.short)
	}
	b.WriteString(`
rootworthy COMMAND --help tells more about one. Exit codes: 0 done; 1 could not;
2 wrong command line; 3 done, but a field has no answer; 130 interrupted.
`)
	return b.String()
}

// suggestion names the command that was probably meant.
// It is empty when nothing is near, and takes the first that fits in the order of the help.
func suggestion(word string) string {
	for _, v := range verbs() {
		// Beside slips of the pen, parts of a name count: "rep" and "reports" both mean report. A part from the middle of a name has three letters at least.
		_, near := diag.Nearest(strings.ToLower(word), []string{v.name})
		if near || strings.HasPrefix(v.name, word) || strings.HasPrefix(word, v.name) || len(word) > 2 && strings.Contains(v.name, word) {
			return fmt.Sprintf(" (did you mean %q?)", v.name)
		}
	}
	return ""
}
