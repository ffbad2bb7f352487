package proj

// method is a kind of projection as files and tables name it. The zero value is "not recorded".
type method uint8

const (
	methodUnknown method = iota
	methodTM             // transverse Mercator
	methodLCC1           // Lambert conformal conic, one parallel and a scale
	methodLCC2           // the same with two parallels
	methodAlbers
	methodLAEA    // Lambert azimuthal equal-area
	methodHotineA // oblique Mercator, from the natural origin
	methodHotineB // the same, from the projection centre
	methodWebMercator
	methodHomolosine // Goode's homolosine, interrupted
)

// methodEntry ties a method to the words for it.
type methodEntry struct {
	method method
	short  string   // in the table of codes
	title  string   // for people; the name EPSG gives it
	names  []string // in WKT of any dialect, folded as by [fold]
}

// methods lists every method that can be read.
//
// Source: names of OGC 01-009 (WKT 1), OGC 18-010r7 (WKT 2) and of .prj files as PROJ 9.1.1 writes them.
func methods() []methodEntry {
	return []methodEntry{
		{methodTM, "tm", "Transverse Mercator", []string{"transversemercator", "gausskruger", "transversemercatorcomplex",
			"transversemercatorutm"}},
		{methodLCC1, "lcc1", "Lambert Conic Conformal (1SP)", []string{"lambertconformalconic1sp",
			"lambertconicconformal1sp"}},
		{methodLCC2, "lcc2", "Lambert Conic Conformal (2SP)", []string{"lambertconformalconic", "lambertconformalconic2sp",
			"lambertconicconformal2sp"}},
		{methodAlbers, "albers", "Albers Equal Area", []string{"albers", "albersconicequalarea", "albersequalarea",
			"albersequalareaconic"}},
		{methodLAEA, "laea", "Lambert Azimuthal Equal Area", []string{"lambertazimuthalequalarea"}},
		{methodHotineA, "hotine-a", "Hotine Oblique Mercator (variant A)", []string{"hotineobliquemercator",
			"hotineobliquemercatorvarianta", "hotineobliquemercatorazimuthnaturalorigin"}},
		{methodHotineB, "hotine-b", "Hotine Oblique Mercator (variant B)", []string{"obliquemercator",
			"hotineobliquemercatorvariantb", "hotineobliquemercatorazimuthcenter"}},
		{methodWebMercator, "web", "Popular Visualisation Pseudo Mercator", []string{"mercatorauxiliarysphere",
			"popularvisualisationpseudomercator"}},
		{methodHomolosine, "igh", "Interrupted Goode Homolosine", []string{"interruptedgoodehomolosine", "goodehomolosine"}},
	}
}

// methodNamed finds a method by a name of WKT.
func methodNamed(name string) method {
	key := fold(name)
	for _, m := range methods() {
		for _, n := range m.names {
			if n == key {
				return m.method
			}
		}
	}
	return methodUnknown
}

// methodShort finds a method by its word in the table of codes.
func methodShort(short string) method {
	for _, m := range methods() {
		if m.short == short {
			return m.method
		}
	}
	return methodUnknown
}

// parameters are the constants of a projection; a method leaves those it does not know at their zero.
type parameters struct {
	lat0, lon0     float64 // degrees: origin, or centre
	sp1, sp2       float64 // degrees: standard parallels
	azimuth, gamma float64 // degrees: of the line, of the rectified grid
	k0             float64 // scale factor
	fe, fn         float64 // false easting and northing, in the system's unit
}

// build makes the projection of a method on an ellipsoid from constants in degrees; the false origin is none of its
// business; ok is false when the constants define none.
func (m method) build(el ellipsoid, p parameters) (projection, bool) {
	if !p.sound() {
		return nil, false
	}
	switch m {
	case methodTM:
		return checked(newTransverseMercator(el, p.lon0, p.lat0, p.k0))
	case methodLCC1:
		return checked(newLambertConic(el, p.lon0, p.lat0, p.lat0, p.lat0, p.k0))
	case methodLCC2:
		return checked(newLambertConic(el, p.lon0, p.lat0, p.sp1, p.sp2, p.k0))
	case methodAlbers:
		return checked(newAlbers(el, p.lon0, p.lat0, p.sp1, p.sp2))
	case methodLAEA:
		return checked(newLambertAzimuthal(el, p.lon0, p.lat0))
	case methodHotineA, methodHotineB:
		return checked(newObliqueMercator(el, p.lon0, p.lat0, p.azimuth, p.gamma, p.k0, m == methodHotineB))
	case methodWebMercator:
		return webMercator{el.a, p.lon0 * degree}, p.lat0 == 0 && p.sp1 == 0 && p.k0 == 1
	case methodHomolosine:
		return newHomolosine(el, p.lon0), p.lat0 == 0 && p.sp1 == 0 && p.k0 == 1
	}
	return nil, false
}

// checked turns a constructor's pair into the interface's.
func checked[P projection](p P, ok bool) (projection, bool) { return p, ok }

// sound refuses constants that are no angles or scales, NaN among them.
func (p parameters) sound() bool {
	return onEarth(p.lon0, p.lat0) && onEarth(0, p.sp1) && onEarth(0, p.sp2) &&
		p.azimuth >= -360 && p.azimuth <= 360 && p.gamma >= -360 && p.gamma <= 360 &&
		p.k0 >= 0.5 && p.k0 <= 2 && finite(p.fe, p.fn)
}
