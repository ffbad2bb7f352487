// Package geotiff reads and writes GeoTIFF files: rasters with their place on Earth.
//
// A file is opened on its structure alone; cells are read by window and band, and only the tiles or strips that meet the
// window are touched:
//
//	f, err := geotiff.Open("keys.tif", file, size, faults)
//	crs, err := f.CRS()                                 // an error of its own: cells can be read without it
//	w := f.Levels()[0].Covering(fields)
//	keys, err := geotiff.Read[int64](ctx, f, geotiff.Request{Window: w})
//
// Read are tiles and strips; no compression, deflate, LZW, PackBits and ZSTD; predictors 1 to 3; unsigned integers of 1 to
// 32 and 64 bits, signed of 8 to 64, floats of 16 to 64; both byte orders; classic TIFF and BigTIFF; bands together or
// apart; overviews and masks; no-data value, scale and offset of bands; systems by EPSG code or spelled out (transverse
// Mercator, Lambert conformal, Albers, Lambert azimuthal), on NAD27 as well: whether that is good enough is for whoever asks
// for the cells ([proj.CRS.FitForLines]). Refused, with the tag and the byte: pictures (JPEG, WebP),
// LERC and LZMA, turned rasters, control points, files without a place.
//
// No header makes the reader reserve more than the file can hold: values are decoded row by row, a window has a limit,
// and what a tag claims is compared with the size of the file first.
//
// [Write] makes a cloud-optimised GeoTIFF: tiles, overviews, and all directories in front of the data.
//
// Sources: TIFF Revision 6.0 (1992), OGC GeoTIFF 1.1 (19-008r4), BigTIFF as in libtiff; tags 42112 and 42113 as GDAL
// writes them.
package geotiff
