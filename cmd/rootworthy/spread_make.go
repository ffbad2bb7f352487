package main

import (
	"context"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strings"

	"rootworthy/export/taskdata"
	"rootworthy/internal/atomicfile"
	runfolder "rootworthy/internal/run"
	"rootworthy/suitability"
)

// zipName is the file of the zip layout.
const zipName = "TASKDATA.zip"

// make plans and writes the task data of a run.
func (f *spreadFlags) make(ctx context.Context, dir string, std stdio) error {
	o, err := f.options()
	if err != nil {
		return err
	}
	r, err := openRun(dir)
	if err != nil {
		return err
	}
	tellEdited(std.err, dir, r)
	plan, err := taskdata.NewPlan(ctx, r, o)
	if err != nil {
		return fmt.Errorf("%s: %w", dir, err)
	}
	// The last place to stop without a trace: from here on files take their places.
	if err := ctx.Err(); err != nil {
		return context.Cause(ctx)
	}
	if err := writeSpread(plan, f.out, f.layout); err != nil {
		return err
	}
	return tellSpread(std.out, plan, f.out, f.layout)
}

// openRun reads a run folder back.
func openRun(dir string) (*suitability.Result, error) {
	// A file in the place of the folder is most often one of the run's own, such as zones.geojson.
	if st, err := os.Stat(dir); err != nil {
		return nil, err
	} else if !st.IsDir() {
		return nil, fmt.Errorf("%s: is a file; give the folder that screen wrote with --out", dir)
	}
	r, err := runfolder.Read(os.DirFS(dir))
	if err != nil {
		return nil, fmt.Errorf("%s: %w", dir, err)
	}
	return r, nil
}

// writeSpread puts the files in place together. On a card only the folder TASKDATA is ours, and everything else there
// is left alone.
func writeSpread(p *taskdata.Plan, out, layout string) error {
	dir := atomicfile.Folder{Dir: out, Files: p.Files(), Marked: taskdata.Ours, Stale: taskdata.MayBeOurs}
	switch layout {
	// A card has folders of the controller beside ours, so its load sheet is printed by the program and not put there.
	case "card":
		dir.Dir, dir.Files = filepath.Join(out, "TASKDATA"), p.CardFiles()
	case "zip":
		dir.Files, dir.Marked, dir.Stale = []string{taskdata.SheetText, taskdata.SheetHTML, zipName}, taskdata.IsZip, nil
	}
	return dir.Write(func(name string, w io.Writer) error {
		if name == zipName {
			return p.WriteZip(w)
		}
		return p.WriteFile(name, w)
	})
}

// tellSpread prints what the files will do.
func tellSpread(w io.Writer, p *taskdata.Plan, out, layout string) error {
	var b strings.Builder
	// The sheet is no file on the card, and the driver must have it all the same.
	if layout == "card" {
		if err := p.WriteSheetText(&b); err != nil {
			return err
		}
		b.WriteString("\n")
	} else {
		if text := p.UntestedText(); text != "" {
			b.WriteString(text + "\n\n")
		}
		taskTable(&b, p)
		for _, n := range p.Notes {
			b.WriteString("note: " + n + "\n")
		}
		for _, l := range p.LeftLines() {
			b.WriteString("nothing on " + l + "\n")
		}
		b.WriteString("\n")
	}
	where := map[string]string{"folder": "copy the folder TASKDATA to the card; print " + taskdata.SheetHTML + " for the driver",
		"zip": "load " + zipName + " into the controller's portal; print " + taskdata.SheetHTML + " for the driver", "card": "the card is ready; print the sheet above for the driver"}[layout]
	fmt.Fprintf(&b, "Written to %s: %s.\n", out, where)
	_, err := io.WriteString(w, b.String())
	return err
}

// taskTable lists tasks with their tons and by how much the cells miss the zones.
// A task in polygons has no frame, and so no size of cells to print.
func taskTable(b *strings.Builder, p *taskdata.Plan) {
	line := func(name string, by ...string) {
		b.WriteString(strings.TrimRight(fmt.Sprintf("%-34s%10s%10s%10s%9s  %s", name, by[0], by[1], by[2], by[3], by[4]), " ") + "\n")
	}
	line("Task", "plan st", "zones st", "file st", "off %", "cells")
	for _, t := range p.Tasks {
		cells := "polygons"
		if t.Frame.Rows > 0 {
			east, _ := t.Frame.CellMetres()
			cells = fmt.Sprintf("%d x %d of %.1f m", t.Frame.Columns, t.Frame.Rows, east)
		}
		line(t.Name, tons(t.Planned.ShortTons()), tons(t.Set.ShortTons()), tons(t.Spread.ShortTons()), percent(t.Difference()), cells)
	}
	line("All", tons(p.Planned().ShortTons()), tons(p.Set().ShortTons()), tons(p.Spread().ShortTons()), percent(p.Difference()), "")
	b.WriteString("Short tons: plan by the lime list, zones at rates the spreader can be set to, file as written.\n")
	if p.Headland() {
		b.WriteString("off %: cells against zones, before the headland was set apart.\n")
	}
}

// Three decimals of a short ton are two pounds: enough to see whether files agree, and no more than that.
func tons(x float64) string { return fmt.Sprintf("%.3f", x) }

// percent prints a share with its sign: too little is as much off as too much.
func percent(x float64) string { return fmt.Sprintf("%+.3f", 100*x) }
