package export

import (
	"io"

	"rootworthy/suitability"
)

// WriteZones writes zones.geojson (RFC 7946): a feature for each zone, its id the zone id, its properties the zone
// table, its geometry the zone tidied (null when nothing of it is left at seven decimals).
func WriteZones(w io.Writer, r *suitability.Result, words Sentences) error {
	zones := Zones(r)
	box := noBox()
	for _, z := range zones { // tidied twice: kept until they are written, the shapes of a large run would be in memory twice
		widen(&box, Tidy(z.Shape))
	}
	c := startCollection(w, "Zones by soil, rated for alfalfa", box, r, words)
	entries := zoneEntries()
	names := columns(entries)
	var properties []byte
	for _, z := range zones {
		properties = appendObject(properties[:0], names, row(entries, sayable{z, words}))
		c.feature(z.ID, Tidy(z.Shape), properties, nil)
	}
	return c.close()
}
