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

// mostProfile is the largest profile read: forty times the one that comes with the program. The text is held whole in memory; a survey or
// a picture given by mistake is refused before that.
const mostProfile = 512 << 10

// LoadProfile reads a crop profile in TOML. All faults go into faults, each with its line; a key that is not known
// is a fault that names the nearest one that is. When there was any fault the profile is nil and the error nil; the
// error means that r could not be read.
func LoadProfile(name string, r io.Reader, faults *diag.List) (*Profile, error) {
	// one byte more than is allowed, so that too long and just long enough can be told apart
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
	// a profile with a hole would rate ground by a zero that nobody chose: all faults are told, and none of it is used
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

// readProfile reads every table, whatever was wrong with those before: the user mends all faults in one go. The units are fixed key by
// key, and no table is optional but the lists of targets and windows.
func readProfile(t table) *Profile {
	// a key that is not listed would be a limit that the user believes in and nothing obeys
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
	// after the lime rules: a state's target may not be under the least that they allow
	p.Targets = readTargets(t, p.Lime.TargetLeast.Value)
	p.Windows = readWindows(t)
	return p
}
