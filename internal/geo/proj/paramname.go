package proj

import "slices"

// paramNames are the names of one parameter in all dialects, folded as by [fold].
type paramNames struct {
	key   string // our own word for it, that of the table of codes
	names []string
}

// allParamNames lists the parameters that are understood.
//
// Source: OGC 01-009 (WKT 1), OGC 18-010r7 with EPSG's names (WKT 2), and .prj files as PROJ 9.1.1 writes them.
func allParamNames() []paramNames {
	return []paramNames{
		{"lat0", []string{"latitudeoforigin", "latitudeofcenter", "latitudeofcentre", "centralparallel",
			"latitudeofnaturalorigin", "latitudeoffalseorigin", "latitudeofprojectioncentre"}},
		{"lon0", []string{"centralmeridian", "longitudeoforigin", "longitudeofcenter", "longitudeofcentre",
			"longitudeofnaturalorigin", "longitudeoffalseorigin", "longitudeofprojectioncentre"}},
		{"sp1", []string{"standardparallel1", "latitudeof1ststandardparallel"}},
		{"sp2", []string{"standardparallel2", "latitudeof2ndstandardparallel"}},
		{"k0", []string{"scalefactor", "scalefactoratnaturalorigin", "scalefactoroninitialline",
			"scalefactoratprojectioncentre"}},
		{"azimuth", []string{"azimuth", "azimuthofinitialline", "azimuthatprojectioncentre"}},
		{"gamma", []string{"rectifiedgridangle", "anglefromrectifiedtoskewgrid"}},
		{"fe", []string{"falseeasting", "eastingatfalseorigin", "eastingatprojectioncentre"}},
		{"fn", []string{"falsenorthing", "northingatfalseorigin", "northingatprojectioncentre"}},
		// Which sphere a web Mercator uses; 0, the equatorial radius, is the only one met.
		{"aux", []string{"auxiliaryspheretype"}},
		// Where a homolosine is interrupted: 1, the oceans, is the only one met.
		{"option", []string{"option"}},
	}
}

// parameterKey folds a parameter's name into its key; "" when unknown.
func parameterKey(name string) string {
	folded := fold(name)
	for _, p := range allParamNames() {
		if slices.Contains(p.names, folded) {
			return p.key
		}
	}
	return ""
}

// parameterName returns a name by which a reader of .prj files knows a parameter.
func parameterName(key string) string {
	return map[string]string{"lat0": "latitude_of_origin", "lon0": "central_meridian", "sp1": "standard_parallel_1",
		"sp2": "standard_parallel_2", "k0": "scale_factor", "azimuth": "azimuth"}[key]
}
