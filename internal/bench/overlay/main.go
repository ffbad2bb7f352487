// Command overlay times the overlay of fields with a survey coverage on the benchmark's files, with the code that the
// program ships:
//
//	overlay --coverage survey.rwp --fields fields.rwp --threads 1 --areas out.areas
//
// It prints one line of JSON. What is timed begins with plain float64 rings in memory and ends with the last piece:
// snapping, validity, index, overlay, shapes and areas.
package main

import (
	"context"
	"encoding/binary"
	"encoding/json"
	"flag"
	"fmt"
	"math"
	"os"
	"runtime"
	"runtime/debug"
	"runtime/pprof"
	"slices"
	"syscall"
	"time"

	"github.com/paulmach/orb"

	"rootworthy/internal/geo/overlay"
)

type report struct {
	Peer       string  `json:"peer"`
	Threads    int     `json:"threads"`
	Fields     int     `json:"n_fields"`
	Polygons   int     `json:"n_polygons"`
	Pieces     int     `json:"n_pieces"`
	Parts      int     `json:"n_parts"`
	Area       float64 `json:"area_sum_m2"`
	Weighted   float64 `json:"area_wsum"`
	Index      float64 `json:"index_seconds"`
	Seconds    float64 `json:"seconds"`
	CPU        float64 `json:"cpu_seconds"`
	PeakMB     int64   `json:"peak_rss_mb"`
	Unresolved int     `json:"unresolved"`
}

func main() {
	coverage := flag.String("coverage", "", "survey polygons")
	fields := flag.String("fields", "", "field polygons")
	threads := flag.Int("threads", 1, "goroutines")
	areas := flag.String("areas", "", "file for area and pieces of each field")
	profile := flag.String("cpuprofile", "", "file for a profile of the timed part")
	repeat := flag.Int("repeat", 1, "with cpuprofile: how often to do it all")
	flag.Parse()
	if err := run(*coverage, *fields, *threads, *areas, *profile, *repeat); err != nil {
		fmt.Fprintln(os.Stderr, err)
		os.Exit(1)
	}
}

// addAtOnce is how many survey polygons are added, and then let go of, at a time.
const addAtOnce = 1 << 14

// memoryLimit is from where on the collector works harder instead of letting garbage lie: only the largest file gets
// there.
const memoryLimit = 1400 << 20

func run(coverage, fields string, threads int, areas, profile string, repeat int) error {
	runtime.GOMAXPROCS(threads) // or the collector would have a core for nothing while one goroutine is timed
	debug.SetMemoryLimit(memoryLimit)
	survey, err := readPolygons(coverage)
	if err != nil {
		return err
	}
	land, err := readPolygons(fields)
	if err != nil {
		return err
	}
	runtime.GC() // what reading left behind is not ours to clean up within the time
	if profile != "" {
		f, err := os.Create(profile)
		if err != nil {
			return err
		}
		defer f.Close()
		if err := pprof.StartCPUProfile(f); err != nil {
			return err
		}
		defer pprof.StopCPUProfile()
	}
	for range repeat - 1 {
		if _, _, err := cut(cloned(survey), land, threads); err != nil {
			return err
		}
	}
	r, sums, err := cut(survey, land, threads)
	if err != nil {
		return err
	}
	if areas != "" {
		if err := os.WriteFile(areas, sums, 0o644); err != nil {
			return err
		}
	}
	return json.NewEncoder(os.Stdout).Encode(r)
}

// cloned returns a copy that may be given away.
func cloned(survey []orb.MultiPolygon) []orb.MultiPolygon {
	survey = slices.Clone(survey)
	for i := range survey {
		survey[i] = survey[i].Clone()
	}
	return survey
}

// cut is the timed part. sums holds area and number of pieces of each field. Survey polygons are let go as they are
// added.
func cut(survey, land []orb.MultiPolygon, threads int) (r report, sums []byte, err error) {
	r = report{Peer: "ours", Threads: threads, Fields: len(land), Polygons: len(survey)}
	sums = make([]byte, 0, 12*len(land))
	start, cpu := time.Now(), cpuSeconds()
	cov := overlay.New()
	keys := make([]uint32, len(survey))
	for i := range keys {
		keys[i] = uint32(i)
	}
	for from := 0; from < len(survey); from += addAtOnce {
		to := min(from+addAtOnce, len(survey))
		if err := cov.TakeAll(keys[from:to], survey[from:to], threads); err != nil {
			return r, nil, err
		}
		clear(survey[from:to])
	}
	cov.Prepare()
	r.Index = time.Since(start).Seconds()
	each := func(yield func(int, orb.MultiPolygon) bool) {
		for i, shape := range land {
			if !yield(i, shape) {
				return
			}
		}
	}
	err = cov.Run(context.Background(), each, overlay.Options{Workers: threads, Reuse: true}, func(c overlay.Cut) error {
		area := c.Slivers
		for _, p := range c.Pieces {
			area += p.Area
			r.Parts += len(p.Shape)
		}
		r.Pieces += len(c.Pieces)
		r.Unresolved += c.Rebuilt // pieces that took the slow path
		r.Area += area
		r.Weighted += area * float64(c.Field%97+1)
		sums = binary.LittleEndian.AppendUint64(sums, math.Float64bits(area))
		sums = binary.LittleEndian.AppendUint32(sums, uint32(len(c.Pieces)))
		return nil
	})
	r.Seconds, r.CPU = time.Since(start).Seconds(), cpuSeconds()-cpu
	r.PeakMB = usage().Maxrss / 1024 // Linux counts in KiB; the highest so far, reading the files included
	return r, sums, err
}

func usage() (u syscall.Rusage) {
	syscall.Getrusage(syscall.RUSAGE_SELF, &u)
	return u
}

func cpuSeconds() float64 {
	u := usage()
	return float64(u.Utime.Sec+u.Stime.Sec) + float64(u.Utime.Usec+u.Stime.Usec)/1e6
}
