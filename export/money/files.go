package money

import (
	"fmt"
	"io"
	"time"

	"rootworthy/export/mapdraw"
	"rootworthy/export/marker"
	"rootworthy/export/report"
)

// Names of the files.
const (
	Page       = "money.html"
	PDF        = "money.pdf"
	ItemsFile  = "money.csv"
	ZonesFile  = "money-zones.csv"
	FieldsFile = "money-fields.csv"
	BarsFile   = "sensitivity.csv"
	BarsSVG    = "sensitivity.svg"
	PricesFile = "prices.toml" // the prices as they were given
	markFile   = "money.json"
)

// Files lists the files of a folder; the last marks it.
func Files() []string {
	return []string{Page, PDF, ItemsFile, ZonesFile, FieldsFile, BarsFile, BarsSVG, PricesFile, markFile}
}

// Write writes one of [Files].
func (b *Book) Write(w io.Writer, name string, size report.Paper) error {
	switch name {
	case Page:
		return b.Document().HTML(w)
	case PDF:
		return b.Document().PDF(w, size)
	case ItemsFile:
		return b.writeItems(w)
	case ZonesFile:
		return b.writeZones(w)
	case FieldsFile:
		return b.writeFields(w)
	case BarsFile:
		return b.writeBars(w)
	case BarsSVG:
		return b.Picture(mapdraw.Options{}).SVG(w, "moves")
	case PricesFile:
		return b.writePrices(w)
	case markFile:
		return b.writeMark(w)
	}
	return fmt.Errorf("there is no file %q of money", name)
}

// writePrices copies the file of prices, remarks and all: somebody may go on editing this copy.
func (b *Book) writePrices(w io.Writer) error {
	p := b.Study.Prices
	// Prices that were not read from a file have no text of their own.
	if p.Text == "" {
		return p.WriteTOML(w)
	}
	_, err := io.WriteString(w, p.Text)
	return err
}

// kind is what [Ours] knows the folder by.
func kind() marker.Kind { return marker.Kind{Word: "money", What: "money"} }

// mark is money.json.
type mark struct {
	marker.Head        // its date is the run's
	Prices      string `json:"prices"` // their file
	Day         string `json:"prices_date"`
	Place       string `json:"prices_place"`
	Currency    string `json:"currency"`
}

// writeMark writes by which prices the folder was made: the first thing to ask of an old one.
func (b *Book) writeMark(w io.Writer) error {
	p := b.Study.Prices
	return marker.Write(w, mark{kind().Head(b.Run.Provenance.Program, b.Run.Provenance.Date), p.Name, p.Date.Format(time.DateOnly), p.Place, p.Currency})
}

// Ours says whether a marker is one of ours; anything else is somebody's work and is left alone.
func Ours(r io.Reader) error { return kind().Ours(r) }
