package interp

import (
	"fmt"
	"math"
)

// Model is the shape of a variogram.
type Model uint8

// The models. The zero value is the spherical one.
const (
	Spherical Model = iota
	Exponential
	Gaussian
	Linear // rises without end: there is no sill within reach
)

// Models lists the models that are fitted, in the order they are tried; the first of equals is taken.
func Models() []Model { return []Model{Spherical, Exponential, Gaussian} }

// String returns the model's name.
func (m Model) String() string {
	return [...]string{"spherical", "exponential", "Gaussian", "linear"}[m]
}

// Variogram says how different two values are by the distance h between their places: half the mean squared difference.
//
//	spherical    nugget + part × (1.5 h/range - 0.5 (h/range)³) up to the range, then sill
//	exponential  nugget + part × (1 - exp(-3 h/range))
//	Gaussian     nugget + part × (1 - exp(-3 (h/range)²))
//	linear       nugget + part × h/range
//
// part = sill - nugget; at h = 0 it is 0. The range is where points stop being alike: of the exponential and the Gaussian
// model where 95 % of the part is reached.
// Source: Isaaks and Srivastava 1989, An Introduction to Applied Geostatistics, chapter 16 (forms from memory, not checked; the
// factor of 3 in the example of chapter 12 was read).
// Range: nugget from 0, sill from the nugget, range over 0.
type Variogram struct {
	Model  Model
	Nugget float64 // difference of points side by side: error of measurement and what changes within steps
	Sill   float64 // of points far apart, the nugget included; of the linear model, at the range
	Range  float64 // in the unit of the plane
}

// At returns the semivariance at a distance.
func (v Variogram) At(h float64) float64 {
	// also where the nugget is large: a point is like itself
	if h <= 0 {
		return 0
	}
	return v.Nugget + (v.Sill-v.Nugget)*v.Model.shape(h/v.Range)
}

// shape rises from 0 to 1 as h in ranges goes up.
func (m Model) shape(h float64) float64 {
	switch m {
	case Exponential:
		return 1 - math.Exp(-3*h)
	case Gaussian:
		return 1 - math.Exp(-3*h*h)
	case Linear:
		return h
	}
	if h >= 1 {
		return 1
	}
	return h * (1.5 - 0.5*h*h)
}

// Check says what no variogram can be.
func (v Variogram) Check() error {
	if !(v.Nugget >= 0 && v.Sill >= v.Nugget && v.Sill > 0 && v.Range > 0) || !finite(v.Sill) || !finite(v.Range) || v.Model > Linear {
		return fmt.Errorf("a variogram of nugget %v, sill %v and range %v is not possible; give 0 ≤ nugget ≤ sill, sill and range over 0", v.Nugget, v.Sill, v.Range)
	}
	return nil
}
