package proj

import (
	"fmt"
	"math"
	"slices"
	"strings"
)

// required names the parameters without which a method is not defined.
func (m method) required() []string {
	switch m {
	case methodTM, methodLCC1:
		return []string{"lat0", "lon0", "k0"}
	case methodLCC2:
		return []string{"lat0", "lon0", "sp1"}
	case methodAlbers:
		return []string{"lat0", "lon0", "sp1", "sp2"}
	case methodLAEA:
		return []string{"lat0", "lon0"}
	case methodHotineA, methodHotineB:
		return []string{"lat0", "lon0", "azimuth", "k0"}
	}
	return nil
}

// parseConversion reads method and constants of a projected system; unit is that of its coordinates.
func parseConversion(n *wktNode, unit linearUnit) (method, parameters, error) {
	from, word := n, n.kid("PROJECTION")
	if c := n.kid("CONVERSION"); c != nil {
		from, word = c, c.kid("METHOD", "PROJECTION")
	}
	m := methodNamed(word.name())
	if ext := n.kid("EXTENSION"); ext != nil && !(m == methodHomolosine && isHomolosineExtension(ext)) {
		if !isWebMercatorExtension(ext) {
			return 0, parameters{}, refuse(n, "carries an extension that overrides it")
		}
		return methodWebMercator, parameters{k0: 1}, nil
	}
	if m == methodUnknown {
		return 0, parameters{}, refuse(n,
			fmt.Sprintf("uses the projection %s, which this program does not have", quote(word.name())))
	}
	vals, err := parseParameters(n, from, unit)
	if err != nil {
		return 0, parameters{}, err
	}
	for _, key := range m.required() {
		if _, ok := vals[key]; !ok {
			return 0, parameters{}, refuse(n, fmt.Sprintf("lacks the parameter %q of its projection", parameterName(key)))
		}
	}
	return m, assemble(m, vals), nil
}

// isWebMercatorExtension recognises how 3857 is written in WKT 1, which has no word for it.
func isWebMercatorExtension(ext *wktNode) bool {
	if len(ext.text) < 2 {
		return false
	}
	words := strings.Fields(strings.ReplaceAll(ext.text[1], "=0.0", "=0"))
	for _, w := range []string{"+proj=merc", "+a=6378137", "+b=6378137", "+lon_0=0", "+x_0=0", "+y_0=0", "+units=m"} {
		if !slices.Contains(words, w) {
			return false
		}
	}
	return true
}

// isHomolosineExtension recognises the extension that repeats a homolosine in the words of PROJ.
func isHomolosineExtension(ext *wktNode) bool {
	return len(ext.text) > 1 && slices.Contains(strings.Fields(ext.text[1]), "+proj=igh")
}

// parseParameters reads the PARAMETER nodes under from into values in degrees, ratios and coordinate units.
func parseParameters(n, from *wktNode, unit linearUnit) (map[string]float64, error) {
	vals := map[string]float64{}
	for _, p := range from.kids {
		if p.word != "PARAMETER" {
			continue
		}
		v, ok := p.num(0)
		key := parameterKey(p.name())
		if !ok || key == "" || key == "aux" && v != 0 || key == "option" && v != 1 {
			return nil, refuse(n, fmt.Sprintf("has the parameter %s %v, which this program does not know", quote(p.name()), v))
		}
		vals[key] = v * parameterScale(p, unit)
	}
	return vals, nil
}

// parameterScale returns what a parameter's own unit in WKT 2 multiplies it by: to degrees, or to the unit of the
// coordinates. Printed sizes of one unit differ in their last digits and must not scale at all.
func parameterScale(p *wktNode, unit linearUnit) float64 {
	if size, ok := p.kid("ANGLEUNIT").num(0); ok && math.Abs(size/degree-1) > 1e-7 {
		return size / degree
	}
	if size, ok := p.kid("LENGTHUNIT").num(0); ok && math.Abs(size/unit.metre-1) > 1e-8 {
		return size / unit.metre
	}
	return 1
}

// assemble fills in what a text may leave out: no false origin, scale 1, a second standard parallel equal to the
// first, a grid rectified by the line's own azimuth.
func assemble(m method, vals map[string]float64) parameters {
	p := parameters{lat0: vals["lat0"], lon0: vals["lon0"], sp1: vals["sp1"], sp2: vals["sp2"],
		azimuth: vals["azimuth"], gamma: vals["azimuth"], k0: 1, fe: vals["fe"], fn: vals["fn"]}
	if k, ok := vals["k0"]; ok {
		p.k0 = k
	}
	if g, ok := vals["gamma"]; ok {
		p.gamma = g
	}
	if _, ok := vals["sp2"]; !ok {
		p.sp2 = p.sp1
	}
	switch m {
	case methodTM, methodLCC1, methodLAEA, methodHotineA, methodHotineB:
		p.sp1, p.sp2 = 0, 0
	}
	return p
}
