package stand

import (
	"slices"
	"strings"
	"time"

	"rootworthy/soils/nutrient"
	"rootworthy/soils/unit"
)

// Years is how long a stand is followed. Source: common practice, no source.
const Years = 7

// Year is a year of production of a zone, 0 being the one it was sown in.
type Year struct {
	Number   int
	Calendar int
	Decision *Decision // of the last count, stems before plants; nil where none was counted
	Hay      unit.Opt[unit.AreaRate]
	Tissue   []Tissue
	Nitrogen unit.AreaRate // that little alfalfa in the mixture calls for, each time; see nutrient.NitrogenForThinStand
	Records  []Record      // everything of the year
}

// Tissue is a tissue test held against one source's range. Sources disagree, so a test may stand here more than once.
type Tissue struct {
	Element string
	Value   unit.Percent
	Level   nutrient.Level
	Range   nutrient.TissueRange
}

// Story is a zone over its years.
type Story struct {
	Field, Zone string
	Sown        time.Time // of the stand that is there, not of seed that thickened it; the zero time when the record does not say
	Years       []Year    // those of which the record says something, [Years] after the one of sowing at most
	Later       int       // records beyond
}

// History tells the record zone by zone, sorted by field and zone. Lines of a whole field count for each of its zones.
func History(records []Record) []Story {
	sorted := slices.Clone(records)
	slices.SortStableFunc(sorted, compare)
	var out []Story
	for len(sorted) > 0 {
		// sorted by field, so those of one field stand together
		n := run(sorted, func(r Record) string { return r.Field })
		out = append(out, fieldStories(sorted[:n])...)
		sorted = sorted[n:]
	}
	return out
}

// run returns how many records at the start share the first one's key.
func run(records []Record, key func(Record) string) int {
	n := slices.IndexFunc(records, func(r Record) bool { return key(r) != key(records[0]) })
	if n < 0 {
		return len(records)
	}
	return n
}

// fieldStories tells the zones of a field, whose records are sorted: those of the whole field come first. Where nothing names a zone the
// field is told as one.
func fieldStories(records []Record) []Story {
	zone := func(r Record) string { return r.Zone }
	var whole []Record
	if records[0].Zone == "" {
		n := run(records, zone)
		whole, records = records[:n], records[n:]
	}
	if len(records) == 0 {
		s := Story{Field: whole[0].Field}
		s.tell(slices.Clone(whole))
		return []Story{s}
	}
	var out []Story
	for len(records) > 0 {
		n := run(records, zone)
		s := Story{Field: records[0].Field, Zone: records[0].Zone}
		// Concat makes a new list for each zone, which tell sorts
		s.tell(slices.Concat(whole, records[:n]))
		out, records = append(out, s), records[n:]
	}
	return out
}

// tell fills a story in from the zone's own records, which it may sort.
func (s *Story) tell(own []Record) {
	slices.SortStableFunc(own, func(a, b Record) int { return a.Day.Compare(b.Day) })
	s.Sown = Sowing(own)
	for _, r := range own {
		s.put(r)
	}
	for i := range s.Years {
		s.Years[i].finish(s.Sown)
	}
}

// Sowing is the day on which the stand that is there was sown, by the records of a zone in the order of their days; the zero time when
// they do not say.
func Sowing(own []Record) (day time.Time) {
	for _, r := range own {
		// Seed within a year thickens the stand that is there; later it is a new one.
		// The first sowing is never "young" to the zero time, so it counts.
		if r.Kind == Sown && !young(day, r.Day) {
			day = r.Day
		}
	}
	return day
}

// put hands a record to its year. What lies before the sowing belongs to the year of sowing: lime, sod, soil tests.
func (s *Story) put(r Record) {
	number := ProductionYear(s.Sown, r.Day)
	if s.Sown.IsZero() {
		// without a day of sowing the years of production cannot be counted: all is put under one number, by calendar year
		number = 0
	}
	// What lies beyond is counted and not shown; the file keeps it.
	if number > Years {
		s.Later++
		return
	}
	calendar := r.Day.Year()
	if !s.Sown.IsZero() && number == 0 {
		calendar = s.Sown.Year()
	}
	for i := range s.Years {
		if s.Years[i].Number == number && s.Years[i].Calendar == calendar {
			s.Years[i].Records = append(s.Years[i].Records, r)
			return
		}
	}
	s.Years = append(s.Years, Year{Number: number, Calendar: calendar, Records: []Record{r}})
}

// finish works out what the records of a year say together.
func (y *Year) finish(sown time.Time) {
	y.Decision = y.decide(sown)
	hay, any := unit.AreaRate(0), false
	for _, r := range y.Records {
		if r.Day.Before(sown) { // of what grew there before
			continue
		}
		if h, ok := r.Hay(); ok {
			hay, any = hay+h, true
		}
		if v, ok := r.Value.Get(); ok && r.Kind == AlfalfaShare {
			y.Nitrogen = nutrient.NitrogenForThinStand(unit.Percent(v)) // the last of the year holds
		}
		y.Tissue = append(y.Tissue, JudgeTissue(r)...)
	}
	if any {
		y.Hay = unit.Some(hay)
	}
}

// decide takes the mean of the counts of the last day on which they were made; stems tell more than plants.
func (y *Year) decide(sown time.Time) *Decision {
	// The last day on which stems were counted decides, even where plants were counted later: stems say more of the hay to come.
	for _, k := range []Kind{Stems, Plants} {
		sum, n, day := unit.PerArea(0), 0, time.Time{}
		for _, r := range y.Records {
			d, ok := r.Density()
			if r.Kind != k || !ok || r.Day.Before(sown) {
				continue
			}
			// A later day begins anew: a count of March says nothing beside one of April.
			if r.Day.After(day) {
				sum, n, day = 0, 0, r.Day
			}
			// several counts of one day are places in the zone, whose mean is the zone
			sum, n = sum+d, n+1
		}
		if n == 0 {
			continue
		}
		by := ByPlants
		if k == Stems {
			by = ByStems
		}
		d := by(sum/unit.PerArea(n), sown, day)
		return &d
	}
	return nil
}

// JudgeTissue holds a tissue test against every source's range; nothing for other records.
func JudgeTissue(r Record) []Tissue {
	element, ok := strings.CutPrefix(string(r.Kind), tissue)
	v, has := r.Value.Get()
	if !ok || !has {
		return nil
	}
	var out []Tissue
	// every source that has a range, since they disagree and none is preferred
	for _, t := range nutrient.TissueRanges(element) {
		if l, ok := t.Of(unit.Percent(v)); ok {
			out = append(out, Tissue{element, unit.Percent(v), l, t})
		}
	}
	return out
}
