package economics

import (
	"bytes"
	"fmt"
	"io"
	"slices"
	"strings"

	"rootworthy/internal/diag"
	"rootworthy/internal/tomltext"
)

// mostPrices is the largest file read: a hundred times one that gives everything.
const mostPrices = 512 << 10

// ReadPrices reads a file of prices in TOML:
//
//	date     = 2026-11-25
//	place    = "where the prices hold"
//	currency = "USD"
//
//	[lime]
//	low    = 38
//	likely = 45
//	high   = 60                      # or value = 45 alone
//	unit   = "per short ton"
//	source = "who said so"
//	year   = 2026
//
// Each table is one of [Items]; fertilizers stand as [product."0-0-60"] by the name that the nutrient plan has for them, nutrients without a
// product as [nutrient.k]. Every figure names its unit, its source and its year: one that lacks any is a fault. All faults go into faults,
// each with its line. When there was any the prices are nil and the error nil; the error means that r could not be read.
func ReadPrices(name string, r io.Reader, faults *diag.List) (*Prices, error) {
	text, err := io.ReadAll(io.LimitReader(r, mostPrices+1))
	if err != nil {
		return nil, fmt.Errorf("%s: %w", name, err)
	}
	const instead = "give a file of prices, not another file"
	if len(text) > mostPrices {
		faults.Add(diag.Fault{File: name, Kind: "too large", What: fmt.Sprintf("the file is larger than %d KiB", mostPrices>>10), Fix: instead})
		return nil, nil
	}
	parsed, ok := tomltext.Parse(name, text, instead, faults)
	if !ok {
		return nil, nil
	}
	p := priceText{parsed}.prices(parsed.Root)
	if parsed.Told > 0 {
		return nil, nil
	}
	// without the byte order mark that some editors write
	p.Text = string(bytes.TrimPrefix(text, []byte("\xef\xbb\xbf")))
	return p, nil
}

// topKeys are those that are no item.
func topKeys() []string { return []string{"date", "place", "currency", "product", "nutrient"} }

// prices reads the whole file.
func (d priceText) prices(root map[string]any) *Prices {
	p := &Prices{Name: d.Name, Date: d.date(root), Place: d.text(root, "", "place"), Currency: d.text(root, "", "currency")}
	// in the order of items and not of the file: a map has none, and reports want this one
	known := topKeys()
	for _, i := range Items() {
		known = append(known, i.String())
		if raw, ok := root[i.String()]; ok {
			if x, ok := d.price(raw, i.String(), i, p); ok {
				p.Given = append(p.Given, x)
			}
		}
	}
	d.unknown(root, "", known)
	d.products(root, p)
	// two ways to give one thing: where both stand, the sum would hold it twice and nobody could see it
	d.twice(p, Quality, RFQPoint, "the gain in quality would count twice")
	d.twice(p, Upkeep, Potash, "the potash that hay takes off would count twice")
	d.twice(p, SodBeforeNitrogen, SodAfterNitrogen, "the sod can earn only once")
	return p
}

// twice reports two items of which only one may be given.
func (d priceText) twice(p *Prices, a, b Item, why string) {
	if p.Has(a) && p.Has(b) {
		d.Fault(b.String(), "given twice", "keep "+a.String()+" or "+b.String(), "%s and %s are both given: %s", a, b, why)
	}
}

// price reads one table.
func (d priceText) price(raw any, path string, i Item, p *Prices) (x Price, ok bool) {
	t, ok := raw.(map[string]any)
	if !ok {
		d.Fault(path, "wrong type", "write ["+path+"] on a line of its own, and under it value, unit, source and year", "%s is not a table", path)
		return x, false
	}
	// the getters tell and go on with a zero; the price is good only where nothing was told meanwhile
	before := d.Told
	d.unknown(t, path, []string{"value", "low", "likely", "high", "unit", "source", "year"})
	x = Price{Item: i, Unit: d.unit(t, path, i), Source: d.text(t, path, "source"), Year: d.year(t, path, p), Line: d.Line(path)}
	shown := d.figure(t, path, i, x.Unit)
	x.Value = shown.Times(x.Unit.Scale)
	return x, d.Told == before
}

// unit reads the unit; the first is returned where it is wrong.
func (d priceText) unit(t map[string]any, path string, i Item) Unit {
	s := d.text(t, path, "unit")
	var names []string
	// compared letter by letter: a unit that is nearly right may be another one
	for _, u := range i.Units() {
		if u.Name == s {
			return u
		}
		names = append(names, fmt.Sprintf("%q", u.Name))
	}
	if s != "" {
		d.Fault(tomltext.Join(path, "unit"), "unit", "write "+strings.Join(names, " or "), "%q is no unit of %s", s, i)
	}
	return i.Units()[0]
}

// figure reads value, or low, likely and high.
func (d priceText) figure(t map[string]any, path string, i Item, u Unit) Range[float64] {
	row := &items[i]
	// the bounds are written in the item's first unit and are wanted in the one that the user chose
	least, most := row.least*row.units[0].Scale/u.Scale, row.most*row.units[0].Scale/u.Scale
	_, one := t["value"]
	var given []string
	for _, k := range []string{"low", "likely", "high"} {
		if _, ok := t[k]; ok {
			given = append(given, k)
		}
	}
	switch {
	case one && len(given) > 0:
		d.Fault(tomltext.Join(path, "value"), "two figures", "keep value, or low, likely and high", "value stands beside %s", strings.Join(given, ", "))
	case one:
		return One(d.number(t, path, "value", least, most))
	case len(given) == 0:
		d.Fault(path, "no figure", "write value = … or low, likely and high; a price that you do not know is left out whole", "%s has no figure", path)
	// an end or two without the rest: the program does not choose where in between the truth lies
	case len(given) < 3:
		d.Fault(tomltext.Join(path, given[0]), "half a range", "write low, likely and high, or value alone", "a range needs low, likely and high; there is only %s", strings.Join(given, ", "))
	default:
		before := d.Told
		r := Range[float64]{d.number(t, path, "low", least, most), d.number(t, path, "likely", least, most), d.number(t, path, "high", least, most)}
		if d.Told == before && !r.valid() {
			d.Fault(tomltext.Join(path, "likely"), "order", "write low ≤ likely ≤ high", "%v, %v, %v do not rise from low to high", r.Low, r.Likely, r.High)
		}
		return r
	}
	return Range[float64]{}
}

// products reads the prices of fertilizers and of nutrients without a product.
func (d priceText) products(root map[string]any, p *Prices) {
	for _, kind := range []string{"product", "nutrient"} {
		raw, ok := root[kind]
		if !ok {
			continue
		}
		t, ok := raw.(map[string]any)
		if !ok {
			d.Fault(kind, "wrong type", "write ["+kind+".NAME]", "%s is not a table of tables", kind)
			continue
		}
		for _, name := range sorted(t) {
			sold, ok := name, true
			// products are called what the user calls them in the plan; nutrients have fixed codes
			if kind == "nutrient" {
				sold, ok = d.nutrient(name)
			}
			if x, good := d.price(t[name], tomltext.Join(kind, name), Seed, p); good && ok { // by mass, like seed
				x.Item = Fertilizer
				p.Products = append(p.Products, Product{sold, x})
			}
		}
	}
	slices.SortStableFunc(p.Products, func(a, b Product) int { return strings.Compare(a.Name, b.Name) })
}
