package exchange_test

import (
	"context"
	"errors"
	"strings"
	"testing"

	"rootworthy/export"
	"rootworthy/export/exchange"
	"rootworthy/export/quillmoor"
	"rootworthy/soils/unit"
	"rootworthy/suitability"
)

var errFull = errors.New("no space left on device")

// full takes some bytes and then has no room.
type full struct{ room int }

func (f *full) Write(b []byte) (int, error) {
	if len(b) > f.room {
		n := f.room
		f.room = 0
		return n, errFull
	}
	f.room -= len(b)
	return len(b), nil
}

// A disk that fills up at any place is told, by every format; nobody takes half a file for a whole one.
func TestAFullDiskIsTold(t *testing.T) {
	s := setOf(t, vanishing(), exchange.Options{})
	for name, whole := range written(t, s, 2) {
		for _, room := range []int{0, 1, 100, len(whole) / 3, len(whole) / 2, len(whole) - 1} {
			if err := s.WriteFile(t.Context(), name, &full{room}); !errors.Is(err, errFull) {
				t.Errorf("%s with room for %d of %d bytes: %v", name, room, len(whole), err)
			}
		}
	}
}

// Every format gives up with the cause it was stopped by, and so does the drawing of cells, which comes before any file.
func TestInterruptedWorkIsGivenUp(t *testing.T) {
	s := setOf(t, odd(), exchange.Options{})
	cause := errors.New("told to stop")
	ctx, stop := context.WithCancelCause(t.Context())
	stop(cause)
	for _, name := range s.Files() {
		if err := s.WriteFile(ctx, name, &full{1 << 30}); !errors.Is(err, cause) {
			t.Errorf("%s: %v", name, err)
		}
	}
	if _, err := exchange.New(ctx, odd(), export.Sentences{}, exchange.Options{}); !errors.Is(err, cause) {
		t.Errorf("drawing cells: %v", err)
	}
}

// Faults of the order are told before a file is begun. Without shapes a raster has nothing to show, while tables and layers keep their
// rows.
func TestWhatCannotBeConvertedIsRefused(t *testing.T) {
	none := quillmoor.Result()
	none.Zones, none.Fields = nil, nil
	bare := quillmoor.Result()
	for i := range bare.Zones {
		bare.Zones[i].Shape = nil
	}
	for _, c := range []struct {
		name string
		r    *suitability.Result
		o    exchange.Options
		want string
	}{
		{"no zones", none, exchange.Options{}, "no zones"},
		{"no format of that name", odd(), exchange.Options{Formats: []string{"csv", "papyrus"}}, `no format "papyrus"`},
		{"no shapes for a raster", bare, exchange.Options{Formats: []string{"cog"}}, "no zone has a shape"},
		{"cells under a hand's breadth", odd(), exchange.Options{Cell: unit.Length(0.01)}, "too small"},
		{"too many cells", many(2000), exchange.Options{Cell: unit.Length(0.1)}, "give a larger cell"},
	} {
		if _, err := exchange.New(t.Context(), c.r, export.Sentences{}, c.o); err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%s: %v, want %q", c.name, err, c.want)
		}
	}
	s := setOf(t, bare, exchange.Options{Formats: []string{"csv", "geojson", "shapefile", "geopackage", "flatgeobuf", "geoparquet", "kml"}})
	written(t, s, 2) // without shapes they are tables still
}
