package taskdata

import (
	"io/fs"

	"github.com/paulmach/orb"

	"rootworthy/soils/unit"
)

// File is task data as read. Ids are as they stand in it.
type File struct {
	Name       string // as the user named it
	XML        string // the same with the way to TASKDATA.XML in it
	Version    string // "3.3"
	Software   string // what wrote it
	FromFarm   bool   // by farm software, not by a controller
	Boundaries []Boundary
	Products   []Named
	Displays   []Named // VPN: id and unit
	Tasks      []FileTask
	fsys       fs.FS
	top        string // path of TASKDATA.XML
}

// Named is a thing with an id and a name.
type Named struct{ ID, Name string }

// Boundary is a field with its outline; the outline may be missing.
type Boundary struct {
	ID, Name string
	Area     unit.Area // as the file says; 0 when it does not
	Shape    orb.MultiPolygon
}

// FileTask is a task of a file.
type FileTask struct {
	ID, Name, Field        string // Field is the id of a boundary; "" for none
	Line                   int
	Status                 int // 1 planned, 4 completed
	Default, Lost, Outside int // zone codes; -1 when the file names none
	Zones                  []TreatmentZone
	Grid                   *Grid    // nil when there is none, or none that can be read
	Broken                 bool     // there is a grid that cannot be read; why stands in the faults
	Logs                   []string // names of time logs; [File.Logged] reads them
}

// TreatmentZone is a zone code with what it puts on, and its outline if it has one.
type TreatmentZone struct {
	Code   int
	Name   string
	Values []Setting
	Shape  orb.MultiPolygon
}

// Setting is one value of a zone.
type Setting struct {
	DDI              DDI
	Value            int32
	Product, Display string // ids
}

// Zone returns the zone of a code.
func (t *FileTask) Zone(code int) (*TreatmentZone, bool) {
	for i := range t.Zones {
		if t.Zones[i].Code == code {
			return &t.Zones[i], true
		}
	}
	return nil, false
}

// Boundary returns the field of a task, nil when the file has none.
func (f *File) Boundary(t *FileTask) *Boundary {
	for i := range f.Boundaries {
		if f.Boundaries[i].ID == t.Field && t.Field != "" {
			return &f.Boundaries[i]
		}
	}
	return nil
}

// mass returns the first setting that is a mass on an area, or else the first of all; ok is false when there is none.
// index is the layer of a grid's cell that holds the value.
func (z *TreatmentZone) mass() (index int, s Setting, ok bool) {
	for i, s := range z.Values {
		if s.DDI.IsMass() {
			return i, s, true
		}
	}
	if len(z.Values) == 0 {
		return 0, s, false
	}
	return 0, z.Values[0], true
}
