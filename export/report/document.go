package report

import "rootworthy/export/mapdraw"

// Document is a report as a list of blocks.
type Document struct {
	Title   string // of the document, shown as its first heading
	Subject string // for whom, in a few words
	Program string // name and version of what made it
	Date    string // of the run, as the user gave it; "" when none
	Blocks  []Block
	Folds   bool // sections of the page fold, but for those that lie open; paper has all of them
}

// Block is a part of a document: [Heading], [Para], [Bullets], [Table], [Figure], [Figures] or [PageBreak].
// The set is closed: both writers handle all of it, and blocks of other packages would come out on neither.
type Block interface{ block() }

// Heading begins a section. Level is 2 or 3; the title is level 1.
type Heading struct {
	Level   int
	Text    string
	ID      string // unique in the document, letters, digits and hyphens
	Running string // "" or what the foot of the following pages says
	Open    bool   // in a page that folds its sections this one lies open
	Say     string // "" or the answer of what stands under it, told beside a section that is folded
}

// Tone says how a paragraph is to sound.
type Tone uint8

// The tones.
const (
	Normal Tone = iota
	Answer      // the answer, large
	Small       // a note
)

// Para is a paragraph.
type Para struct {
	Text string
	Tone Tone
}

// Bullets is a list without order.
type Bullets struct{ Items []string }

// Column is a column of a table.
type Column struct {
	Head   string
	Share  float64 // of the width on paper; all columns of a table add up to 1
	Number bool    // set to the right
}

// Table is a table with a caption; on paper its head repeats on each page and no row is split.
type Table struct {
	Caption string
	Columns []Column
	Rows    [][]string
	Links   []string // "" or the id of a heading for the first cell of each row; nil for none
	Total   bool     // the last row is a total
	Note    string   // "" or a line under it
	Stack   bool     // on a narrow window each row is a block of its own, every cell under the head of its column: for tables of text
}

// LegendRow is a line of a legend beside a map.
type LegendRow struct {
	Look              mapdraw.Look
	Text, Area, Share string
}

// Figure is a map, drawn when it is needed: a run of a thousand fields never holds all its maps.
// Draw may be called several times with other sizes, and gives the same map each time. Legend stands beside the map as a table for those
// who do not see it; in the PDF the map carries its own.
type Figure struct {
	ID      string // unique in the document
	Caption string
	Draw    func(mapdraw.Options) *mapdraw.Drawing
	Legend  func() []LegendRow // nil for none
}

// Figures are small maps side by side.
type Figures struct {
	Items  []Figure
	Across int // how many in a row on paper
}

// PageBreak begins a new page on paper.
// HTML knows no pages and leaves it out.
type PageBreak struct{}

func (Heading) block()   {}
func (Para) block()      {}
func (Bullets) block()   {}
func (Table) block()     {}
func (Figure) block()    {}
func (Figures) block()   {}
func (PageBreak) block() {}

// add appends blocks.
func (d *Document) add(blocks ...Block) { d.Blocks = append(d.Blocks, blocks...) }
