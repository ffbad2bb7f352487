package main

import (
	"fmt"
	"io"
	"math"
	"math/rand/v2"

	"rootworthy/suitability"
	"rootworthy/suitability/uncertainty"
)

// reliability compares chances with how often the thing came true.
type reliability struct {
	// by tenths of the chance: sums of chances said, of things that came true, and how many
	said, came, n [10]float64
	// brier is the sum of squared differences between a chance and what came (0 or 1), the score of Brier
	brier, all    float64
	inside, limed float64 // lime needs in their interval, of those that have one
	right         float64 // zones whose likeliest class is the true one
	asRated       float64 // zones whose class by the rating is the true one
	zones         float64
}

// add counts a zone. Chances of the four classes are four claims.
func (b *reliability) add(z *suitability.Zone, said *uncertainty.Zone, t *truth) {
	for _, c := range suitability.Classes() {
		p, came := said.Class.Of(c), 0.0
		if t.class == c {
			came = 1
		}
		b.brier += (p - came) * (p - came)
		b.all++
		if p == 0 && came == 0 { // nobody claimed anything
			continue
		}
		// A chance of 1 belongs to the last tenth.
		i := min(int(p*10), 9)
		b.said[i], b.came[i], b.n[i] = b.said[i]+p, b.came[i]+came, b.n[i]+1
	}
	if said.Class.Likeliest() == t.class {
		b.right++
	}
	// To compare with: how often the rating by recorded values alone is right.
	if z.Rating.Class == t.class {
		b.asRated++
	}
	b.zones++
	need, ok := said.Need.Get()
	if x, has := t.need.Get(); ok && has && need.High > 0 {
		b.limed++
		if need.Low <= x && x <= need.High {
			b.inside++
		}
	}
}

// off is how far claims are from what came true, the mean over all claims.
func (b *reliability) off() (mean float64) {
	n := 0.0
	for i := range b.n {
		if b.n[i] > 0 {
			// Sums and not means of each tenth, so that tenths count by their claims.
			mean += math.Abs(b.said[i] - b.came[i])
			n += b.n[i]
		}
	}
	return mean / max(n, 1)
}

// calibrate makes every zone several times over and compares.
func calibrate(w world, r *estate, times int, seed uint64) *reliability {
	b := &reliability{}
	study := uncertainty.Of(r.Result, uncertainty.Options{Seed: seed})
	// A stream of its own for each purpose: the second number only keeps them apart.
	m := newMaker(w, r.Profile, rand.New(rand.NewPCG(seed, 0xca11)))
	for i := range r.Zones {
		// The same claim is held against many makings of the ground, as chances ask for.
		for range times {
			b.add(&r.Zones[i], &study.Zones[i], m.make(&r.Zones[i], nil))
		}
	}
	return b
}

// head begins the table to which line adds a row for each world. Brier is the sum over the four classes, 0 at best and 2
// at worst.
func (b *reliability) head(w io.Writer) {
	fmt.Fprintln(w, "| world | zones | off by, mean | Brier | likeliest right | rating right | need in its 90 % |")
	fmt.Fprintln(w, "| --- | --- | --- | --- | --- | --- | --- |")
}

func (b *reliability) line(w io.Writer, name string) {
	fmt.Fprintf(w, "| %s | %.0f | %.3f | %.3f | %.3f | %.3f | %.3f |\n", name, b.zones, b.off(), b.brier/max(1, b.zones), b.right/max(1, b.zones), b.asRated/max(1, b.zones), b.inside/max(1, b.limed))
}

// bins prints claims against what came true.
func (b *reliability) bins(w io.Writer) {
	fmt.Fprintln(w, "| chance said | came true | claims |")
	fmt.Fprintln(w, "| --- | --- | --- |")
	for i := range b.n {
		if b.n[i] > 0 {
			fmt.Fprintf(w, "| %.3f | %.3f | %.0f |\n", b.said[i]/b.n[i], b.came[i]/b.n[i], b.n[i])
		}
	}
}
