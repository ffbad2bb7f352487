package geotiff

import "strconv"

// The tags that are read or written.
//
// Source: TIFF Revision 6.0 (1992); TIFF Technical Note 1 and Adobe Photoshop TIFF technical notes (2002) for 317 = 3;
// OGC GeoTIFF 1.1 (19-008r4) for 33550 to 34737; 42112 and 42113 as GDAL documents and writes them.
const (
	tagSubfileType     = 254
	tagWidth           = 256
	tagHeight          = 257
	tagBits            = 258
	tagCompression     = 259
	tagPhotometric     = 262
	tagFillOrder       = 266
	tagStripOffsets    = 273
	tagSamplesPerPixel = 277
	tagRowsPerStrip    = 278
	tagStripCounts     = 279
	tagPlanar          = 284
	tagPredictor       = 317
	tagTileWidth       = 322
	tagTileHeight      = 323
	tagTileOffsets     = 324
	tagTileCounts      = 325
	tagSubIFDs         = 330
	tagExtraSamples    = 338
	tagSampleFormat    = 339
	tagPixelScale      = 33550
	tagTiePoint        = 33922
	tagTransformation  = 34264
	tagKeyDirectory    = 34735
	tagKeyDoubles      = 34736
	tagKeyText         = 34737
	tagMetadata        = 42112
	tagNodata          = 42113
)

// tagName returns the name of a tag for a message, its number in front.
func tagName(tag uint16) string {
	names := map[uint16]string{tagSubfileType: "NewSubfileType", tagWidth: "ImageWidth", tagHeight: "ImageLength",
		tagBits: "BitsPerSample", tagCompression: "Compression", tagPhotometric: "PhotometricInterpretation",
		tagFillOrder: "FillOrder", tagStripOffsets: "StripOffsets", tagSamplesPerPixel: "SamplesPerPixel",
		tagRowsPerStrip: "RowsPerStrip", tagStripCounts: "StripByteCounts", tagPlanar: "PlanarConfiguration",
		tagPredictor: "Predictor", tagTileWidth: "TileWidth", tagTileHeight: "TileLength", tagTileOffsets: "TileOffsets",
		tagTileCounts: "TileByteCounts", tagSubIFDs: "SubIFDs", tagExtraSamples: "ExtraSamples",
		tagSampleFormat: "SampleFormat", tagPixelScale: "ModelPixelScale", tagTiePoint: "ModelTiepoint",
		tagTransformation: "ModelTransformation", tagKeyDirectory: "GeoKeyDirectory", tagKeyDoubles: "GeoDoubleParams",
		tagKeyText: "GeoAsciiParams", tagMetadata: "GDAL_METADATA", tagNodata: "GDAL_NODATA"}
	s := "tag " + strconv.Itoa(int(tag))
	if n := names[tag]; n != "" {
		s += " (" + n + ")"
	}
	return s
}

// typeSize returns the bytes of a value of a field type; 0 when the type is unknown.
//
// Source: TIFF 6.0, section 2; types 13 and 16 to 18 from TIFF Technical Note 1 and the BigTIFF proposal (2007).
func typeSize(t uint16) uint64 {
	sizes := [...]uint64{0, 1, 1, 2, 4, 8, 1, 1, 2, 4, 8, 4, 8, 4, 0, 0, 8, 8, 8}
	if int(t) >= len(sizes) {
		return 0
	}
	return sizes[t]
}

// Field types.
const (
	typeByte   = 1
	typeText   = 2
	typeShort  = 3
	typeLong   = 4
	typeDouble = 12
	typeLong8  = 16
)
