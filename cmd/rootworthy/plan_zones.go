package main

import (
	"fmt"
	"os"
	"slices"
	"strings"
	"time"

	"rootworthy/export/grower"
	"rootworthy/internal/diag"
	"rootworthy/soils/unit"
	"rootworthy/suitability"
	"rootworthy/suitability/limeplan"
	"rootworthy/suitability/season"
	"rootworthy/suitability/stand"
)

// zonePlan is the calendar of a zone, with its lime and its waiting time as the run has them.
// Where a zone has no plan, Why says so in words and there is no calendar. in comes by value: what is set here holds for this zone alone.
// own is the record of the zone.
func zonePlan(p *suitability.Profile, z *suitability.Zone, in season.Input, asked limeplan.Asked, own []stand.Record) grower.Zone {
	out := grower.Zone{Zone: z, Why: grower.WhyNone(z)}
	if out.Why != "" {
		return out
	}
	in.Passes, in.Tested = z.Lime.Passes, strings.HasPrefix(z.Lime.Basis, limeplan.BasisTest)
	// The run counts its wait from the first pass; passes lie a year apart, and the calendar adds those years itself. What is left is the wait
	// after the last one.
	in.Wait.Value = float64(z.Lime.WaitMonths - 12*max(0, z.Lime.Passes-1))
	if z.Lime.WaitMonths <= 0 { // a run of a program that did not keep it
		in.Wait.Value = float64(p.Lime.WaitMonths())
	}
	in.Wait.Source, in.Wait.Status = p.Lime.Wait.Source, p.Lime.Wait.Status
	// Another wait than the profile's was typed for the run, so the profile's source does not stand for it.
	if in.Wait.Value != float64(p.Lime.WaitMonths()) {
		in.Wait.Source, in.Wait.Status = "the wait that the run was made with", suitability.Practice
	}
	out.Limed = asked.OnRecord(own)
	in.Begun, in.Done = out.Limed.Begun(), doneIn(own, out.Limed)
	out.Plan = season.Make(in)
	if begun := out.Plan.ProductionYear(in.Start); begun > 1 { // so many years ahead, not from the sowing
		in.Years += begun - 1
		out.Plan = season.Make(in)
	}
	return out
}

// openPlace reads what is known of the place: normals and the first cutting.
func (f *planFlags) openPlace(farm *grower.Farm, in *season.Input, faults *diag.List) error {
	if f.firstCut != "" {
		day, err := season.ParseFirstCut(f.firstCut)
		if err != nil {
			return usagef("--first-cut: %v", err)
		}
		in.FirstCut = unit.Some(day)
	}
	if f.normals == "" {
		return nil
	}
	file, err := os.Open(f.normals)
	if err != nil {
		return err
	}
	defer file.Close()
	// Without normals dates rest on the sowing window alone, which the plan says; so a file that cannot be used ends nothing, and its faults
	// are told.
	n, _, err := season.ReadNormals(baseName(f.normals), file, faults)
	farm.Normals, in.Normals = n, n
	return err
}

// openRecord reads what was done in the fields, by zone of the plan. Lines about fields of the whole run that the plan leaves out are left
// out too; lines about fields that the run does not have are told.
// The key of the answer is the zone's id; a line about a whole field counts for every zone in it.
func (f *planFlags) openRecord(farm *grower.Farm, whole *suitability.Result, faults *diag.List) (map[string][]stand.Record, error) {
	if f.record == "" {
		return nil, nil
	}
	file, err := os.Open(f.record)
	if err != nil {
		return nil, err
	}
	defer file.Close()
	records, err := stand.Read(baseName(f.record), file, faults)
	if err != nil {
		return nil, err
	}
	if !f.recordGoesOn {
		records = f.upToNow(records, farm.Date, faults)
	}
	there := map[[2]string]bool{} // field and zone; zone "" is the whole field, which has a record only where it has zones
	for i := range whole.Zones {
		z := &whole.Zones[i]
		there[[2]string{z.FieldID, z.ID}], there[[2]string{z.FieldID, ""}] = true, true
	}
	left := grower.LeftOut(farm.Run, whole)
	byField := map[string][]stand.Record{} // so that no zone has to look through the lines of all fields
	var own []stand.Record
	for _, r := range records {
		if !there[[2]string{r.Field, r.Zone}] {
			what := fmt.Sprintf("the run has no field %q with a zone %q", r.Field, r.Zone)
			// A line of a whole field names no zone, and the fault does not speak of one.
			if r.Zone == "" {
				what = fmt.Sprintf("the run has no field %q, or none of it lies in the survey", r.Field)
			}
			faults.Add(diag.Fault{File: baseName(f.record), Line: r.Line, Field: "field_id, zone_id", Kind: "not in the run",
				What: what, Fix: "correct the line; zones are named field/number"})
		}
		if !left[r.Field] {
			own = append(own, r)
			byField[r.Field] = append(byField[r.Field], r)
		}
	}
	farm.Record = stand.History(own)
	out := map[string][]stand.Record{}
	for i := range farm.Run.Zones {
		z := &farm.Run.Zones[i]
		out[z.ID] = stand.OfZone(byField[z.FieldID], z.FieldID, z.ID)
	}
	return out, nil
}

// upToNow leaves out what is dated after the day of the plan: nobody has done it yet, and a sowing to come would end the stand that is there.
func (f *planFlags) upToNow(records []stand.Record, now time.Time, faults *diag.List) []stand.Record {
	return slices.DeleteFunc(records, func(r stand.Record) bool {
		if !r.Day.After(now) {
			return false
		}
		faults.Add(diag.Fault{File: baseName(f.record), Line: r.Line, Field: "date", Kind: "day to come",
			What: fmt.Sprintf("%s lies after the day of the plan, %s; the line is left out", season.Day(r.Day), season.Day(now)), Fix: "correct the date, or give a later --date"})
		return true
	})
}

// doneIn reads the steps of a zone out of its own record: the soil test before the lime and the one after it, passes of lime in their
// order, the sowing, the first cutting after it, and the counts and soil tests of the stand. A record that ends with a sowing of years ago
// tells of a stand; the plan is then that stand's.
func doneIn(own []stand.Record, limed limeplan.Spread) []season.Done {
	var out []season.Done
	// Steps that happen once are taken at their first line; what repeats is told apart by pass or by year.
	has := func(c season.Code) bool {
		return slices.ContainsFunc(out, func(d season.Done) bool { return d.Code == c })
	}
	passes := 0 // complete so far
	var sown time.Time
	for _, r := range stand.OfThisStand(own) {
		if has(season.Sow) {
			// The first count of a year is the one of the calendar; later ones are in the record and do not move it.
			if d, ok := doneInStand(r, sown); ok && !slices.ContainsFunc(out, func(x season.Done) bool { return x.Code == d.Code && x.Year == d.Year }) {
				out = append(out, d)
			}
		}
		switch {
		case r.Kind == stand.Sown && !has(season.Sow):
			sown = r.Day
			out = append(out, season.Done{Code: season.Sow, Day: r.Day})
		// How much makes a pass is not the calendar's matter; it is told on which day one was complete.
		case r.Kind == stand.Lime:
			for passes < len(limed.Passes) && limed.Passes[passes].Complete() && !limed.Passes[passes].Day.After(r.Day) {
				passes++
				out = append(out, season.Done{Code: season.Lime, Pass: passes, Day: limed.Passes[passes-1].Day})
			}
		case (r.Kind == "k2o" || r.Kind == "p2o5") && !has(season.Sow) && !has(season.Fertilize):
			out = append(out, season.Done{Code: season.Fertilize, Day: r.Day})
		// A test before any lime is the one that the lime rests on; one after the last pass says whether it has worked. Between two passes
		// a test is neither.
		case r.Kind == stand.SoilPH && passes == 0 && !has(season.Sample):
			out = append(out, season.Done{Code: season.Sample, Day: r.Day})
		case r.Kind == stand.SoilPH && passes > 0 && passes == len(limed.Passes) && !has(season.Retest) && !has(season.Sow):
			out = append(out, season.Done{Code: season.Retest, Day: r.Day})
		case r.Kind == "cut" && has(season.Sow) && !has(season.FirstCut):
			out = append(out, season.Done{Code: season.FirstCut, Day: r.Day})
		}
	}
	return out
}

// doneInStand reads a count or a soil test of a stand that was sown on a day.
func doneInStand(r stand.Record, sown time.Time) (d season.Done, ok bool) {
	year := stand.ProductionYear(sown, r.Day)
	d = season.Done{Day: r.Day}
	// The calendar has one fall count and one spring count, which need no year; from production year 2 on steps repeat and carry theirs.
	if year > 1 {
		d.Year = year
	}
	switch counted := r.Kind == stand.Plants || r.Kind == stand.Stems; {
	// Production year 0 lasts from the sowing to the first winter, 1 is the year after it; an older stand is counted by stems.
	case counted && year == 0:
		d.Code = season.CountFall
	case counted && year == 1:
		d.Code = season.CountSpring
	case counted:
		d.Code = season.CountStems
	case r.Kind == stand.SoilPH && year > 1:
		d.Code = season.SoilTest
	case r.Kind == "cut" && year > 1:
		d.Code = season.FirstCut
	}
	return d, d.Code != ""
}
