package surveypack

import (
	"encoding/json"
	"errors"
	"fmt"
	"io"

	"github.com/paulmach/orb"

	"rootworthy/soils"
)

// Schema is the version of the form; a pack of another version has to be made again.
const Schema = 2

// The files of a pack.
const (
	mapFile      = "map.blocks"
	unitsFile    = "units.jsonl"
	indexFile    = "units.index"
	manifestFile = "pack.json"
)

// Files lists the files of a pack; the last marks it as complete.
func Files() []string { return []string{mapFile, unitsFile, indexFile, manifestFile} }

// Info says what a pack holds and where it came from.
type Info struct {
	Kind     string       `json:"rootworthy"` // "survey pack"
	Schema   int          `json:"schema"`
	Made     string       `json:"made"`    // date, "2026-11-25"
	Program  string       `json:"program"` // name and version
	Plane    string       `json:"plane"`   // in which the polygons stand
	Extent   orb.Bound    `json:"extent"`  // longitude, latitude
	Areas    []soils.Area `json:"survey_areas"`
	Sources  []Source     `json:"sources"`
	UnitsKey string       `json:"units_key,omitempty"` // column of the key in their polygons, where the user named one
	Polygons int          `json:"polygons"`
	Units    int          `json:"map_units"`
	// CRC-32C of units.index; the other files hold their own checksums, by line and by block
	Index uint32 `json:"index_crc32c"`
}

// Source is a survey that went into a pack.
type Source struct {
	Path   string `json:"path"` // as the user named it, to make the pack again from
	SHA256 string `json:"sha256"`
	Tables bool   `json:"tables,omitempty"` // read for its tables alone, whatever polygons it has
}

// kind stands in every pack, so that a pack.json of something else is not taken for one.
const kind = "survey pack"

// ErrDamaged says that a pack is not what was written and has to be made again.
var ErrDamaged = errors.New("the survey pack is damaged and must be made again")

// readManifest reads pack.json.
func readManifest(r io.Reader) (Info, error) {
	var info Info
	// 16 MB: a name and a few dates for each survey area of the country fit many times over.
	if err := json.NewDecoder(io.LimitReader(r, 1<<24)).Decode(&info); err != nil {
		return info, fmt.Errorf("%s: %w: %w", manifestFile, ErrDamaged, err)
	}
	// No damage: a file of that name that was never of a pack.
	if info.Kind != kind {
		return info, fmt.Errorf("%s: is not of a survey pack", manifestFile)
	}
	// Neither older nor newer is read: a pack can be made again from its sources at any time, so no old form need be kept
	// alive.
	if info.Schema != Schema {
		return info, fmt.Errorf("%s: the pack has form %d and this program reads %d; make it again with survey pack", manifestFile, info.Schema, Schema)
	}
	return info, nil
}
