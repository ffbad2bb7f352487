package proj

import (
	"fmt"
	"strconv"
	"strings"
)

// FromName returns the system behind a short name: "EPSG:26915", a bare code, "urn:ogc:def:crs:EPSG::26915",
// "urn:ogc:def:crs:OGC:1.3:CRS84", "http://www.opengis.net/def/crs/EPSG/0/4326" or "CRS84", as the --crs flag and the
// crs member of older GeoJSON write them. Case and blanks around do not matter. Whatever the name says about the order
// of axes, coordinates are taken x (longitude) first, as those files hold them.
func FromName(name string) (CRS, error) {
	key := strings.ToLower(strings.TrimSpace(name))
	if strings.HasSuffix(key, "crs84") || strings.HasSuffix(key, "crs83") {
		if key[len(key)-1] == '3' {
			return FromEPSG(4269)
		}
		return FromEPSG(4326)
	}
	tail := key[strings.LastIndexAny(key, ":/")+1:]
	authority := strings.Contains(key, "epsg") || tail == key
	code, err := strconv.Atoi(tail)
	if err != nil || !authority || code <= 0 {
		return CRS{}, fmt.Errorf("coordinate system %s: not an EPSG code; write it as EPSG:n, such as EPSG:26915",
			quote(name))
	}
	return FromEPSG(code)
}

// quote quotes text from a file, cut to a length that fits a message.
func quote(s string) string {
	const most = 80
	if r := []rune(s[:min(len(s), 4*most)]); len(r) > most { // a rune has at most four bytes
		s = string(r[:most-1]) + "…"
	}
	return strconv.Quote(s)
}
