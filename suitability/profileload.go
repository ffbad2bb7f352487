package suitability

import (
	"io"

	"rootworthy/internal/diag"
)

// LoadProfile reads a crop profile in TOML. All faults go into faults, each with its line; a key that is not known
// is a fault that names the nearest one that is. When there was any fault the profile is nil and the error nil; the
// error means that r could not be read.
func LoadProfile(name string, r io.Reader, faults *diag.List) (*Profile, error) { return nil, nil }

// DefaultProfile returns the profile that comes with the program: alfalfa into warm-season sod.
func DefaultProfile() *Profile { return &Profile{} }

// DefaultProfileText returns the TOML of [DefaultProfile], for a user to copy and edit.
func DefaultProfileText() string { return "" }
