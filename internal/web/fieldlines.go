package web

import (
	"cmp"
	"net/url"
	"slices"

	"rootworthy/export"
	"rootworthy/export/words"
)

// fieldLine is one field in the list of fields.
type fieldLine struct {
	ID, Name, Address, Rank string
	Class                   mark
	Area, Suited, Answer    string
	Place                   int
}

// mostFieldLines is how many fields are listed, best first; a search finds the others.
const mostFieldLines = 60

// fieldLines lists the fields, the best first, and counts those left out.
func (s *scene) fieldLines(q url.Values) (out []fieldLine, more int) {
	order := make([]*export.Sum, len(s.sums))
	for i := range s.sums {
		order[i] = &s.sums[i]
	}
	slices.SortStableFunc(order, func(a, b *export.Sum) int { return cmp.Compare(rankOf(a), rankOf(b)) })
	for _, f := range order[:min(len(order), mostFieldLines)] {
		l := fieldLine{ID: f.Field.ID, Name: fieldName(f.Field), Class: markOf(f.Class()), Area: words.Acres(f.Field.Area), Place: s.field[f.Field.ID],
			Address: with(without(q, "from"), "field", f.Field.ID), Answer: words.Trouble(f.Field)}
		if l.Answer == "" {
			l.Answer, l.Suited = words.FieldAnswer(f), words.Acres(f.ByClass[1])
		}
		if f.Rank > 0 {
			l.Rank = export.Thousands(f.Rank)
		}
		out = append(out, l)
	}
	return out, len(order) - len(out)
}

// rankOf puts fields without an answer last.
func rankOf(f *export.Sum) int {
	if f.Rank == 0 {
		return int(^uint(0) >> 1)
	}
	return f.Rank
}
