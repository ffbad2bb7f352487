package uncertainty

import (
	"hash/fnv"
	"math/rand/v2"
)

// luck is what zones share: where in its range each soil lies, and how far lime needs lie from the table. The survey wrote one
// range for a soil, wherever it is mapped; if the ground is at its low end here, it is likely so beside the fence too. So draw n
// of one zone goes with draw n of another, and sums over a field are as wide as they must be.
type luck struct {
	seed  uint64
	known map[string]*fortune
}

// fortune is one thing that lies at the same step of its range in draw n of every zone.
type fortune struct {
	rand *rand.Rand
	at   []uint16
}

// of returns the fortune of a name; equal names share it.
func (l *luck) of(name string) *fortune {
	f := l.known[name]
	if f == nil {
		h := fnv.New64a()
		h.Write([]byte(name))
		// by name, so that a fortune does not hang on which zone asked for it first
		f = &fortune{rand: rand.New(rand.NewPCG(l.seed, h.Sum64()))}
		l.known[name] = f
	}
	return f
}

// step returns the step in draw n, counted from 0.
func (f *fortune) step(n int) int {
	// kept, since zones ask for the same draw one after another
	for len(f.at) <= n {
		f.at = append(f.at, uint16(f.rand.IntN(steps)))
	}
	return int(f.at[n])
}

// middle is where along its range a step lies, 0…1.
func middle(step int) float64 { return (float64(step) + 0.5) / steps }
