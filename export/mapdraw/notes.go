package mapdraw

import (
	"fmt"
	"slices"
	"strings"

	"rootworthy/export"
	"rootworthy/export/words"
	"rootworthy/soils/unit"
	"rootworthy/suitability"
)

// describe says in a sentence what a map shows, for those who do not see it.
func describe(s *export.Sum, rows []Row) string {
	return fmt.Sprintf("Map of %s, %s in %s: %s.", FieldName(s.Field), words.AcresAndHectares(s.Field.Area), words.Count(len(s.Zones), "zone", "zones"), listRows(rows))
}

// listRows lists a legend as text.
func listRows(rows []Row) string {
	var parts []string
	for _, r := range rows {
		parts = append(parts, fmt.Sprintf("%s %s, %s", strings.ToLower(r.Word), words.AcresAndHectares(unit.Area(r.Area)), Percent(r.Share)))
	}
	if len(parts) == 0 {
		return "nothing to show"
	}
	return strings.Join(parts, "; ")
}

// footLines are what every map must say: whose data, when made and by what, and the first caution.
func footLines(p *suitability.Provenance, areas []string) []string {
	var used suitability.Provenance
	for _, a := range p.Surveys {
		if len(areas) == 0 || slices.Contains(areas, a.Symbol) {
			used.Surveys = append(used.Surveys, a)
		}
	}
	sources := export.Sources(&used)
	var out []string
	// More lines than that would take the room of the map.
	const most = 3
	for _, s := range sources[:min(max(0, len(sources)-1), most)] { // the last one tells of the datum, which no map needs
		out = append(out, "Data: "+s)
	}
	if more := len(sources) - 1 - most; more > 0 {
		out = append(out, fmt.Sprintf("Data of %s besides.", words.Count(more, "survey area", "survey areas")))
	}
	made := "Made"
	if p.Date != "" {
		made += " " + words.Date(p.Date)
	}
	if p.Program != "" {
		made += " by " + p.Program
	}
	if made != "Made" {
		out = append(out, made+". North is up.")
	}
	return append(out, words.Cautions()[0])
}

// areasOf lists the survey areas of zones.
func areasOf(zones []*suitability.Zone) []string {
	var out []string
	for _, z := range zones {
		if !slices.Contains(out, z.SurveyArea) {
			out = append(out, z.SurveyArea)
		}
	}
	return out
}

// Wrap breaks text at blanks into lines of at most a width in the Go fonts. A word that is longer than a line is broken too: a name without
// blanks must not run off the page or into its neighbour.
func Wrap(s string, width, size float64, bold bool) []string {
	var lines []string
	line, used := "", 0.0
	blank := TextWidth(" ", size, bold)
	for _, word := range strings.Fields(s) {
		w := TextWidth(word, size, bold)
		for w > width {
			n := BreakAt(word, width, size, bold)
			// Not one letter less would help: the line is narrower than a letter, and the loop must end.
			if n == len(word) {
				break
			}
			if line != "" {
				lines, line = append(lines, line), ""
			}
			lines, word = append(lines, word[:n]), word[n:]
			w = TextWidth(word, size, bold)
		}
		switch {
		case line == "":
			line, used = word, w
		case used+blank+w <= width:
			line, used = line+" "+word, used+blank+w
		default:
			lines = append(lines, line)
			line, used = word, w
		}
	}
	if line == "" {
		return lines
	}
	return append(lines, line)
}

// BreakAt returns how many bytes of a long word fit into a width: up to a hyphen, stroke or underline where there is one, and at least one
// letter.
func BreakAt(word string, width, size float64, bold bool) int {
	fits, nice := 0, 0
	for i, r := range word {
		end := i + len(string(r))
		// One letter goes on every line, however narrow the column, or the loop would not end.
		if fits > 0 && TextWidth(word[:end], size, bold) > width {
			break
		}
		fits = end
		if strings.ContainsRune("-/_", r) {
			nice = end
		}
	}
	if nice > 0 {
		return nice
	}
	return fits
}
