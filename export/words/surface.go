package words

import "rootworthy/suitability"

// FitText says how a surface through sampled points was made and how far it may be off. Its figures are multiplied by
// scale into unit, semivariances by its square.
func FitText(f *suitability.SurfaceFit, unit string, scale float64) string {
	s := f.Method + " through " + count(f.Points, "point", "points")
	// Empty where none was fitted.
	if f.Variogram != "" {
		s += "; variogram " + f.Variogram + ", range " + plain(f.Range.Or(0), 0) + " m, sill " + fixed(f.Sill.Or(0)*scale*scale, 4) + ", nugget " + fixed(f.Nugget.Or(0)*scale*scale, 4)
	}
	s += "; each point found from the others to within " + fixed(f.Found*scale, 2) + " " + unit + " (" + fixed(f.FoundMean*scale, 2) + " by their mean alone)"
	if e, ok := f.Error.Get(); ok {
		s += "; standard error in the zone " + fixed(e*scale, 2) + " " + unit
	}
	return s
}
