package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"slices"

	"rootworthy/export/calendar"
	"rootworthy/export/grower"
	"rootworthy/export/marker"
	"rootworthy/export/report"
	"rootworthy/internal/atomicfile"
	"rootworthy/internal/diag"
)

// Files of a plan.
const (
	planPage      = "plan.html"
	planPDF       = "plan.pdf"
	planSteps     = "plan.csv"
	planMaterials = "materials.csv"
	planOrder     = "order.csv"
	planICS       = "plan.ics"
	planFile      = "plan.json" // marks the folder; put in place last
)

// planWork is what one call of plan makes.
type planWork struct {
	dir   string
	paper report.Paper
	farm  *grower.Farm
	dated bool // there is a calendar file, if only to call off what an earlier one had

	untouched int // entries of an earlier calendar about fields that this plan leaves out
}

// planMark is plan.json.
// Files lists what the folder holds, as in the other markers.
type planMark struct {
	marker.Head
	Region string   `json:"region"`
	Files  []string `json:"files"`
}

// planKind, like [rankKind] and [reportKind], is what the folder's marker says it holds.
func planKind() marker.Kind { return marker.Kind{Word: "plan", What: "a plan"} }

// write writes the folder: whole, or as it was.
func (w *planWork) write(ctx context.Context, faults *diag.List) error {
	before, err := w.former(faults)
	if err != nil {
		return err
	}
	doc := grower.Document(w.farm)
	c := grower.Calendar(w.farm)
	w.untouched = c.Untouched(before)
	mark := planMark{Head: planKind().Head(w.farm.Run.Provenance.Program, doc.Date), Region: w.farm.Region.Region, Files: []string{planPage, planPDF, planSteps, planMaterials, planOrder}}
	byName := map[string]func(io.Writer) error{
		planPage:      doc.HTML,
		planPDF:       func(out io.Writer) error { return doc.PDF(out, w.paper) },
		planSteps:     func(out io.Writer) error { return grower.WriteSteps(out, w.farm) },
		planMaterials: func(out io.Writer) error { return grower.WriteMaterials(out, w.farm) },
		planOrder:     func(out io.Writer) error { return grower.WriteOrder(out, w.farm) },
		planICS:       func(out io.Writer) error { return c.Write(out, before) },
		planFile:      func(out io.Writer) error { return marker.Write(out, mark) },
	}
	// Tried into nothing first: whether the calendar has an entry is known only to its writer, which also calls off entries of the earlier
	// one.
	if w.dated = !errors.Is(c.Write(io.Discard, before), calendar.ErrEmpty); w.dated {
		mark.Files = append(mark.Files, planICS)
	}
	// The calendar alone may be missing this time, so an old one is the only file that can be stale.
	folder := atomicfile.Folder{Dir: w.dir, Files: append(slices.Clone(mark.Files), planFile),
		Stale: func(name string) bool { return name == planICS }, Marked: planKind().Ours}
	return folder.Write(func(name string, out io.Writer) error {
		if ctx.Err() != nil {
			return context.Cause(ctx)
		}
		return byName[name](out)
	})
}

// former reads the calendar that stands in the folder, if an earlier plan does.
// Without it a new plan would stand beside the old one in the user's calendar instead of taking its place. A file of that name without the
// marker beside it is somebody else's and is not read.
func (w *planWork) former(faults *diag.List) (*calendar.Former, error) {
	mark, err := os.Open(filepath.Join(w.dir, planFile))
	if err != nil {
		return nil, nil // no plan: what else the folder holds, writing will say
	}
	defer mark.Close()
	if planKind().Ours(mark) != nil {
		return nil, nil
	}
	f, err := os.Open(filepath.Join(w.dir, planICS))
	if errors.Is(err, os.ErrNotExist) {
		return nil, nil
	}
	if err != nil {
		return nil, fmt.Errorf("the calendar to be updated: %w", err)
	}
	defer f.Close()
	return calendar.Read(filepath.Join(w.dir, planICS), f, faults)
}
