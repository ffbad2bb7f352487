package report

import (
	"fmt"

	"rootworthy/export"
	"rootworthy/export/words"
	"rootworthy/suitability"
)

// fieldAnswer answers for one field in three lines at most: what looks suited, what lime that takes, what holds the
// rest back.
func fieldAnswer(s *export.Sum) []string {
	if !hasAnswer(s) {
		if s.Field.Trouble == "" {
			return []string{"No answer: the survey has no soil for this field."}
		}
		return []string{"No answer: this field " + words.Trouble(s.Field) + "."}
	}
	out := []string{suitedLine(s), limeLine(s)}
	if rest := restLine(s); rest != "" {
		out = append(out, rest)
	}
	return out
}

func suitedLine(s *export.Sum) string {
	suited, all := s.ByClass.Of(suitability.Suited), words.AcresAndHectares(s.Field.Area)
	if suited == 0 {
		return fmt.Sprintf("None of the %s looks suited.", all)
	}
	line := fmt.Sprintf("%s of %s look suited.", words.Acres(suited), all)
	if once := words.SuitedOnceLimed(s); once > 0 {
		line += fmt.Sprintf(" %s acres of them need lime first.", words.Acres(once))
	}
	return line
}

func limeLine(s *export.Sum) string {
	switch {
	case !s.HasLime:
		return "There is no lime figure for this field."
	case s.Likely == 0:
		return "By the survey it needs no lime. A soil test may say otherwise."
	}
	more := ""
	if s.Floor {
		more = " or more"
	}
	return fmt.Sprintf("Lime: about %s short tons (%s t)%s of pure lime on %s. That is a budget; a soil test sets the rate.",
		words.Tons(s.Likely.ShortTons()), words.Fixed(float64(s.Likely)/1000, 1), more, words.AcresAndHectares(s.Limed))
}

func restLine(s *export.Sum) string {
	var parts []string
	for _, l := range s.Limits {
		parts = append(parts, fmt.Sprintf("%s (%s acres)", words.Criterion(l.Code, words.Landowner), words.Acres(l.Area)))
	}
	line := ""
	if len(parts) > 0 {
		line = "What holds the rest back: " + words.Listed(parts) + "."
	}
	if a := s.ByClass.Of(suitability.NotRated); a > 0 {
		line += fmt.Sprintf(" %s acres could not be rated.", words.Acres(a))
	}
	if s.Field.Uncovered > 0 {
		line += fmt.Sprintf(" %s acres lie outside the survey.", words.Acres(s.Field.Uncovered))
	}
	return line
}
