package report

import (
	"fmt"
	"strings"

	"rootworthy/export"
	"rootworthy/export/mapdraw"
	"rootworthy/export/words"
	"rootworthy/suitability"
	"rootworthy/suitability/sampling"
	"rootworthy/suitability/uncertainty"
)

// Options say what a report shall hold; the zero value suits all.
type Options struct {
	Compare [2]string  // ids of two fields that the consultant wants side by side; empty for none
	Brief   bool       // answers, totals and ranks alone: no page, map or row of a single field's zones
	Files   []FileInfo // files of the run, for the technician

	Shade     mapdraw.Shade // lie of the land, drawn under the zones; nil for none
	ShadeNote string        // what of it a reader must know, a sentence

	Study     *uncertainty.Study // how sure the run is; nil means that it is worked out here
	Magnesium *Magnesium         // what samples say of it; nil leaves the general advice
	Sampling  *sampling.Plan     // which soil tests are worth most; nil leaves that out
}

// FileInfo is a file of the run as it stands in its folder.
type FileInfo struct {
	Name, What string
	Size       int64
	SHA256     string
}

// book is a report in the making. It has a sum for each field, in the order of the run, by the code that the run's own files are made by.
type book struct {
	Document
	r    *suitability.Result
	sums []export.Sum
	opt  Options
	sure map[string]*uncertainty.Zone // by zone id
}

// newBook begins a report. Without a study of its own run it works one out.
func newBook(r *suitability.Result, opt Options, title, subject string) *book {
	// Reports that are made together are given one study, so that it is worked out once.
	if opt.Study == nil {
		opt.Study = uncertainty.Of(r, uncertainty.Options{})
	}
	b := &book{Document: Document{Title: title, Subject: subject, Program: r.Provenance.Program, Date: r.Provenance.Date},
		r: r, sums: export.Sums(r), opt: opt, sure: map[string]*uncertainty.Zone{}}
	for i := range opt.Study.Zones {
		b.sure[opt.Study.Zones[i].ID] = &opt.Study.Zones[i]
	}
	return b
}

// clean makes text from somebody's file fit to be shown.
func clean(s string) string { return words.Shown(s, mostName) }

// mostName is how many letters of a name from somebody's file are shown.
const mostName = 60

// fieldName names a field for a heading: its name with the id, or the id alone.
func fieldName(f *suitability.Field) string {
	if f.Name == "" || f.Name == f.ID {
		return mapdraw.FieldName(f)
	}
	return clean(f.Name) + " (" + clean(f.ID) + ")"
}

// fieldAnchor is the id of a field's section: fields are counted, because ids may hold anything.
// It counts from 1, like the fields in the names of map files.
func fieldAnchor(i int) string { return fmt.Sprintf("field-%d", i+1) }

// zoneName names a zone among those of other fields.
func zoneName(z *suitability.Zone) string {
	return clean(z.FieldID) + "/" + words.Decimal(float64(z.Number), 0)
}

// whose names the farm or its owner, when the run says one and the same for all fields.
// It is empty where the fields differ or name nobody; a title then speaks of fields alone.
func whose(r *suitability.Result) string {
	name := ""
	for i := range r.Fields {
		n := r.Fields[i].Farm
		if n == "" {
			n = r.Fields[i].Customer
		}
		// A title that names one farm over the fields of two would be wrong for half of them.
		if i > 0 && n != name {
			return ""
		}
		name = n
	}
	return clean(name)
}

// shaded has the lie of the land drawn under a map.
func (b *book) shaded(o mapdraw.Options) mapdraw.Options {
	o.Shade = b.opt.Shade
	return o
}

// caption adds to a map's caption what its shading was made from; what the strokes are stands below every map.
func (b *book) caption(text string) string {
	if b.opt.Shade == nil {
		return text
	}
	return strings.TrimSpace(text + " " + b.opt.ShadeNote)
}

// hasAnswer says whether a field could be rated at all.
func hasAnswer(s *export.Sum) bool { return s.Field.Trouble == "" && len(s.Zones) > 0 }
