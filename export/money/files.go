package money

import (
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"time"

	"rootworthy/export/mapdraw"
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
	if p.Text == "" {
		return p.WriteTOML(w)
	}
	_, err := io.WriteString(w, p.Text)
	return err
}

// mark is money.json.
type mark struct {
	Kind     string `json:"rootworthy"` // always "money"
	Program  string `json:"program"`
	Date     string `json:"date,omitempty"` // of the run
	Prices   string `json:"prices"`         // their file
	Day      string `json:"prices_date"`
	Place    string `json:"prices_place"`
	Currency string `json:"currency"`
}

func (b *Book) writeMark(w io.Writer) error {
	p := b.Study.Prices
	enc := json.NewEncoder(w)
	enc.SetEscapeHTML(false)
	enc.SetIndent("", " ")
	return enc.Encode(mark{"money", b.Run.Provenance.Program, b.Run.Provenance.Date, p.Name, p.Date.Format(time.DateOnly), p.Place, p.Currency})
}

// Ours says whether a marker is one of ours; anything else is somebody's work and is left alone.
func Ours(r io.Reader) error {
	var m mark
	if err := json.NewDecoder(r).Decode(&m); err != nil {
		return err
	}
	if m.Kind != "money" {
		return errors.New("it does not describe money")
	}
	return nil
}
