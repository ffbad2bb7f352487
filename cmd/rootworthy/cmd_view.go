package main

import (
	"context"
	"fmt"

	"rootworthy/internal/web"
)

const viewHelp = `  rootworthy view run
  rootworthy view runs/
  rootworthy view fields.geojson --survey AR017.zip --state GA --runs runs

Opens runs as a page for your browser, on this machine alone, and prints its
address: map, zones, reasons, what changes if a limit moves, two runs compared,
files to take along. Ctrl-C ends it. Nothing is sent to any other machine.

  run       a folder that screen wrote with --out
  runs/     a folder of such folders, listed and compared
  fields    boundaries, screened when the page opens; needs --survey. Further
            boundaries can then be drawn or dropped on the page

  --port N      port to listen on; default: a free one
  --record FILE what was done and seen in the fields, CSV, as plan --record reads
                it: shown over seven years, and written on by a form in the page;
                a file that is not there is begun
  --region NAME and --date YYYY-MM-DD: what the plan in the page counts from, if
                not the run's own; it takes all that ` + "`rootworthy plan`" + ` takes
  --prices FILE your prices, TOML, as rank reads them: fields are then put in
                order by cost in money, not by lime, and a page tells what a stand
                may cost and bring
  --elevation DEM.tif  relief under the zones (and measured slopes, with fields);
                --elevation-unit ft where the file does not say
  --runs DIR    with fields: keep every run of the page in a folder of its own
                in DIR, soil tests brought through the page in a zip beside it;
                runs of screen --tests in DIR find theirs by name and digest
                beside the run, the fields, or here; default: in memory
  --id PROPERTY, --customer, --farm  hold for boundaries dropped on the page
                too; there another property can be chosen
With fields, everything that screen knows of fields, crop, lime and tests holds
too (` + "`rootworthy screen --help`" + `).
`

// viewFlags are the flags of view as typed; those of screen hold where fields are given.
type viewFlags struct {
	screenFlags
	port   int       // 0 lets the system choose one that is free
	runs   string    // folder that keeps the runs of the page; "" keeps none
	prices string    // file; "" shows no money
	plan   planFlags // its region, date and tests are those of screen
}

// view carries out the verb view: the page over runs that stand in folders, or over fields that it screens itself. All that can be wrong on the
// command line is told before anything listens.
func view(ctx context.Context, args []string, std stdio) error {
	var f viewFlags
	fl := newFlags("view", viewHelp, std.out)
	f.declare(fl)
	fl.IntVar(&f.port, "port", 0, "")
	fl.StringVar(&f.runs, "runs", "", "")
	f.plan.declareOwn(fl)
	fl.StringVar(&f.prices, "prices", "", "")
	if err := parse(fl, args); err != nil {
		return err
	}
	paths := fl.Args()
	switch {
	case len(paths) == 0:
		return usagef("nothing to view given; begin with `rootworthy view RUN`, RUN being the --out of screen")
	case f.port < 0 || f.port > 65535:
		return usagef("--port: %d is no port; give one from 1 to 65535, or leave it out", f.port)
	}
	folders, areRuns, err := runFolders(paths)
	if err != nil {
		return err
	}
	c := web.Config{Program: "rootworthy " + version, Exporter: web.Exporter{Version: version, Report: f.report, Spread: spreadOptions}}
	if areRuns {
		if len(f.survey) > 0 {
			return usagef("--survey goes with fields, not with a run; a run knows its survey")
		}
		c.Runs = sources(folders)
	} else {
		if err := f.settings(fl, paths); err != nil {
			return err
		}
		if c.Screener, err = f.screener(fl, paths); err != nil {
			return err
		}
		if f.runs != "" {
			// Runs kept before are there again at the next start of the page.
			earlier, err := earlierRuns(f.runs)
			if err != nil {
				return err
			}
			c.Runs = sources(earlier)
			for i, r := range earlier { // only here: where nothing is screened, nobody asks for tests
				c.Runs[i].Find = finding(f.where(r.path, paths))
			}
		}
	}
	if err := f.fieldPages(&c); err != nil { // only now: the settings beside the fields count too
		return err
	}
	if c.Shade, err = f.shader(); err != nil {
		return err
	}
	return serve(ctx, c, f.port, std)
}

// fieldPages sets out what the pages of single fields need: record, plan, ranking, money.
func (f *viewFlags) fieldPages(c *web.Config) (err error) {
	if err := f.plan.check(len(f.tests)); err != nil {
		return err
	}
	if c.Record, err = recordFile(f.plan.record); err != nil {
		return err
	}
	c.Planner, c.Reckoner = f.planner(), f.reckoner()
	c.Ranker, err = f.ranker()
	return err
}

// serve prints the address once somebody listens at it, and answers until it is interrupted, which is its usual end.
func serve(ctx context.Context, c web.Config, port int, std stdio) error {
	s, err := web.New(c)
	if err != nil {
		return err
	}
	listeners, err := web.Listen(port)
	if err != nil {
		return err
	}
	if _, err := fmt.Fprintf(std.out, "%s\nopen this address in a browser on this machine; Ctrl-C ends it\n", web.Address(listeners[0])); err != nil {
		return err
	}
	return s.Serve(ctx, listeners...)
}
