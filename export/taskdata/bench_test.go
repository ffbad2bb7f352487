package taskdata_test

import (
	"io"
	"math"
	"testing"

	"github.com/paulmach/orb"

	"rootworthy/export/taskdata"
	"rootworthy/internal/diag"
	"rootworthy/suitability"
)

// BenchmarkMillionCells plans and writes a grid of a million cells over a field of 15,625 zones.
func BenchmarkMillionCells(b *testing.B) {
	benchmark(b, quilt(125), taskdata.Options{MaxCells: 1200, Machine: taskdata.Machine{Width: 4}})
}

// BenchmarkTenThousandZones joins 10,000 zones that the spreader cannot follow and writes the usual grid.
func BenchmarkTenThousandZones(b *testing.B) {
	benchmark(b, quilt(100), taskdata.Options{Machine: taskdata.Machine{Smallest: 2500}})
}

// BenchmarkThousandFields writes a task for each of a thousand fields.
func BenchmarkThousandFields(b *testing.B) {
	benchmark(b, farm(b, 1000), taskdata.Options{})
}

// BenchmarkReadMillionCells reads a file of a million cells back and adds it up.
func BenchmarkReadMillionCells(b *testing.B) {
	all := written(b, plan(b, quilt(125), taskdata.Options{MaxCells: 1200, Machine: taskdata.Machine{Width: 4}}))
	b.ReportAllocs()
	for b.Loop() {
		var faults diag.List
		f, err := taskdata.Read("made", all, &faults)
		if err != nil {
			b.Fatal(err)
		}
		if _, err := f.Effects(&faults); err != nil {
			b.Fatal(err)
		}
	}
}

// benchmark plans a run and writes all its files into nothing, and reports how many cells that were.
func benchmark(b *testing.B, r *suitability.Result, o taskdata.Options) {
	b.ReportAllocs()
	cells := 0
	for b.Loop() {
		p := plan(b, r, o)
		for _, f := range p.Files() {
			if err := p.WriteFile(f, io.Discard); err != nil {
				b.Fatal(err)
			}
		}
		cells = 0
		for _, t := range p.Tasks {
			cells += t.Frame.Rows * t.Frame.Columns
		}
	}
	b.ReportMetric(float64(cells), "cells")
}

// quilt is a field of n × n zones of about 40 × 40 m with wavy borders.
func quilt(n int) *suitability.Result {
	var m made
	const side = 40
	wave := func(i, j float64) (x, y float64) {
		return side*i + 8*math.Sin(3*j+i), side*j + 8*math.Sin(3*i+2*j)
	}
	line := func(i0, j0, i1, j1 float64, xy []float64) []float64 {
		for k := range 10 {
			t := float64(k) / 10
			x, y := wave(i0+t*(i1-i0), j0+t*(j1-j0))
			xy = append(xy, x, y)
		}
		return xy
	}
	outline := func(i, j, n float64) orb.Polygon {
		var xy []float64
		for _, e := range [][4]float64{{0, 0, 1, 0}, {1, 0, 1, 1}, {1, 1, 0, 1}, {0, 1, 0, 0}} {
			xy = line(i+n*e[0], j+n*e[1], i+n*e[2], j+n*e[3], xy)
		}
		return orb.Polygon{ring(xy...)}
	}
	m.field("A", "Quilt", rect(-10, -10, float64(side*n)+10, float64(side*n)+10))
	for i := range n {
		for j := range n {
			m.zone(float64((i*7+j*13)%12)/4, tested, outline(float64(i), float64(j), 1))
		}
	}
	return &m.r
}
