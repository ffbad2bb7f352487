// Package samplesheet writes a sampling plan for those who carry it out: places for a receiver, a list of bags for the
// laboratory, and a sheet for the truck.
//
//	samples.gpx      every core as a waypoint, a route a field           receivers, telephones
//	samples.geojson  every core as a point, with its bags                maps
//	bags.csv         a row a bag; the laboratory adds its columns, and screen --tests reads it back
//	stops.csv        a row a core, in the order of walking
//	chances.csv      how sure every field and zone is as it stands: chances of the classes, range of the lime
//	sheet.html       the sheet with maps, to print or to carry on a telephone
//	sheet.txt        the same in plain text
//	sample.json      what the folder was made from; last, so that a folder without it is not whole
//
// All are written from one [sampling.Plan]; equal plans give equal bytes.
package samplesheet
