package main

import (
	"context"
	"io"

	"rootworthy/internal/diag"
	"rootworthy/internal/web"
	"rootworthy/suitability/uncertainty"
)

// report writes a report for the page as the verb report does, with the relief of the page under its maps.
func (v *viewFlags) report(ctx context.Context, o web.ReportOrder, w io.Writer) error {
	f := reportFlags{reader: o.Reader, paper: "letter"}
	work, err := f.plan()
	if err != nil {
		return err
	}
	work.opt.Files = o.Files
	parts, err := f.parts(o.Run, uncertainty.Of(o.Run, uncertainty.Options{}))
	if err != nil {
		return err
	}
	shading, err := openShading(ctx, v.elevation, v.elevationUnit, o.Run, &diag.List{}) // the page has told what of it is wrong
	if err != nil {
		return err
	}
	work.shade(shading)
	// Without --each there is one part, the whole run, and one reader gives one document.
	docs, err := documentsOf(ctx, parts[0], work.readers, work.opt)
	if err != nil {
		return err
	}
	if o.PDF {
		return docs[0].doc.PDF(w, o.Paper)
	}
	return docs[0].doc.HTML(w)
}
