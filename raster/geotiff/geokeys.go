package geotiff

import (
	"slices"
	"strings"
)

// Keys of the key directory.
//
// Source: OGC GeoTIFF 1.1 (19-008r4), tables of requirements class GeoKeyDirectory; names of parameters from GeoTIFF 1.0
// (1995), section 6.2.
const (
	keyModelType       = 1024
	keyRasterType      = 1025
	keyGeographic      = 2048
	keyGeogCitation    = 2049
	keyDatum           = 2050
	keyPrimeMeridian   = 2051
	keyAngularUnit     = 2054
	keySemiMajor       = 2057
	keyInverseFlat     = 2059
	keyPrimeMeridianAt = 2061
	keyProjected       = 3072
	keyCitation        = 3073
	keyConversion      = 3074
	keyMethod          = 3075
	keyLinearUnit      = 3076
	keyLinearUnitSize  = 3077
	keyVerticalUnit    = 4099
)

// userDefined in the place of a code says that other keys spell the thing out.
const userDefined = 32767

// geoKeys is the key directory with its values looked up.
type geoKeys struct {
	list []geoKey
}

// geoKey is a key with its value, of the kind that it has.
// Only one of the three is set: number where the value stands in the key itself, else doubles or text.
type geoKey struct {
	id     uint64
	number uint64 // of a short
	double []float64
	text   string
}

// geoKeys reads the key directory. A key whose value lies outside its list is left out.
func (d *directory) geoKeys() (geoKeys, error) {
	// Fewer than four words are not even its own head, and count as no keys.
	raw, err := d.all(tagKeyDirectory)
	if err != nil || len(raw) < 4 {
		return geoKeys{}, err
	}
	doubles, err := d.doubles(tagKeyDoubles)
	if err != nil {
		return geoKeys{}, err
	}
	text, err := d.text(tagKeyText)
	if err != nil {
		return geoKeys{}, err
	}
	var keys geoKeys
	// the first four words are version and count; four more for each key: id, where its value stands, how many, at which
	// place or the value itself
	for k := raw[4:]; len(k) >= 4; k = k[4:] {
		key := geoKey{id: k[0]}
		n, at := k[2], k[3]
		switch {
		case k[1] == 0:
			key.number = at
		case k[1] == tagKeyDoubles && inside(at, n, len(doubles)):
			key.double = doubles[at : at+n]
		case k[1] == tagKeyText && inside(at, n, len(text)):
			// texts of all keys stand in one string, each ended by a bar
			key.text = strings.TrimRight(text[at:at+n], "|\x00 ")
		default:
			continue
		}
		keys.list = append(keys.list, key)
	}
	return keys, nil
}

// inside says whether n values from a place on stand in a list. The two are never added: a directory of 64-bit words could let the
// sum run over and come out small.
func inside(at, n uint64, list int) bool { return n <= uint64(list) && at <= uint64(list)-n }

// find returns the first key of that id.
func (g geoKeys) find(id uint64) (geoKey, bool) {
	i := slices.IndexFunc(g.list, func(k geoKey) bool { return k.id == id })
	if i < 0 {
		return geoKey{}, false
	}
	return g.list[i], true
}

// number returns a key that is a code.
func (g geoKeys) number(id uint64) (uint64, bool) {
	k, ok := g.find(id)
	// A key of text or of doubles under an id that should be a code is no code, and above all not 0.
	return k.number, ok && k.double == nil && k.text == ""
}

// double returns the first of some keys that is there and a number.
func (g geoKeys) double(ids ...uint64) (float64, bool) {
	for _, id := range ids {
		if k, ok := g.find(id); ok && len(k.double) > 0 {
			return k.double[0], true
		}
	}
	return 0, false
}

// text returns a key that is text, or "".
func (g geoKeys) text(id uint64) string {
	k, _ := g.find(id)
	return k.text
}
