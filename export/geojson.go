package export

import (
	"io"

	"github.com/paulmach/orb"

	"rootworthy/suitability"
)

// WriteZones writes zones.geojson (RFC 7946): a feature for each zone, its id the zone id, its properties the zone
// table, its geometry the zone tidied (null when nothing of it is left at seven decimals).
func WriteZones(w io.Writer, r *suitability.Result, words Sentences) error {
	zones := Zones(r)
	shapes := make([]orb.MultiPolygon, len(zones))
	box := noBox()
	for i, z := range zones {
		shapes[i] = Tidy(z.Shape)
		widen(&box, shapes[i])
	}
	c := startCollection(w, "Zones by soil, rated for alfalfa", box, r, words)
	entries := zoneEntries()
	names := columns(entries)
	var properties []byte
	for i, z := range zones {
		properties = appendObject(properties[:0], names, row(entries, sayable{z, words}))
		c.feature(z.ID, shapes[i], properties, nil)
	}
	return c.close()
}
