package main

import (
	"context"
	"fmt"
	"io"
	"slices"
	"strconv"

	"rootworthy/export/choice"
	"rootworthy/export/marker"
	"rootworthy/export/report"
	"rootworthy/internal/atomicfile"
	"rootworthy/suitability/economics"
	"rootworthy/suitability/ranking"
)

// Files of a ranking.
const (
	rankPage    = "rank.html"
	rankPDF     = "rank.pdf"
	rankCSV     = "rank.csv"
	rankPicture = "places.svg"
	lettersPage = "letters.html"
	lettersPDF  = "letters.pdf"
	rankFile    = "rank.json" // marks the folder; put in place last
)

// rankWork is what one call of rank makes.
type rankWork struct {
	dir     string
	paper   report.Paper
	options ranking.Options
	letters int               // how many at most; -1 for all
	prices  *economics.Prices // nil without
	left    []economics.Item  // costs and gains that the prices do not say
	wants   []economics.Item  // without which nobody can say whether a field pays
	choice  choice.Choice
}

// rankMark is rank.json.
type rankMark struct {
	marker.Head
	Weights string   `json:"weights"`
	Seed    uint64   `json:"seed"`
	Draws   int      `json:"draws"`
	Runs    []string `json:"runs"`
	Files   []string `json:"files"`
}

// rankKind is the kind of rank.json.
func rankKind() marker.Kind { return marker.Kind{Word: "rank", What: "a ranking"} }

// write writes the folder: whole, or as it was.
func (w *rankWork) write(ctx context.Context) error {
	c := &w.choice
	mark := rankMark{Head: rankKind().Head(c.Program, c.Date), Weights: c.Ranking.Weights.String(), Seed: c.Seed, Draws: c.Ranking.Draws}
	for _, r := range c.Runs {
		mark.Runs = append(mark.Runs, r.Name)
	}
	byName := map[string]func(io.Writer) error{}
	add := func(name string, write func(io.Writer) error) {
		mark.Files = append(mark.Files, name)
		byName[name] = write
	}
	doc := c.Document()
	add(rankPage, func(out io.Writer) error { return choice.WritePage(out, doc) })
	add(rankPDF, func(out io.Writer) error { return doc.PDF(out, w.paper) })
	add(rankCSV, func(out io.Writer) error { return choice.WriteCSV(out, c) })
	// A picture of no fields would be an empty frame.
	if len(c.Ranking.Fields) > 0 {
		add(rankPicture, c.Picture)
	}
	if n := w.lettersOf(); n > 0 {
		letters := c.Letters(n)
		add(lettersPage, letters.HTML)
		add(lettersPDF, func(out io.Writer) error { return letters.PDF(out, w.paper) })
		for k := range n {
			// The number is the field's place, so that letters lie in the order of the list; the id behind it is for whoever looks for one
			// owner.
			add(fmt.Sprintf("letters/%0*d-%s.html", w.digits(), k+1, fileWord(c.FieldAt(k).ID)), func(out io.Writer) error { return c.Letter(k).HTML(out) })
		}
	}
	folder := w.folder(mark.Files...)
	byName[rankFile] = func(out io.Writer) error { return marker.Write(out, mark) }
	return folder.Write(func(name string, out io.Writer) error {
		if ctx.Err() != nil {
			return context.Cause(ctx)
		}
		return byName[name](out)
	})
}

// folder is where the files go.
func (w *rankWork) folder(files ...string) atomicfile.Folder {
	return atomicfile.Folder{Dir: w.dir, Files: append(slices.Clone(files), rankFile), Stale: formerFiles(w.dir, rankFile, rankKind()), Marked: rankKind().Ours}
}

// lettersOf is how many letters are written.
func (w *rankWork) lettersOf() int {
	if w.letters < 0 {
		return w.choice.Fields()
	}
	return min(w.letters, w.choice.Fields())
}

// digits is how many a letter's number has, so that names sort.
func (w *rankWork) digits() int { return max(3, len(strconv.Itoa(w.lettersOf()))) }
