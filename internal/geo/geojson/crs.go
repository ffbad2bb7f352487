package geojson

import (
	"fmt"
	"strconv"
	"strings"
)

// CRS is what the "crs" member of an old file says. The zero value: there is none, so coordinates are longitude and
// latitude on WGS 84 (RFC 7946 section 4).
//
// Coordinates are taken as x, y (east, north) whatever the code's own axis order: that is how files with this member
// have always been written.
type CRS struct {
	Text string // as read; empty when there is no such member
	EPSG int    // code; 0 when Text names none. CRS84 is 4326, in the order longitude, latitude
	Line int    // of the member
}

// Known tells whether the coordinates' reference system is known: named by a code, or WGS 84 for want of a member.
func (c CRS) Known() bool { return c.Text == "" || c.EPSG > 0 }

// crsMember takes the value of "crs": null, a named system, or anything else, which is kept as read.
func (r *reader) crsMember() error {
	line := r.x.line
	raw, err := r.rawValue()
	if err != nil || string(raw) == "null" {
		return err
	}
	text := string(raw)
	if name, ok := memberOf(raw, "properties", "name"); ok {
		text = name
	} else if code, ok := memberOf(raw, "properties", "code"); ok { // {"type":"EPSG","properties":{"code":4326}}, older still
		text = "EPSG:" + code
	}
	r.crs = CRS{Text: shorten(text), EPSG: parseCRS(text), Line: line}
	return nil
}

// parseCRS returns the EPSG code in a name such as urn:ogc:def:crs:EPSG::26915, EPSG:26915,
// http://www.opengis.net/def/crs/EPSG/0/26915 or urn:ogc:def:crs:OGC:1.3:CRS84; 0 when it names none.
func parseCRS(name string) int {
	s := strings.ToUpper(strings.TrimSpace(name))
	// CRS84 is WGS 84 with longitude first, which is the order that files have anyway.
	if strings.HasSuffix(s, "CRS84") && (s == "CRS84" || strings.Contains(s, "OGC")) {
		return 4326
	}
	for _, prefix := range []string{"URN:OGC:DEF:CRS:EPSG:", "URN:X-OGC:DEF:CRS:EPSG:", "EPSG:", "HTTP://WWW.OPENGIS.NET/DEF/CRS/EPSG/", "HTTPS://WWW.OPENGIS.NET/DEF/CRS/EPSG/"} {
		rest, ok := strings.CutPrefix(s, prefix)
		if !ok {
			continue
		}
		if i := strings.LastIndexAny(rest, ":/"); i >= 0 {
			rest = rest[i+1:] // behind the edition of the register
		}
		// Only digits as they would be printed: "+4326" or "04326" is no code.
		if n, err := strconv.Atoi(rest); err == nil && n > 0 && n < 1<<20 && fmt.Sprint(n) == rest {
			return n
		}
	}
	return 0
}
