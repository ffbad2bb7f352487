package main

import (
	"context"
	"fmt"
	"io"
	"os"
	"slices"
	"strings"

	"rootworthy/export/taskdata"
	"rootworthy/internal/atomicfile"
	"rootworthy/internal/diag"
	"rootworthy/suitability"
)

// Files of a comparison. The table comes last: it marks the folder as whole.
const (
	differenceMap   = "differences.geojson"
	differenceTable = "differences.csv"
)

// compare sets what was spread against the plan of a run.
func (f *spreadFlags) compare(ctx context.Context, dir string, std stdio) error {
	pass, err := passOf(f.pass)
	if err != nil {
		return usagef("%v", err)
	}
	if f.rateUnit != "" && !slices.Contains(taskdata.PointUnits(), f.rateUnit) {
		return usagef("--rate-unit: %q is not known; choose from %s", f.rateUnit, strings.Join(taskdata.PointUnits(), ", "))
	}
	width, err := lengthOf("width", f.width)
	if err != nil {
		return usagef("%v", err)
	}
	if width == 0 {
		// Points stand for a strip as wide as the spreader throws. 50 ft where nobody says: common practice for lime, no source.
		width = 50 * 0.3048
	}
	r, err := openRun(dir)
	if err != nil {
		return err
	}
	var faults diag.List
	surfaces, done, err := f.openApplied(ctx, float64(width), r, &faults)
	if err != nil {
		// A log of which no row serves is refused as a whole; why is in the faults of its rows.
		if faults.Faults() > 0 {
			err = fmt.Errorf("%w\n%s", err, strings.TrimRight(faults.String(), "\n"))
		}
		return err
	}
	// Surfaces of task data read their grids as they are asked, so the file stays open until the comparison is made.
	defer done()
	if len(surfaces) == 0 {
		return fmt.Errorf("%s: holds nothing that was spread by weight\n%s", f.applied, strings.TrimRight(faults.String(), "\n"))
	}
	c, err := taskdata.Compare(ctx, r, pass, surfaces)
	if err != nil {
		return err
	}
	out := atomicfile.Folder{Dir: f.out, Files: []string{differenceMap, differenceTable}}
	err = out.Write(func(name string, w io.Writer) error {
		if name == differenceMap {
			return c.WriteMap(w)
		}
		return c.WriteCSV(w)
	})
	if err != nil {
		return err
	}
	return tellCompared(std.out, c, f.out, &faults)
}

// tellCompared prints the comparison. Ground without a record is told apart from ground with too little: there the log may be at fault, not the
// spreader.
func tellCompared(w io.Writer, c *taskdata.Comparison, out string, faults *diag.List) error {
	var b strings.Builder
	tellComparison(&b, c)
	sum, unknown := c.Sum(), 0.0
	for _, z := range c.Zones {
		unknown += z.Unknown().ShortTons()
	}
	fmt.Fprintf(&b, "\nWhere something is recorded: %.2f short tons too much, %.2f too little. Planned where nothing is: %.2f.\n", sum.Over.ShortTons(), sum.Under.ShortTons(), unknown)
	if faults.Faults()+faults.Notices() > 0 {
		spreadFaults(&b, faults)
	}
	fmt.Fprintf(&b, "Written to %s: %s and %s.\n", out, differenceTable, differenceMap)
	if _, err := io.WriteString(w, b.String()); err != nil {
		return err
	}
	if faults.Faults() > 0 {
		return errFaults
	}
	return nil
}

// openApplied reads a log as CSV, or task data: their time logs, or, where there are none, their maps.
func (f *spreadFlags) openApplied(ctx context.Context, width float64, r *suitability.Result, faults *diag.List) ([]taskdata.Surface, func(), error) {
	// A log as text comes from the office program of the spreader; its name is all there is to know it by.
	if ext := strings.ToLower(baseName(f.applied)); strings.HasSuffix(ext, ".csv") || strings.HasSuffix(ext, ".txt") {
		in, err := os.Open(f.applied)
		if err != nil {
			return nil, nil, err
		}
		defer in.Close()
		p, err := taskdata.ReadPoints(ctx, f.applied, in, f.rateUnit, width, r, faults)
		if err != nil {
			return nil, nil, err
		}
		return p.Surfaces(), func() {}, nil
	}
	fsys, done, err := openTaskData(f.applied)
	if err != nil {
		return nil, nil, err
	}
	file, err := taskdata.Read(f.applied, fsys, faults)
	if err != nil {
		done()
		return nil, nil, err
	}
	p, err := file.Logged(ctx, width, r, faults)
	if err != nil {
		done()
		return nil, nil, err
	}
	// A time log says what left the spreader; a map in the same file only what was asked for. It counts where there is no log.
	if p != nil && p.Read > 0 {
		return p.Surfaces(), done, nil
	}
	return file.Surfaces(5), done, nil
}
