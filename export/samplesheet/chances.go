package samplesheet

import (
	"cmp"
	"io"
	"math"
	"slices"
	"strconv"

	"rootworthy/export/words"
	"rootworthy/soils/unit"
	"rootworthy/suitability"
	"rootworthy/suitability/sampling"
	"rootworthy/suitability/uncertainty"
)

// writeChances writes how sure every field and zone is, before any bag: a row for a field, then one for each of its zones.
// Lime is per acre in a zone and in all in a field; empty where there is none, or no published error of it.
func writeChances(w io.Writer, p *sampling.Plan) error {
	head := []string{"field_id", "zone_id", "acres", "in_words"}
	for _, today := range []string{"", "_today"} {
		for _, c := range suitability.Classes() {
			head = append(head, "chance_"+underscored(c)+today)
		}
	}
	rows := [][]string{append(head, "error", "draws", "lime_low_st_ac", "lime_middle_st_ac", "lime_high_st_ac", "lime_low_st", "lime_middle_st", "lime_high_st",
		"suited_low_ac", "suited_middle_ac", "suited_high_ac")}
	for i := range p.Result.Fields {
		f, s := &p.Result.Fields[i], &p.Study.Fields[i]
		row := chanceRow(f.ID, "", f.Area, s.Class, s.Today, s.Error, s.Draws)
		// The three columns of lime an acre are of zones alone; a field has its lime in all, which need not be spread over all of it.
		row = append(row, "", "", "")
		row = append(row, three(s.Lime, func(kg float64) float64 { return unit.Mass(kg).ShortTons() })...)
		rows = append(rows, append(row, three(unit.Some(s.Suited), func(m2 float64) float64 { return unit.Area(m2).Acres() })...))
		for _, k := range f.Zones {
			// A run read from files may name a zone that it does not have.
			if k < 0 || k >= len(p.Study.Zones) {
				continue
			}
			z := &p.Study.Zones[k]
			row := chanceRow(f.ID, z.ID, z.Area, z.Class, z.Today, z.Error, z.Draws)
			need := z.Need
			// Ground without a figure in the plan, as unsuited ground, is in no sum of lime; nor is what it would take.
			if k >= len(p.Result.Zones) || !p.Result.Zones[k].Lime.Likely.Has() {
				need = unit.None[uncertainty.Interval]()
			}
			row = append(row, three(need, func(r float64) float64 { return unit.AreaRate(r).ShortTonsPerAcre() })...)
			rows = append(rows, append(row, "", "", "", "", "", ""))
		}
	}
	return writeRows(w, rows)
}

// chanceRow is the part of a row that fields and zones share: chances by class once corrected, then as the ground is, how far off they may be,
// and of how many draws.
func chanceRow(field, zone string, area unit.Area, class, today uncertainty.Chances, off float64, draws int) []string {
	row := []string{field, zone, decimals(area.Acres(), 2), words.ChanceOfClasses(class.Of)}
	for _, c := range []uncertainty.Chances{class, today} {
		thousandths := wholeThousandths(c)
		for _, k := range suitability.Classes() {
			row = append(row, decimals(float64(thousandths[k])/1000, 3))
		}
	}
	return append(row, decimals(off, 3), strconv.Itoa(draws))
}

// wholeThousandths rounds chances so that they still add up to 1: each is cut off, and what is missing goes where most was cut off, the
// better class first. Rounded each by itself, 0.9975 and 0.0025 would come to 1.001.
func wholeThousandths(c uncertainty.Chances) (out map[suitability.Class]int) {
	out = map[suitability.Class]int{}
	classes, left := suitability.Classes(), 1000
	for _, k := range classes {
		out[k] = int(math.Floor(c.Of(k)*1000 + 1e-9)) // 1e-9: 0.57 times 1000 falls just short of 570
		left -= out[k]
	}
	order := slices.Clone(classes)
	slices.SortStableFunc(order, func(a, b suitability.Class) int {
		return cmp.Compare(c.Of(b)*1000-float64(out[b]), c.Of(a)*1000-float64(out[a]))
	})
	for i := 0; i < left && i < len(order); i++ {
		out[order[i]]++
	}
	return out
}

// underscored is a class as part of a column's name, where a blank would have to be quoted in every program that reads it.
func underscored(c suitability.Class) string {
	if c == suitability.NotRated {
		return "not_rated"
	}
	return c.String()
}

// three prints an interval; nothing where there is none.
// in turns the study's SI into the column's unit.
func three(i unit.Opt[uncertainty.Interval], in func(float64) float64) []string {
	x, ok := i.Get()
	if !ok {
		return []string{"", "", ""}
	}
	return []string{decimals(in(x.Low), 2), decimals(in(x.Middle), 2), decimals(in(x.High), 2)}
}

// decimals prints as many decimals as are told, zeros too: columns of chances are read below one another.
func decimals(x float64, n int) string { return strconv.FormatFloat(x, 'f', n, 64) }
