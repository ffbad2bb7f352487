// Package bench makes fields for measuring: as many as wanted over any ground, the same ones every time. Its
// benchmarks run the whole job on a real county.
package bench
