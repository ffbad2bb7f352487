package main

import (
	"context"
	"io"

	"rootworthy/internal/web"
	"rootworthy/suitability/uncertainty"
)

// viewReport writes a report for the page as the verb report does.
func viewReport(ctx context.Context, o web.ReportOrder, w io.Writer) error {
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
	docs, err := documentsOf(ctx, parts[0], work.readers, work.opt)
	if err != nil {
		return err
	}
	if o.PDF {
		return docs[0].doc.PDF(w, o.Paper)
	}
	return docs[0].doc.HTML(w)
}
