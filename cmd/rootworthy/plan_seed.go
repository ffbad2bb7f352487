package main

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"os"
	"strings"

	"github.com/pelletier/go-toml/v2"

	"rootworthy/export/grower"
	"rootworthy/internal/diag"
	"rootworthy/soils/unit"
	"rootworthy/suitability/season"
	"rootworthy/suitability/seedplan"
	"rootworthy/suitability/variety"
)

// seedTag is the file of --seed-tag: what the tag says, and how the seed is to be sown. Percents as printed.
type seedTag struct {
	Purity      float64 `toml:"purity_pct"`
	Germination float64 `toml:"germination_pct"`
	HardSeed    float64 `toml:"hard_seed_pct"`
	Coating     float64 `toml:"coating_pct"`
	BareSeed    bool    `toml:"purity_of_bare_seed"`
	CountHard   bool    `toml:"count_hard_seed"`
	SeedsPerLb  float64 `toml:"seeds_per_lb"`
	BagLb       float64 `toml:"bag_lb"`
	Inoculated  bool    `toml:"inoculated"`
	Molybdenum  bool    `toml:"molybdenum"`
	RateLb      float64 `toml:"rate_pls_lb_ac"`
	RowsIn      float64 `toml:"rows_in"`
	Method      string  `toml:"method"`
	// A pointer, since a reserve of 0 is a decision and an absent one takes the usual.
	ReservePct    *float64 `toml:"reserve_pct"`
	InoculantLb   float64  `toml:"inoculant_lb_per_package"`
	InoculantDate string   `toml:"inoculant_expires"`
}

// mostTag is how large a tag's file may be.
const mostTag = 1 << 16

// readSeedTag reads the file; what is wrong is told with its line.
func readSeedTag(name string, r io.Reader) (t seedTag, err error) {
	// Longer text is cut off, and then most likely no TOML any more, which is told.
	text, err := io.ReadAll(io.LimitReader(r, mostTag))
	if err != nil {
		return t, err
	}
	d := toml.NewDecoder(bytes.NewReader(text)).DisallowUnknownFields()
	err = d.Decode(&t)
	var strange *toml.StrictMissingError
	var wrong *toml.DecodeError
	switch {
	case errors.As(err, &strange):
		line, _ := strange.Errors[0].Position()
		key := strings.Join(strange.Errors[0].Key(), ".")
		return t, fmt.Errorf("%s:%d: there is no key %q; the keys are purity_pct, germination_pct, hard_seed_pct, coating_pct, purity_of_bare_seed, count_hard_seed, "+
			"seeds_per_lb, bag_lb, inoculated, molybdenum, rate_pls_lb_ac, rows_in, method, reserve_pct, inoculant_lb_per_package and inoculant_expires", name, line, key)
	case errors.As(err, &wrong):
		line, _ := wrong.Position()
		if key := strings.Join(wrong.Key(), "."); key != "" { // the text of the library speaks of Go's types
			return t, fmt.Errorf("%s:%d: %s: write %s", name, line, key, tagValue(key))
		}
		return t, fmt.Errorf("%s:%d: %s", name, line, strings.TrimPrefix(wrong.Error(), "toml: "))
	}
	return t, err
}

// tagValue says how the value of a key is written.
func tagValue(key string) string {
	switch key {
	case "purity_of_bare_seed", "count_hard_seed", "inoculated", "molybdenum":
		return "true or false, without quotes"
	case "method", "inoculant_expires":
		return "text in quotes"
	}
	return "a number without quotes"
}

// tag turns the file into the label.
// Keys that are left out are 0, which the seed plan reads as not printed.
func (t seedTag) tag() seedplan.Tag {
	return seedplan.Tag{Purity: unit.Percent(t.Purity), Germination: unit.Percent(t.Germination), HardSeed: unit.Percent(t.HardSeed), Coating: unit.Percent(t.Coating),
		BareSeed: t.BareSeed, CountHard: t.CountHard, Seeds: unit.PerMass(t.SeedsPerLb) * unit.PerPound, Bag: unit.Mass(t.BagLb) * unit.Pound,
		Inoculated: t.Inoculated, Molybdenum: t.Molybdenum}
}

// options turns the file into options of the seed plan.
func (t seedTag) options() (o seedplan.Options, err error) {
	o = seedplan.Options{Tag: t.tag(), Method: seedplan.Method(t.Method), Rate: unit.PoundsPerAcre(t.RateLb), Spacing: unit.Inches(t.RowsIn),
		Inoculant: seedplan.Inoculant{PerPackage: unit.Mass(t.InoculantLb) * unit.Pound}}
	if t.ReservePct != nil {
		o.Reserve = unit.Some(unit.Percent(*t.ReservePct))
	}
	if t.InoculantDate != "" {
		if o.Inoculant.Expires, err = season.ParseDay(t.InoculantDate); err != nil {
			return o, fmt.Errorf("inoculant_expires: %w", err)
		}
	}
	return o, o.Check()
}

// seeds makes the seed plan of all ground that is to be sown, and reads the table of varieties. Without a tag seed is counted as pure live
// seed alone.
func (f *planFlags) seeds(farm *grower.Farm, faults *diag.List) error {
	// Purity and germination of 100 make a pound of seed a pound of pure live seed, so the rate can be told without knowing the lot.
	o := seedplan.Options{Tag: seedplan.Tag{Purity: 100, Germination: 100}}
	if f.tag != "" {
		file, err := os.Open(f.tag)
		if err != nil {
			return err
		}
		defer file.Close()
		t, err := readSeedTag(baseName(f.tag), file)
		if err != nil {
			return err
		}
		if o, err = t.options(); err != nil {
			return fmt.Errorf("%s: %w", baseName(f.tag), err)
		}
		farm.Tag = &o.Tag
	}
	var zones []seedplan.Zone
	for _, z := range farm.Zones {
		// Only ground with a plan is sown, and what is sown already needs no seed.
		if z.Why != "" || z.Sown() {
			continue
		}
		zones = append(zones, seedplan.Zone{ID: z.ID, FieldID: z.FieldID, Area: z.Area})
	}
	o.Sown = farm.NextSowing()
	farm.Seed = seedplan.Make(zones, o)
	return f.openVarieties(farm, faults)
}

// openVarieties reads the user's table and makes the short list.
func (f *planFlags) openVarieties(farm *grower.Farm, faults *diag.List) error {
	if f.varieties == "" {
		return nil
	}
	file, err := os.Open(f.varieties)
	if err != nil {
		return err
	}
	defer file.Close()
	t, ok, err := variety.Read(baseName(f.varieties), file, faults)
	if err != nil || !ok {
		return err
	}
	farm.Varieties, farm.Diseases = variety.ShortList(t, variety.Need{}), t.Diseases
	return nil
}
