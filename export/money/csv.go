package money

import (
	"io"
	"strconv"

	"rootworthy/export"
	"rootworthy/soils/unit"
	"rootworthy/suitability/economics"
)

// number prints a figure of a table. Four decimals are a hundredth of a cent.
func number(x float64) string { return export.Digits(x, 4) }

// three prints low, likely and high times a scale, by which SI becomes the unit of the column.
func three[T ~float64](r economics.Range[T], scale float64) []string {
	return []string{number(float64(r.Low) * scale), number(float64(r.Likely) * scale), number(float64(r.High) * scale)}
}

// optional prints a range that may be missing as three empty cells.
func optional[T ~float64](r unit.Opt[economics.Range[T]], scale float64) []string {
	if x, ok := r.Get(); ok {
		return three(x, scale)
	}
	return []string{"", "", ""}
}

// one prints a single figure that may be missing.
func one[T ~float64](x unit.Opt[T], of func(T) float64) string {
	if v, ok := x.Get(); ok {
		return number(of(v))
	}
	return ""
}

// figureColumns are the columns of [figureRow].
// Amounts are in the user's currency; _ac is an acre, _st a short ton. P10 and P90 are ends between which 8 draws of 10 lie.
func figureColumns() []string {
	return []string{"sown_ac", "once_low", "once", "once_high", "once_low_ac", "once_ac", "once_high_ac", "gain_year_low_ac", "gain_year_ac", "gain_year_high_ac",
		"value_low", "value", "value_high", "value_low_ac", "value_ac", "value_high_ac", "value_p10", "value_p50", "value_p90", "share_of_draws_above_0", "draws",
		"break_even_yield_st_ac", "break_even_hay_per_st", "break_even_life_years", "years_until_sown_low", "years_until_sown", "years_until_sown_high"}
}

// figureRow prints the figures of a field, a zone or the farm; the tables share these columns, so that they can be laid below one another.
func figureRow(f *economics.Figures) []string {
	acre := float64(unit.Acre)
	out := []string{number(f.Area.Acres())}
	out = append(out, optional(f.Once, 1)...)
	out = append(out, optional(f.OncePerArea(), acre)...)
	out = append(out, optional(f.GainPerArea(), acre)...)
	out = append(out, optional(f.Value, 1)...)
	out = append(out, optional(f.ValuePerArea(), acre)...)
	if d, ok := f.Spread.Get(); ok {
		out = append(out, number(float64(d.P10)), number(float64(d.P50)), number(float64(d.P90)), number(d.Above), strconv.Itoa(d.Draws))
	} else {
		out = append(out, "", "", "", "", "")
	}
	be := f.BreakEven
	out = append(out, one(be.Yield, unit.AreaRate.ShortTonsPerAcre), one(be.Hay, economics.PerMass.PerShortTon), one(be.Life, func(y economics.Years) float64 { return float64(y) }))
	return append(out, optional(f.Lead, 1)...)
}

// writeFields writes a row for each field: its ground worth sowing, and what an acre of suited ground costs.
func (b *Book) writeFields(w io.Writer) error {
	head := append([]string{"field_id", "field_name", "area_ac", "currency", "why_not"}, figureColumns()...)
	t := export.NewTable(w, append(head, "suited_priced_ac", "suited_unpriced_ac", "once_low_suited_ac", "once_suited_ac", "once_high_suited_ac")...)
	for i := range b.Study.Fields {
		f, run := &b.Study.Fields[i], &b.Run.Fields[i]
		row := append([]string{f.ID, run.Name, number(run.Area.Acres()), b.Study.Prices.Currency, f.Why}, figureRow(&f.Figures)...)
		row = append(row, number(f.Suited.Acres()), number(f.Unpriced.Acres()))
		t.Row(append(row, optional(f.PerSuited, float64(unit.Acre))...)...)
	}
	return t.Close()
}

// writeZones writes a row for each zone, as if it were sown alone.
func (b *Book) writeZones(w io.Writer) error {
	head := []string{"zone_id", "field_id", "zone", "area_ac", "class", "currency", "worth_sowing", "why_not", "life_low_years", "life_years", "life_high_years", "lime_is_a_floor", "lime_left_out", "once_by_year_low_ac", "once_by_year_ac", "once_by_year_high_ac"}
	t := export.NewTable(w, append(head, figureColumns()...)...)
	for i := range b.Study.Zones {
		z, run := &b.Study.Zones[i], &b.Run.Zones[i]
		row := []string{z.ID, z.FieldID, strconv.Itoa(run.Number), number(run.Area.Acres()), z.Class.String(), b.Study.Prices.Currency, export.YesNo(z.Sow), z.Why}
		// Ground that cannot be sown has no stand, and so no life of one.
		life := unit.Opt[economics.Range[economics.Years]]{}
		if z.Area > 0 {
			life = unit.Some(z.Life)
		}
		row = append(append(row, optional(life, 1)...), export.YesNo(z.Floor), export.YesNo(z.NoLime))
		row = append(row, optional(z.ByYear, float64(unit.Acre))...)
		f := z.Figures
		figures := figureRow(&f)
		if !(z.Area > 0) {
			figures[0] = "" // not sown, and not known what it would be
		}
		t.Row(append(row, figures...)...)
	}
	return t.Close()
}

// writeItems writes a row for each zone and item.
func (b *Book) writeItems(w io.Writer) error {
	t := export.NewTable(w, "zone_id", "field_id", "class", "worth_sowing", "item", "what", "part", "amount_low", "amount", "amount_high", "amount_unit", "price_low", "price", "price_high", "price_unit",
		"money_low_ac", "money_ac", "money_high_ac", "money_low", "money", "money_high", "currency", "source", "year")
	for i := range b.Study.Zones {
		z := &b.Study.Zones[i]
		for _, l := range z.Lines {
			b.itemRow(t, z, l)
		}
	}
	return t.Close()
}

// itemRow is a row of [Book.writeItems].
func (b *Book) itemRow(t *export.Table, z *economics.Zone, l economics.Line) {
	row := []string{z.ID, z.FieldID, z.Class.String(), export.YesNo(z.Sow), l.Item.String(), ItemName(l.Item), partName(l.Item.Part())}
	scale, name := amountUnit(l.Item)
	amounts := optional(l.Amount, scale)
	if !l.Amount.Has() {
		name = ""
	}
	row = append(append(row, amounts...), name)
	x, ok := b.Study.Prices.Of(l.Item)
	if ok && !l.Planned {
		row = append(append(row, three(x.Shown(), 1)...), x.Unit.Name)
	} else {
		row = append(row, "", "", "", "")
		// The cost comes from a plan with many prices; there is no single one to print.
		x = economics.Price{Source: "nutrient plan with the prices of its products"}
	}
	row = append(append(row, three(l.Money, float64(unit.Acre))...), three(l.Money, float64(z.Area))...)
	year := ""
	if x.Year > 0 {
		year = strconv.Itoa(x.Year)
	}
	t.Row(append(row, b.Study.Prices.Currency, x.Source, year)...)
}

// amountUnit is the unit in which an item's amount is written.
// scale turns SI into that unit; an empty name is an amount of 1, such as of drilling, whose price is by the acre already.
func amountUnit(i economics.Item) (scale float64, name string) {
	switch i {
	case economics.Lime, economics.LimeSpreading, economics.Hay, economics.Quality, economics.Harvest:
		return 1 / float64(unit.ShortTonPerAcre), "short tons/ac"
	case economics.RFQPoint:
		return 1 / float64(unit.ShortTonPerAcre), "points × short tons/ac"
	case economics.Seed, economics.Nitrogen, economics.Potash:
		return 1 / float64(unit.PoundPerAcre), "lb/ac"
	case economics.LimePass:
		return 1, "passes"
	}
	return 1, ""
}

// partName says when an item is paid or gained.
func partName(p economics.Part) string {
	switch p {
	case economics.Once:
		return "cost once"
	case economics.Yearly:
		return "cost each year"
	case economics.Gain:
		return "gain each year"
	case economics.Sod:
		return "given up each year"
	}
	return ""
}

// writeBars writes a row for each input: the worth of an acre at its low and high.
func (b *Book) writeBars(w io.Writer) error {
	t := export.NewTable(w, "input", "what", "input_low", "input_likely", "input_high", "input_unit", "value_at_low_ac", "value_ac", "value_at_high_ac", "currency")
	likely := b.Study.Farm.ValuePerArea().Or(economics.Range[economics.PerArea]{}).Likely
	for _, bar := range b.Study.Bars {
		// An input that no price was given for, such as the need of lime, has no low and high of its own to print.
		row := []string{bar.Input.String(), ItemName(bar.Input), "", "", "", ""}
		if x, ok := b.Study.Prices.Of(bar.Input); ok {
			row = append(append(row[:2], three(x.Shown(), 1)...), x.Unit.Name)
		}
		t.Row(append(row, number(bar.Low.PerAcre()), number(likely.PerAcre()), number(bar.High.PerAcre()), b.Study.Prices.Currency)...)
	}
	return t.Close()
}
