package taskdata

import (
	"errors"
	"fmt"
	"math"

	"rootworthy/soils/lime"
	"rootworthy/soils/unit"
)

// Machine is what the spreader can do. The zero value is a spreader of 50 ft with no known limits.
type Machine struct {
	Width    unit.Length   // between two passes; 0 means 50 ft
	Least    unit.AreaRate // slowest setting; 0 means any
	Most     unit.AreaRate // fastest setting; 0 means any
	Step     unit.AreaRate // it is set in such steps; 0 means any
	Smallest unit.Area     // ground smaller than this it cannot follow, so it gets the rate of a neighbour; 0 follows all
	Headland unit.Length   // strip along the boundary that is driven round at one rate; 0 means none
	Edge     HeadlandLime  // which rate that is
	Hopper   unit.Mass     // what it holds; 0 means not known
	Tray     unit.Area     // opening of a tray to check the rate with; 0 means 20 × 20 inches
}

// HeadlandLime is what the headland gets.
type HeadlandLime uint8

// The ways to treat a headland.
const (
	HeadlandMean HeadlandLime = iota // one rate, the mean of what its ground asks for: no lime is lost or added
	HeadlandNone                     // nothing: it is spread apart
)

// Widths and sizes in metres and square metres. All are common practice, no source.
const (
	defaultWidth         = 50 * 0.3048
	leastWidth           = 1
	mostWidth            = 100
	defaultTray          = 20 * 20 * 0.0254 * 0.0254
	mostRate             = 20 // short tons an acre: more than any recommendation, so a slip of units
	leastCell            = 1.0
	defaultLeastCell     = 5.0
	defaultMaxCells      = 350 // a side; some terminals refuse more (from earlier work, no public source)
	mostMaxCells         = 10000
	mostDifference       = 0.01  // of the lime of a field: by how much cells may miss the polygons
	wantedFarmDifference = 0.001 // the same for all fields together
)

// filled puts in what the zero values stand for.
func (m Machine) filled() Machine {
	if m.Width == 0 {
		m.Width = defaultWidth
	}
	if m.Tray == 0 {
		m.Tray = defaultTray
	}
	return m
}

// Check says what is out of range, and what is allowed.
func (m Machine) Check() error {
	var errs []error
	// Conditions are written as what must hold, so that NaN is refused as well.
	bad := func(wrong bool, format string, args ...any) {
		if wrong {
			errs = append(errs, fmt.Errorf(format, args...))
		}
	}
	w := float64(m.Width)
	bad(!(w == 0 || w >= leastWidth && w <= mostWidth), "a working width of %.4g m is not possible; give one from %d to %d m", w, leastWidth, mostWidth)
	most := unit.ShortTonsPerAcre(mostRate)
	for _, r := range []struct {
		name string
		rate unit.AreaRate
	}{{"least rate", m.Least}, {"highest rate", m.Most}, {"step", m.Step}} {
		bad(!(r.rate >= 0 && r.rate <= most), "a %s of %.4g short tons an acre is not possible; give one from 0 to %d", r.name, r.rate.ShortTonsPerAcre(), mostRate)
	}
	bad(m.Most > 0 && m.Least > m.Most, "the least rate is over the highest")
	bad(m.Most > 0 && m.Step > m.Most, "the step is over the highest rate")
	bad(!(m.Smallest >= 0 && m.Smallest <= unit.Acres(100)), "a smallest zone of %.4g acres is not possible; give one from 0 to 100", m.Smallest.Acres())
	bad(!(m.Headland >= 0 && m.Headland <= 5*mostWidth), "a headland of %.4g m is not possible; give one from 0 to %d m", float64(m.Headland), 5*mostWidth)
	bad(!(m.Hopper >= 0 && m.Hopper.ShortTons() <= 100), "a hopper of %.4g short tons is not possible; give one from 0 to 100", m.Hopper.ShortTons())
	bad(!(m.Tray >= 0 && m.Tray <= 4), "a tray of %.4g m² is not possible; give one up to 4 m²", float64(m.Tray))
	return errors.Join(errs...)
}

// settable returns the rate that the spreader is set to for a wanted one. No rate stays none; any other is never taken
// down to none, because that ground would stay sour.
// Ground above the fastest setting gets that, and what is missing is told (tellRates).
func (m Machine) settable(want unit.AreaRate) unit.AreaRate {
	if !(want > 0) {
		return 0
	}
	r := lime.OnStep(want, m.Step)
	if m.Most > 0 && r > m.Most {
		r = m.onStep(m.Most, math.Floor, 1e-9)
	}
	if r < m.Least {
		r = m.onStep(m.Least, math.Ceil, -1e-9)
	}
	return r
}

// onStep takes a limit to the nearest step inside it. The slack keeps a limit that is a step from moving to the next
// one for the noise of division.
func (m Machine) onStep(limit unit.AreaRate, inside func(float64) float64, slack float64) unit.AreaRate {
	if m.Step == 0 {
		return limit
	}
	return m.Step * unit.AreaRate(inside(float64(limit/m.Step)+slack))
}

// milligrams returns a rate as the files hold it: whole mg/m², rounded half away from zero once.
// A rate beyond what 32 bits hold would be some two tons on a square metre; it is cut off rather than turned negative.
func milligrams(r unit.AreaRate) int32 {
	return int32(min(math.Round(float64(r)*1e6), math.MaxInt32))
}

// rateOf undoes milligrams.
func rateOf(mg int32) unit.AreaRate { return unit.AreaRate(mg) / 1e6 }
