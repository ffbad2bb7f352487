package choice

import (
	"cmp"

	"rootworthy/export/words"
	"rootworthy/suitability"
	"rootworthy/suitability/ranking"
)

// Choice is all that the files are written from.
type Choice struct {
	Ranking  *ranking.Ranking
	Runs     []Run
	Basis    ranking.Basis // of the cost
	Start    ranking.Start // of readiness
	Proposed bool          // the weights are those of the program, not the user's
	Currency string        // the user's word for money; "" without prices
	Prices   string        // what the prices are, in words: file, place, date; "" without prices
	Unpriced []string      // costs that the prices do not say, in words within a sentence; they are in no cost here
	Program  string        // name and version
	Date     string        // "2026-03-01"; "" where no day is known
	Region   string        // whose sowing window counts; "" for none
	Seed     uint64
}

// Run is one of the runs that fields come from.
type Run struct {
	Name   string // by which the fields of it are told from others
	Result *suitability.Result
}

// mostShown is how many letters of a name are shown.
const mostShown = 60

// FieldName is what a field is called in lists: "Kiln Field (F2)", with the run before the id where there are several.
func (c *Choice) FieldName(f *ranking.Field) string {
	id := words.Shown(f.ID, mostShown)
	if len(c.Runs) > 1 {
		id = words.Shown(f.Run, mostShown) + "/" + id
	}
	return called(f, id)
}

// called is the name of a field with its id, or the id alone.
func called(f *ranking.Field, id string) string {
	if f.Name == "" || f.Name == f.ID {
		return id
	}
	return words.Shown(f.Name, mostShown) + " (" + id + ")"
}

// whose names the owner of all fields, where there is one.
func (c *Choice) whose() string {
	owner := ""
	for i := range c.Ranking.Fields {
		f := c.Ranking.Fields[i].Field
		who := cmp.Or(f.Farm, f.Customer)
		// One field of somebody else, or of nobody, and the list belongs to no one owner.
		if who == "" || owner != "" && who != owner {
			return ""
		}
		owner = who
	}
	return words.Shown(owner, mostShown)
}

// tally counts fields by verdict; fields without an answer are to be visited.
func (c *Choice) tally() map[ranking.Verdict]int {
	n := map[ranking.Verdict]int{ranking.VisitFirst: len(c.Ranking.Unanswered)}
	for i := range c.Ranking.Fields {
		n[c.Ranking.Fields[i].Verdict]++
	}
	return n
}

// Fields is how many there are in all.
func (c *Choice) Fields() int { return len(c.Ranking.Fields) + len(c.Ranking.Unanswered) }

// FieldAt is the field whose letter is number k from 0: by place, then those without one.
func (c *Choice) FieldAt(k int) *ranking.Field { return c.letterAt(k).f }
