package seedplan

import (
	"fmt"
	"math"

	"rootworthy/soils/unit"
)

// Trial is a test run of a drill: what falls from some rows over a distance is caught and weighed.
type Trial struct {
	Spacing  unit.Length // between rows
	Rows     int         // caught
	Distance unit.Length // driven, or turns of the drive wheel times its way around
}

// ByWheel returns a trial with the drill jacked up: turns of the drive wheel times its circumference.
func ByWheel(spacing unit.Length, rows, turns int, around unit.Length) Trial {
	return Trial{spacing, rows, around * unit.Length(turns)}
}

// Check says what is wrong with the trial.
func (t Trial) Check() error {
	switch {
	// metres, as the distance below: 2 to 78 in, and 10 to 6,500 ft
	case !(t.Spacing >= 0.05 && t.Spacing <= 2):
		return fmt.Errorf("rows %.4g in apart are not possible; give from 2 to 78", t.Spacing.Inches())
	// The widest drills have under a hundred rows.
	case t.Rows < 1 || t.Rows > 200:
		return fmt.Errorf("%d rows are not possible; give from 1 to 200", t.Rows)
	case !(t.Distance >= 3 && t.Distance <= 2000):
		return fmt.Errorf("a distance of %.4g ft is not possible; give from 10 to 6,500", t.Distance.Feet())
	}
	return nil
}

// Ground returns the area that the caught rows would have sown.
func (t Trial) Ground() unit.Area {
	return unit.Area(float64(t.Spacing) * float64(t.Rows) * float64(t.Distance))
}

// Catch returns what the rows together and each of them should yield for a rate of bulk seed.
//
//	catch = rate × spacing × rows × distance
//
// Source: definition; the same as the steps of South Carolina, Maryland and Kentucky extension.
func (t Trial) Catch(bulk unit.AreaRate) (all, row unit.Mass) {
	// the meter does not know what is in the bag: it is set for bulk seed, coating and all
	all = bulk.Over(t.Ground())
	return all, all / unit.Mass(t.Rows)
}

// Sown returns the rate that a catch shows; 0 for a trial that covers no ground, which [Trial.Check] refuses.
func (t Trial) Sown(caught unit.Mass) unit.AreaRate {
	if g := t.Ground(); g > 0 {
		return unit.AreaRate(float64(caught) / float64(g))
	}
	return 0
}

// Off is how far a drill is set from where it should be, and what to do.
type Off struct {
	Sown  unit.AreaRate
	Ratio unit.Opt[float64] // sown ÷ wanted; missing where no rate is wanted or the trial shows none
	Do    string            // of [Does]; "" where Ratio is missing, since there is nothing to set the drill by
}

// Does lists what a calibration can end in: leave the setting, open or close the meter.
func Does() []string { return []string{"leave", "open", "close"} }

// closeEnough is how near the drill should be. Source: proposal.
const closeEnough = 0.05

// Judge compares a catch with the rate that is wanted.
func (t Trial) Judge(caught unit.Mass, bulk unit.AreaRate) Off {
	o := Off{Sown: t.Sown(caught)}
	// asked so that NaN is no rate, no ground and no catch either; a catch of nothing is one: a drill that is shut or blocked
	if !(bulk > 0 && t.Ground() > 0 && caught >= 0) {
		return o
	}
	ratio := float64(o.Sown / bulk)
	o.Ratio, o.Do = unit.Some(ratio), "leave"
	switch {
	case ratio < 1-closeEnough:
		o.Do = "open"
	case ratio > 1+closeEnough:
		o.Do = "close"
	}
	return o
}

// Uneven returns the rows, counted from 0, whose catch is over a tenth off the mean: a worn or blocked meter. Source: proposal.
func Uneven(rows []unit.Mass) []int {
	sum := 0.0
	for _, m := range rows {
		sum += float64(m)
	}
	mean := sum / float64(len(rows))
	var out []int
	for i, m := range rows {
		// asked this way round, rows without any mean (no catch at all) are within it, and NaN is not
		if !(math.Abs(float64(m)-mean) <= 0.1*mean) {
			out = append(out, i)
		}
	}
	return out
}

// SheetLine is a line of a calibration sheet.
type SheetLine struct {
	Bulk     unit.AreaRate // of what is in the bag
	PLS      unit.AreaRate
	All, Row unit.Mass         // caught, of all rows and of each
	PerRow   unit.PerLength    // live seeds along a row, to be counted behind the drill
	Wanted   bool              // the line of the plan
	Depth    unit.Length       // no deeper
	Share    unit.Opt[float64] // of the wanted rate, for the lines around it
}

// Catch is what each row should yield over a distance.
type Catch struct {
	Distance unit.Length
	Row      unit.Mass
}

// Catches returns the catch of a row for distances people drive or turn, so that any of them can be read off the sheet.
func Catches(bulk unit.AreaRate, spacing unit.Length, distances []unit.Length) []Catch {
	var out []Catch
	for _, d := range distances {
		_, row := Trial{spacing, 1, d}.Catch(bulk)
		out = append(out, Catch{d, row})
	}
	return out
}

// Distances are those of the sheet, in the order of the sheet: 50 to 300 ft. Source: common practice, no source.
func Distances() []unit.Length {
	return []unit.Length{50 * unit.Foot, 100 * unit.Foot, 150 * unit.Foot, 200 * unit.Foot, 300 * unit.Foot}
}

// Sheet is what to take to the drill: the wanted rate between some above and below it.
func Sheet(tag Tag, t Trial, pls unit.AreaRate) []SheetLine {
	var out []SheetLine
	// a drill is set in steps, and few settings give just the rate: the neighbours say what each of them means
	for _, share := range []float64{0.8, 0.9, 1, 1.1, 1.2} {
		rate := pls * unit.AreaRate(share)
		l := SheetLine{Bulk: tag.Bulk(rate), PLS: rate, Wanted: share == 1, Depth: unit.Inches(DeepestInch), Share: unit.Some(share)}
		l.All, l.Row = t.Catch(l.Bulk)
		l.PerRow = tag.SeedsAt(rate).Along(t.Spacing)
		out = append(out, l)
	}
	return out
}
