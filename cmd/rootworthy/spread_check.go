package main

import (
	"archive/zip"
	"context"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"strings"

	"rootworthy/export/taskdata"
	"rootworthy/internal/diag"
	"rootworthy/internal/unzip"
)

// openTaskData opens a folder, a zip or a TASKDATA.XML as a file system.
// The second value frees what is open; it is never nil without an error.
func openTaskData(path string) (fs.FS, func(), error) {
	f, err := os.Open(path)
	if err != nil {
		return nil, nil, err
	}
	st, err := f.Stat()
	if err != nil {
		f.Close()
		return nil, nil, err
	}
	if st.IsDir() {
		f.Close()
		return os.DirFS(path), func() {}, nil
	}
	// The XML names its grids and time logs as files beside it, so its folder is what is read.
	if strings.EqualFold(baseName(path), "TASKDATA.XML") {
		f.Close()
		return os.DirFS(dirOf(path)), func() {}, nil
	}
	z, err := unzip.Open(f, st.Size())
	if err != nil {
		f.Close()
		if errors.Is(err, zip.ErrFormat) {
			return nil, nil, fmt.Errorf("%s: is neither a folder, a zip (or one cut off) nor TASKDATA.XML; give the task data of a controller", path)
		}
		return nil, nil, fmt.Errorf("%s: %w", path, err)
	}
	return z, func() { f.Close() }, nil
}

// mostEffects is how many tasks are told one by one.
const mostEffects = 100

// checkFile says what a file would do, and with a run how that compares with the plan.
func (f *spreadFlags) checkFile(ctx context.Context, runs []string, std stdio) error {
	pass, err := passOf(f.pass)
	if err != nil {
		return usagef("%v", err)
	}
	fsys, done, err := openTaskData(f.check)
	if err != nil {
		return err
	}
	defer done()
	var faults diag.List
	file, err := taskdata.Read(f.check, fsys, &faults)
	if err != nil {
		return err
	}
	effects, err := file.Effects(&faults)
	if err != nil {
		return err
	}
	var b strings.Builder
	fmt.Fprintf(&b, "%s: task data of version %s, written by %s; tasks: %d, fields: %d\n", f.check, file.Version, orUnknown(file.Software), len(file.Tasks), len(file.Boundaries))
	// The rest still counts in the comparison with the plan; only its lines are left out.
	for _, e := range effects[:min(len(effects), mostEffects)] {
		b.WriteString("\n")
		tellEffect(&b, e)
	}
	if more := len(effects) - mostEffects; more > 0 {
		fmt.Fprintf(&b, "\n… and %d more tasks\n", more)
	}
	if len(runs) == 1 {
		if err := f.againstRun(ctx, &b, file, runs[0], pass); err != nil {
			return err
		}
	}
	spreadFaults(&b, &faults)
	if _, err := io.WriteString(std.out, b.String()); err != nil {
		return err
	}
	if faults.Faults() > 0 {
		return errFaults
	}
	return nil
}

// orUnknown names the program that wrote a file. The name is that of a stranger and is made fit to print.
func orUnknown(s string) string {
	if s = taskdata.CleanName(s); s == "" {
		return "an unnamed program"
	}
	return s
}

// tellEffect prints what one task would do.
// Numbers go with what the file does on the ground, never with what it means to do: a grid may treat acres outside its field.
func tellEffect(b *strings.Builder, e taskdata.Effect) {
	b.WriteString(e.Task)
	if e.Field != "" {
		b.WriteString(" on " + e.Field)
	}
	if e.BoundaryArea > 0 {
		fmt.Fprintf(b, ", %.2f acres", e.BoundaryArea.Acres())
	}
	b.WriteString(": " + e.Form)
	if e.Frame.Rows > 0 {
		east, north := e.Frame.CellMetres()
		fmt.Fprintf(b, ", %d columns x %d rows of %.2f x %.2f m", e.Frame.Columns, e.Frame.Rows, east, north)
	}
	b.WriteString("\n")
	if e.Treated > 0 {
		fmt.Fprintf(b, "  puts something on %.2f acres", e.Treated.Acres())
		if e.Outside > 0 {
			fmt.Fprintf(b, ", of these %.2f outside the field", e.Outside.Acres())
			if e.Mass > 0 {
				fmt.Fprintf(b, " (%.2f short tons)", e.OutsideMass.ShortTons())
			}
		}
		b.WriteString("\n")
	}
	switch {
	// A rate by volume has no weight without the density of the product, so it is told in litres.
	case e.Litres > 0:
		fmt.Fprintf(b, "  %.0f litres in all\n", e.Litres)
	case e.Mass > 0:
		fmt.Fprintf(b, "  %.2f short tons (%.0f kg) in all, rates from %.2f to %.2f short tons an acre\n", e.Mass.ShortTons(), float64(e.Mass), e.Least.ShortTonsPerAcre(), e.Most.ShortTonsPerAcre())
	}
}

// againstRun sets the file against the plan of a run.
func (f *spreadFlags) againstRun(ctx context.Context, b *strings.Builder, file *taskdata.File, dir string, pass int) error {
	r, err := openRun(dir)
	if err != nil {
		return err
	}
	c, err := taskdata.Compare(ctx, r, pass, file.Surfaces(5))
	if err != nil {
		return err
	}
	fmt.Fprintf(b, "\nAgainst the plan of %s\n", dir)
	tellComparison(b, c)
	tellApart(b, c.Sum())
	return nil
}

// tellComparison prints the zones that have a plan or got something.
func tellComparison(b *strings.Builder, c *taskdata.Comparison) {
	line := func(cells ...any) { fmt.Fprintf(b, "%-18s%9s%10s%10s%10s%10s%10s\n", cells...) }
	line("Zone", "acres", "seen ac", "plan st", "file st", "over st", "under st")
	row := func(name string, z taskdata.ZoneDifference) {
		line(name, fmt.Sprintf("%.2f", z.Area.Acres()), fmt.Sprintf("%.2f", z.Recorded.Acres()), fmt.Sprintf("%.2f", z.Planned.ShortTons()),
			fmt.Sprintf("%.2f", z.Applied.ShortTons()), fmt.Sprintf("%.2f", z.Over.ShortTons()), fmt.Sprintf("%.2f", z.Under.ShortTons()))
	}
	for _, z := range c.Zones {
		if z.Concerned() {
			row(z.ZoneID, z)
		}
	}
	row("All", c.Sum())
	if c.Sum().Recorded == 0 {
		b.WriteString("Nothing of the record lies in these zones: it may belong to other fields.\n")
	}
	if c.OutsideMass > 0 {
		fmt.Fprintf(b, "Outside every zone: %.2f short tons on %.2f acres\n", c.OutsideMass.ShortTons(), c.OutsideArea.Acres())
	}
}

// offPlan is by how much of the plan a file may miss it before that is said in words; the cells of a file alone make less.
const offPlan = 0.02

// tellApart says in words that ground with a record gets more or less than the plan.
func tellApart(b *strings.Builder, sum taskdata.ZoneDifference) {
	if sum.Planned <= 0 || sum.Area <= 0 {
		return
	}
	// The plan's share of the ground with a record: a job half done is not off the plan for its other half.
	seen := float64(sum.Planned) * float64(sum.Recorded/sum.Area)
	if over, under := sum.Over.ShortTons(), sum.Under.ShortTons(); float64(sum.Over+sum.Under) > offPlan*seen {
		fmt.Fprintf(b, "Not as planned: %.2f short tons too much and %.2f too little on the ground with a record. --pass names the yearly pass to compare with.\n", over, under)
	}
}

// spreadFaults prints what is wrong, or that nothing is.
func spreadFaults(b *strings.Builder, faults *diag.List) {
	kept := faults.Kept()
	if len(kept) == 0 {
		b.WriteString("\nNothing wrong was found in the file itself.\n")
		return
	}
	b.WriteString("\n")
	for _, f := range kept {
		b.WriteString(f.Severity.String() + ": " + f.String() + "\n")
	}
}
