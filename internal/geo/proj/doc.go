// Package proj turns coordinates as surveyors write them into longitude and latitude, and longitude and latitude into
// a plane where areas are true.
//
// Boundaries come in State Plane feet, UTM metres or degrees; a .prj file or a code says which:
//
//	crs, err := proj.FromEPSG(26915)              // or proj.Parse(text of the .prj)
//	p, ok := crs.ToLonLat(orb.Point{450000, 4650000}) // a point of central Iowa
//
// Inside the program everything is longitude, latitude (that order, degrees, -180..180 and -90..90). WGS 84 and every
// realisation of NAD83 are taken as one datum, which costs about a metre; [CRS.Note] says so where it happens. NAD27 in
// the conterminous United States is brought to WGS 84 by the one published shift for all of them, good to about 10 m: enough
// for the heights of a hillside, too little for a boundary. So whoever cuts ground asks [CRS.FitForLines] first. Other
// datums are refused, not guessed.
//
// Areas and overlays want an equal-area plane: [PlaneFor] picks one for the data. [Plane.ForwardMultiPolygon] inserts
// vertices on long edges first, because an edge that is straight in longitude and latitude bends in the plane.
// [GeodesicArea] is the second opinion: the area on the ellipsoid itself.
//
// Nothing here returns NaN or an infinity: a point outside a projection's domain comes back as ok == false. Data that
// cross the 180th meridian are not joined up; within about 50 m of a pole the last 0.1 mm are lost.
package proj
