package economics

import (
	"fmt"
	"io"
	"strconv"
	"strings"
	"time"

	"rootworthy/soils/nutrient"
)

// WriteTOML writes the prices as a file that [ReadPrices] reads back to the same figures.
func (p *Prices) WriteTOML(w io.Writer) error {
	var b strings.Builder
	fmt.Fprintf(&b, "date = %s\nplace = %s\ncurrency = %s\n", p.Date.Format(time.DateOnly), quoted(p.Place), quoted(p.Currency))
	for _, x := range p.Given {
		writePrice(&b, x.Item.String(), x)
	}
	for _, x := range p.Products {
		table := "product." + quoted(x.Name)
		for _, n := range nutrient.Nutrients() {
			if n.Sold() == x.Name {
				// a nutrient without a product is kept under the words by which it is sold
				table = "nutrient." + n.Code()
			}
		}
		writePrice(&b, table, x.Price)
	}
	_, err := io.WriteString(w, b.String())
	return err
}

// writePrice writes a figure in the unit that the user gave, so that the file reads as he wrote it.
func writePrice(b *strings.Builder, table string, x Price) {
	r := x.Shown()
	fmt.Fprintf(b, "\n[%s]\n", table)
	if r.Spread() {
		fmt.Fprintf(b, "low = %s\nlikely = %s\nhigh = %s\n", decimal(r.Low), decimal(r.Likely), decimal(r.High))
	} else {
		fmt.Fprintf(b, "value = %s\n", decimal(r.Likely))
	}
	fmt.Fprintf(b, "unit = %s\nsource = %s\nyear = %d\n", quoted(x.Unit.Name), quoted(x.Source), x.Year)
}

// decimal prints a number as TOML wants a float. Twelve digits are more than any price has, and drop the noise of converting units.
func decimal(x float64) string {
	s := strconv.FormatFloat(x, 'g', 12, 64)
	// a whole number without a point would be an integer of TOML; it reads back the same, but is another type to other readers
	if !strings.ContainsAny(s, ".e") {
		s += ".0"
	}
	return s
}

// quoted writes a basic string of TOML.
func quoted(s string) string {
	var b strings.Builder
	b.WriteByte('"')
	for _, r := range s {
		switch {
		case r == '"' || r == '\\':
			b.WriteByte('\\')
			b.WriteRune(r)
		// control characters may not stand in a basic string as they are
		case r < ' ' || r == 0x7f:
			fmt.Fprintf(&b, `\u%04X`, r)
		default:
			b.WriteRune(r)
		}
	}
	b.WriteByte('"')
	return b.String()
}
