package lab

import (
	"fmt"
	"reflect"
	"time"

	"rootworthy/internal/diag"
	"rootworthy/soils/unit"
)

// Join adds the samples of one more file to those of others. A sample that is there already, alike in all but the place in its file, counts
// once and is told: the same report is easily given twice, as it came and in the list of the year, and would weigh double in every mean.
// Samples without an id or a number are all kept, for two bags may well read alike.
func Join(samples, more []Sample, faults *diag.List) []Sample {
	seen := make(map[likeness][]int, len(samples)+len(more))
	for i := range samples {
		k := likenessOf(&samples[i])
		seen[k] = append(seen[k], i)
	}
	for _, s := range more {
		k := likenessOf(&s)
		if first, ok := sameSample(samples, seen[k], &s); ok && (s.ID != "" || s.LabNumber != "") {
			// The name of the other file stays out of the words: it may be a path, and words are kept in the record of a run.
			where := "another of the files"
			if samples[first].File == s.File && s.Line > 0 {
				where = fmt.Sprintf("line %d", samples[first].Line)
			}
			faults.Notice(diag.Fault{File: s.File, Line: s.Line, Feature: s.ID, Kind: "sample twice",
				What: "the sample stands in " + where + " too, alike to the last figure; it counts once", Fix: "leave one of the two out"})
			continue
		}
		seen[k] = append(seen[k], len(samples))
		samples = append(samples, s)
	}
	return samples
}

// likeness is what of a sample can be looked up; what else it holds is compared where all of this is alike.
type likeness struct {
	id, number, lab string
	place           Place
	top, bottom     unit.Opt[unit.Depth]
	taken           unit.Opt[time.Time]
	ph              unit.Opt[unit.PH]
	buffer          Buffers
}

func likenessOf(s *Sample) likeness {
	return likeness{s.ID, s.LabNumber, s.Lab, s.Place, s.Top, s.Bottom, s.Taken, s.PH, s.Buffer}
}

// sameSample finds a sample among some that is like s in all but where it was read.
func sameSample(samples []Sample, among []int, s *Sample) (at int, ok bool) {
	for _, i := range among {
		other := samples[i]
		other.File, other.Sheet, other.Line = s.File, s.Sheet, s.Line
		if reflect.DeepEqual(&other, s) {
			return i, true
		}
	}
	return 0, false
}
