package suitability

import (
	"bytes"
	_ "embed"
	"fmt"
	"io"

	"rootworthy/internal/diag"
	"rootworthy/internal/tomltext"
)

//go:embed profiles/alfalfa-warm-season-sod.toml
var alfalfaSod []byte

// mostProfile is the largest profile read: forty times the one that comes with the program.
const mostProfile = 512 << 10

// LoadProfile reads a crop profile in TOML. All faults go into faults, each with its line; a key that is not known
// is a fault that names the nearest one that is. When there was any fault the profile is nil and the error nil; the
// error means that r could not be read.
func LoadProfile(name string, r io.Reader, faults *diag.List) (*Profile, error) {
	text, err := io.ReadAll(io.LimitReader(r, mostProfile+1))
	if err != nil {
		return nil, fmt.Errorf("%s: %w", name, err)
	}
	if len(text) > mostProfile {
		faults.Add(diag.Fault{File: name, Kind: "too large", What: fmt.Sprintf("the file is larger than %d KiB", mostProfile>>10),
			Fix: "give a crop profile, not another file"})
		return nil, nil
	}
	d, ok := tomltext.Parse(name, text, "give a crop profile, not another file", faults)
	if !ok {
		return nil, nil
	}
	p := readProfile(table{d, "", d.Root})
	if d.Told > 0 {
		return nil, nil
	}
	return p, nil
}

// DefaultProfile returns the profile that comes with the program: alfalfa into warm-season sod.
func DefaultProfile() *Profile {
	var faults diag.List
	p, err := LoadProfile("alfalfa-warm-season-sod.toml", bytes.NewReader(alfalfaSod), &faults)
	if err != nil || p == nil { // the text is part of the program and a test reads it
		panic("the embedded crop profile does not read:\n" + faults.String())
	}
	return p
}

// DefaultProfileText returns the TOML of [DefaultProfile], for a user to copy and edit.
func DefaultProfileText() string { return string(alfalfaSod) }

func readProfile(t table) *Profile {
	t.only("name", "edition", "drainage", "flooding", "ponding", "depth", "water_table", "ph_surface", "ph_subsoil",
		"salinity", "sodicity", "available_water", "slope", "rules", "lime", "target", "window")
	p := &Profile{Name: t.text("name"), Edition: t.text("edition")}
	p.Drainage = readWords(t.table("drainage"), drainageWords(), "words")
	p.Flooding = readWords(t.table("flooding"), frequencyWords(), "words", "long")
	p.LongFlooding = readFigure(t.table("flooding"), "long", "score", 0, 100)
	p.Ponding = readWords(t.table("ponding"), frequencyWords(), "words")
	for _, c := range []struct {
		key, unit string
		into      *Curve
	}{
		{"depth", "cm", &p.Depth}, {"water_table", "cm", &p.WaterTable}, {"ph_surface", "pH", &p.SurfacePH},
		{"ph_subsoil", "pH", &p.SubsoilPH}, {"salinity", "dS/m", &p.Salinity}, {"sodicity", "SAR", &p.Sodicity},
		{"available_water", "mm", &p.AvailableWater}, {"slope", "%", &p.Slope},
	} {
		*c.into = readCurve(t.table(c.key), c.unit)
	}
	p.Rules = readRules(t.table("rules"))
	p.Lime = readLime(t.table("lime"))
	p.Targets = readTargets(t, p.Lime.TargetLeast.Value)
	p.Windows = readWindows(t)
	return p
}
