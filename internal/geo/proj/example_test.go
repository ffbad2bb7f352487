package proj_test

import (
	"fmt"

	"github.com/paulmach/orb"

	"rootworthy/internal/geo/proj"
)

// A boundary file in UTM metres, its system named by code.
func ExampleFromEPSG() {
	crs, err := proj.FromEPSG(26915)
	if err != nil {
		fmt.Println(err)
		return
	}
	p, ok := crs.ToLonLat(orb.Point{450000, 4650000})
	fmt.Printf("%s (%v): %.7f %.7f %v\n", crs.Name(), crs, p[0], p[1], ok)
	fmt.Println(crs.Note())
	// Output:
	// NAD83 / UTM zone 15N (EPSG:26915): -93.6037391 42.0004278 true
	// NAD83 is taken as equal to WGS 84, from which it differs by about 1 m
}

// A datum that may not be guessed.
func ExampleParse_refused() {
	_, err := proj.Parse(`GEOGCS["GCS_Tokyo",DATUM["D_Tokyo",
		SPHEROID["Bessel_1841",6377397.155,299.1528128]],PRIMEM["Greenwich",0],UNIT["Degree",0.0174532925199433]]`)
	fmt.Println(err)
	// Output:
	// coordinate system "GCS_Tokyo" uses the datum "D_Tokyo", which is neither WGS 84 nor a known realisation of NAD83, nor NAD27, and may lie hundreds of metres away; convert the file to WGS 84 longitude and latitude, or name the right system with --crs EPSG:n
}

// Heights may stand on NAD27; lines may not.
func ExampleCRS_FitForLines() {
	crs, err := proj.FromEPSG(26715)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(crs.Note())
	fmt.Println(crs.FitForLines())
	// Output:
	// NAD27 is brought to WGS 84 by one shift for all of the conterminous United States (EPSG:1173, NAD27 to WGS 84 (4)), good to about 10 m
	// coordinate system "NAD27 / UTM zone 15N" (EPSG:26715) stands on NAD27, which this program brings to WGS 84 only to about 10 m (EPSG:1173): too far off for lines that cut ground; convert the file to EPSG:4326 by a transformation with a grid of shifts (NADCON) first
}

// The area of a mile square at 45 degrees north, in the plane and on the ellipsoid.
func ExamplePlaneFor() {
	section := orb.MultiPolygon{{{{-98, 45}, {-97.98, 45}, {-97.98, 45.0145}, {-98, 45.0145}, {-98, 45}}}}
	plane := proj.PlaneFor(section.Bound())
	flat, err := plane.ForwardMultiPolygon(section, true)
	if err != nil {
		fmt.Println(err)
		return
	}
	area, _ := proj.GeodesicArea(section, proj.GeodesicOptions{Step: 5})
	fmt.Printf("%s: %d vertices, %.4f ha on the ellipsoid\n", plane, len(flat[0][0]), area/1e4)
	// Output:
	// EPSG:5070: 65 vertices, 254.0776 ha on the ellipsoid
}
