package nutrientplan

import (
	"fmt"
	"strconv"
	"strings"

	"rootworthy/soils/nutrient"
	"rootworthy/soils/unit"
)

// Product is a fertilizer as its label states it.
type Product struct {
	Name     string
	For      nutrient.Nutrient // what it is bought for: enough is spread to meet the need of this
	Nitrogen unit.Percent
	Holds    []Holding // guaranteed analysis: P2O5, K2O, Mg, S, B, Mo
	InRow    bool      // goes into the seed row
	Package  unit.Mass // smallest amount sold; 0 means loose
}

// Holding is a share of a product by mass.
type Holding struct {
	Nutrient nutrient.Nutrient
	Share    unit.Percent
}

// Share returns how much of a nutrient the product holds.
func (p Product) Share(n nutrient.Nutrient) unit.Percent {
	for _, h := range p.Holds {
		if h.Nutrient == n {
			return h.Share
		}
	}
	return 0
}

// Grade returns the product of a grade such as "0-0-60": percent of nitrogen, P2O5 and K2O. It is bought for the larger of the
// latter two. The error says what a grade looks like.
func Grade(grade string) (Product, error) {
	parts := strings.Split(strings.TrimSpace(grade), "-")
	bad := fmt.Errorf(`%q is not a grade; write percent of N, P2O5 and K2O as "0-0-60"`, grade)
	if len(parts) != 3 {
		return Product{}, bad
	}
	var v [3]float64
	for i, s := range parts {
		x, err := strconv.ParseFloat(strings.TrimSpace(s), 64)
		if err != nil || !(x >= 0 && x <= 100) {
			return Product{}, bad
		}
		v[i] = x
	}
	// Nitrogen alone is no fertilizer for alfalfa: it feeds the grass against it.
	if v[0]+v[1]+v[2] > 100 || v[1]+v[2] == 0 {
		return Product{}, bad
	}
	p := Product{Name: grade, Nitrogen: unit.Percent(v[0]), For: nutrient.Potassium,
		Holds: []Holding{{nutrient.Phosphorus, unit.Percent(v[1])}, {nutrient.Potassium, unit.Percent(v[2])}}}
	// as much of both counts as potash, of which alfalfa needs the more
	if v[1] > v[2] {
		p.For = nutrient.Phosphorus
	}
	return p, nil
}

// Check says what is wrong with the product. Boron in the seed row kills seedlings: such a product is refused.
func (p Product) Check() error {
	sum := p.Nitrogen
	for _, h := range p.Holds {
		if !(h.Share >= 0 && h.Share <= 100) {
			return fmt.Errorf("%s: %g %% of %s is not possible; copy the guaranteed analysis from the label", p.Name, float64(h.Share), h.Nutrient.Sold())
		}
		sum += h.Share
	}
	switch {
	// The other way round it would let NaN pass.
	case !(p.Nitrogen >= 0 && sum <= 100):
		return fmt.Errorf("%s: the analysis adds up to %g %%; copy it from the label", p.Name, float64(sum))
	case !(p.Share(p.For) > 0):
		return fmt.Errorf("%s is bought for %s but holds none; copy the analysis from the label", p.Name, p.For.Sold())
	case p.InRow && p.Share(nutrient.Boron) > 0:
		return fmt.Errorf("%s holds boron and goes into the seed row; boron there kills seedlings: broadcast it", p.Name)
	case !(p.Package >= 0):
		return fmt.Errorf("%s: a package of %g kg is not possible", p.Name, float64(p.Package))
	}
	return nil
}

// Needed returns the product that brings a mass or rate of its nutrient.
//
//	product = nutrient ÷ share
//
// Source: definition. Range: a share over zero; zero product where it holds none.
func Needed[T ~float64](p Product, n nutrient.Nutrient, amount T) T {
	share := p.Share(n)
	if !(share > 0) {
		return 0
	}
	// both are of what fertilizer is sold by, so no factor from element to oxide enters
	return amount / T(share/100)
}

// Amount is a product on a zone.
type Amount struct {
	Product  string
	For      nutrient.Nutrient
	Rate     unit.AreaRate
	Mass     unit.Mass
	Nitrogen unit.Mass // that it brings along
	When     []Application
}
