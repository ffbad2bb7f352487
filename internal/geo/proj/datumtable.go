package proj

import "fmt"

// What is said of systems that are used as if they were WGS 84, and of those that are brought to it.
const (
	nad83Note        = "taken as equal to WGS 84, from which it differs by about 1 m"
	nad83PacificNote = "taken as equal to WGS 84, from which it differs by 1 to 2 m"
	// noFigure stands where EPSG has no operation to WGS 84; 2 m are then those of the realisations that have one.
	noFigure = "no published figure"
)

// datums lists what is taken as WGS 84, or brought to it. NAD83 in all its realisations lies within about 1 m of WGS 84 in the
// conterminous states (2 m in Hawaii and the Pacific), as both once were defined equal and the plate has drifted
// since; survey lines are no better than that. (The distances are from memory, not checked.)
//
// The metres of a tie are EPSG's own figure for the operation that does nothing, which bounds more than the plate's drift: the
// 4 m of NAD83 hold for all of North America and for WGS 84 as it was in 1987.
//
// Source: codes, names and accuracies of the EPSG Geodetic Parameter Dataset (read through PROJ 9.1.1).
func datums() []datum {
	return []datum{
		{4326, []int{4979, 7657, 7659, 7661, 7663, 7665, 7816, 8888, 9053, 9054, 9055, 9056, 9057, 9754, 9755},
			"WGS 84", wgs84(), tie{},
			[]string{"wgs1984", "wgs84", "worldgeodeticsystem1984", "worldgeodeticsystem1984ensemble",
				"worldgeodeticsystemof1984", "wgs84ensemble"}},
		{4269, nil,
			"NAD83", grs80(), tie{note: nad83Note, metres: 4, by: "EPSG:1188"},
			[]string{"northamerican1983", "northamericandatum1983", "northamericandatumof1983", "nad83", "nad1983",
				"nad831986", "nad83original"}},
		{4152, []int{4957},
			"NAD83(HARN)", grs80(), tie{note: nad83Note, metres: 2, by: "EPSG:1580"},
			[]string{"northamerican1983harn", "nad83highaccuracyreferencenetwork", "nad83highaccuracyregionalnetwork",
				"nad83harn", "nad1983harn", "nad83hpgn", "nad83highprecisiongeodeticnetwork"}},
		{6318, []int{6319},
			"NAD83(2011)", grs80(), tie{note: nad83Note, metres: 2, by: "EPSG:9774"},
			[]string{"nad19832011", "nad832011", "northamericandatum19832011", "nad83nationalspatialreferencesystem2011"}},
		{4759, []int{4893},
			"NAD83(NSRS2007)", grs80(), tie{note: nad83Note, metres: 2, by: "EPSG:15931"},
			[]string{"nad1983nsrs2007", "nad83nsrs2007", "nad83nationalspatialreferencesystem2007"}},
		{6783, []int{6782},
			"NAD83(CORS96)", grs80(), tie{note: nad83Note, metres: 2, by: noFigure},
			[]string{"nad1983cors96", "nad83cors96", "nad83continuouslyoperatingreferencestation1996"}},
		{8860, []int{8542},
			"NAD83(FBN)", grs80(), tie{note: nad83Note, metres: 2, by: noFigure},
			[]string{"nad83fbn", "nad1983fbn", "nad1983federalbasenetwork", "nad83federalbasenetwork"}},
		{4617, []int{4955, 8231, 8232, 8235, 8237, 8239, 8240, 8244, 8246, 8248, 8249, 8251, 8252, 8254, 8255},
			"NAD83(CSRS)", grs80(), tie{note: nad83Note, metres: 2, by: "EPSG:1842"},
			[]string{"northamerican1983csrs", "nad83canadianspatialreferencesystem", "nad83csrs", "nad1983csrs",
				"nad83csrs98", "northamerican1983csrs98", "northamericandatumof1983csrs"}},
		{6322, []int{6321},
			"NAD83(PA11)", grs80(), tie{note: nad83PacificNote, metres: 2, by: noFigure},
			[]string{"nad1983pa11", "nad83pa11", "nad83nationalspatialreferencesystempa11"}},
		{6325, []int{6324},
			"NAD83(MA11)", grs80(), tie{note: nad83PacificNote, metres: 2, by: noFigure},
			[]string{"nad1983ma11", "nad83ma11", "nad83nationalspatialreferencesystemma11"}},
		nad27(),
	}
}

// nad27 is the datum of older maps and of what was digitised from them. NAD27 Michigan (4268) stands on an ellipsoid of its
// own, the Canadian readjustments (4608, 4609) on other stations: none of them is it.
func nad27() datum {
	move := conusShift()
	return datum{4267, nil,
		"NAD27", clarke1866(), tie{note: move.note(), metres: move.accuracy, by: fmt.Sprintf("EPSG:%d", move.code), move: move},
		[]string{"northamerican1927", "northamericandatum1927", "northamericandatumof1927", "nad27", "nad1927"}}
}
