package grower

import (
	"fmt"

	"rootworthy/export/calendar"
	"rootworthy/export/words"
	"rootworthy/suitability"
	"rootworthy/suitability/season"
)

// About says which fields the plan is about, "2 of the 7 fields of the run: F1 and F3"; "" where it is about all of them.
func (f *Farm) About() string {
	if f.Whole == nil {
		return ""
	}
	var ids []string
	for i := range f.Run.Fields {
		ids = append(ids, shown(f.Run.Fields[i].ID))
	}
	if len(ids) > mostPlaces { // else the line would outgrow the page
		return f.share() + ": " + list(ids)
	}
	return f.share() + ": " + words.Listed(ids)
}

// share is the same without their names.
func (f *Farm) share() string {
	return fmt.Sprintf("%d of the %s of the run", len(f.Run.Fields), words.Count(len(f.Whole.Fields), "field", "fields"))
}

// usualPasses is up to which pass ids are worked out where the run has fewer: an earlier plan may have had more lime in mind, or more parts
// of a year's potash. Common practice, no source: nobody spreads a dozen of either.
const usualPasses = 12

// keys lists the keys of all steps that a plan may have had, with so many passes of lime.
func keys(passes int) []string {
	var out []string
	for _, c := range season.Codes() {
		last := 0
		if c == season.Lime || c == season.Potash { // the only steps that are done in parts
			last = max(passes, usualPasses)
		}
		// Pass 0 and year 0 are those of a step that is done once.
		for pass := range last + 1 {
			for year := range season.MostYears + 1 {
				out = append(out, season.Step{Code: c, Pass: pass, Year: year}.Key())
			}
		}
	}
	return out
}

// others says of ids whether they are those of fields that the plan leaves out; nil where it leaves none out. An id does not say of which
// field it is, so all ids that those fields may have are worked out, and only once somebody asks: without an earlier calendar nobody does.
func (f *Farm) others() func(uid string) bool {
	if f.Whole == nil {
		return nil
	}
	var ids map[string]bool
	return func(uid string) bool {
		if ids == nil {
			ids = f.otherIDs()
		}
		return ids[uid]
	}
}

// otherIDs works out the ids of all entries that fields left out may have in a calendar. Zones of one field with the same days share an entry
// named by the first of them; which that was in an earlier plan nobody knows, so every zone is tried.
func (f *Farm) otherIDs() map[string]bool {
	left, passes := LeftOut(f.Run, f.Whole), 0
	for i := range f.Whole.Zones {
		passes = max(passes, f.Whole.Zones[i].Lime.Passes)
	}
	out := map[string]bool{}
	steps := keys(passes)
	for i := range f.Whole.Zones {
		z := &f.Whole.Zones[i]
		if !left[z.FieldID] {
			continue
		}
		for _, key := range steps {
			out[calendar.Entry{Field: z.FieldID, Zone: z.ID, Step: key}.UID()] = true
		}
	}
	return out
}

// LeftOut are the ids of the fields of a run that a part of it does not have. Ids are those of the file of boundaries, the same in every run of
// it.
func LeftOut(part, whole *suitability.Result) map[string]bool {
	out := map[string]bool{}
	for i := range whole.Fields {
		out[whole.Fields[i].ID] = true
	}
	for i := range part.Fields {
		delete(out, part.Fields[i].ID)
	}
	return out
}

// noteChosen adds to the note of something to buy that it is for some of the fields alone: the table may be read without the plan.
func (f *Farm) noteChosen(note string) string {
	if f.Whole == nil {
		return note
	}
	return sentences(note, "for "+f.About())
}

// about says which fields the plan and its sums are of, where they are not of all; "" else.
func (b *book) about() string {
	if b.f.Whole == nil {
		return ""
	}
	return "This plan is for " + b.f.About() + ". All sums are of " + these(b.f.Run) + " alone."
}

// these names the chosen fields in a sentence that has told them.
func these(r *suitability.Result) string {
	if len(r.Fields) == 1 {
		return "this field"
	}
	return "these fields"
}
