package geotiff

import (
	"bytes"
	"encoding/binary"
	"encoding/xml"
	"fmt"
	"math"
	"strings"

	"rootworthy/raster"
)

// field is a tag to be written, its values in little-endian order.
type field struct {
	tag, kind uint16
	count     int
	values    []byte
}

// shortTag, longTag, doubleTag and textTag make a tag of values in one of the field types.
func shortTag(tag uint16, v ...uint64) field {
	// Callers give values that fit: codes, counts of bands, bits.
	f := field{tag: tag, kind: typeShort, count: len(v)}
	for _, n := range v {
		f.values = binary.LittleEndian.AppendUint16(f.values, uint16(n))
	}
	return f
}

func longTag(tag uint16, v ...uint64) field {
	f := field{tag: tag, kind: typeLong, count: len(v)}
	for _, n := range v {
		f.values = binary.LittleEndian.AppendUint32(f.values, uint32(n))
	}
	return f
}

func doubleTag(tag uint16, v ...float64) field {
	f := field{tag: tag, kind: typeDouble, count: len(v)}
	for _, n := range v {
		f.values = binary.LittleEndian.AppendUint64(f.values, math.Float64bits(n))
	}
	return f
}

func textTag(tag uint16, s string) field {
	return field{tag: tag, kind: typeText, count: len(s) + 1, values: append([]byte(s), 0)}
}

// valueTags says how the values of a level are stored.
func valueTags[T raster.Number](opt Options[T], overview bool, bands int) []field {
	// an entry for each band where the tag has one: readers of plain TIFF expect as many
	s := sampleOf[T]()
	each := func(v uint64) []uint64 {
		all := make([]uint64, bands)
		for i := range all {
			all[i] = v
		}
		return all
	}
	// Photometric 1: small values are dark, which readers of a grey picture take for granted. Planar 1: the bands of a pixel
	// stand together.
	tags := []field{shortTag(tagBits, each(uint64(s.Bits))...), shortTag(tagCompression, compressDeflate),
		shortTag(tagPhotometric, 1), shortTag(tagSamplesPerPixel, uint64(bands)), shortTag(tagPlanar, 1),
		shortTag(tagPredictor, predictorOf(s)), longTag(tagTileWidth, uint64(opt.Tile)), longTag(tagTileHeight, uint64(opt.Tile)),
		shortTag(tagSampleFormat, each(uint64(s.Kind))...), textTag(tagNodata, fmt.Sprint(opt.Nodata))}
	// bit 0: a smaller picture of the same; readers that know no overviews then pass it over
	if overview {
		tags = append(tags, longTag(tagSubfileType, 1))
	}
	if bands > 1 {
		tags = append(tags, shortTag(tagExtraSamples, make([]uint64, bands-1)...)) // more than one grey value: of no special meaning
	}
	return tags
}

// placeTags says where the cells lie: the north-west corner of the first cell, and the system's code.
func placeTags(f raster.Frame) ([]field, error) {
	code, ok := f.CRS.EPSG()
	if !ok || code >= userDefined {
		return nil, fmt.Errorf("a GeoTIFF needs a coordinate system with an EPSG code; %q has none, use EPSG:4326 or a UTM zone", f.CRS.Name())
	}
	// each: id, 0 for "the value stands here", how many, the value. First a geographic system; raster type 1 means that
	// the place is a corner of the cell.
	keys := [][4]uint64{{keyModelType, 0, 1, 2}, {keyRasterType, 0, 1, 1}, {keyGeographic, 0, 1, uint64(code)}, {keyAngularUnit, 0, 1, 9102}}
	if !f.CRS.Geographic() {
		_, metres := f.CRS.Unit()
		// The code of the system names its unit already; the key is for readers that do not look codes up.
		unit := uint64(0)
		for _, u := range []uint64{9001, 9002, 9003} {
			if m, _ := lengthUnit(u); m == metres {
				unit = u
			}
		}
		keys[0][3] = 1
		keys = append(keys[:2], [4]uint64{keyProjected, 0, 1, uint64(code)})
		if unit != 0 {
			keys = append(keys, [4]uint64{keyLinearUnit, 0, 1, unit})
		}
	}
	// version 1, revision 1.0: keys in rising order
	directory := []uint64{1, 1, 0, uint64(len(keys))}
	for _, k := range keys {
		directory = append(directory, k[:]...)
	}
	// The tie point joins column 0, row 0 to the north-west corner; third numbers are heights.
	return []field{doubleTag(tagPixelScale, f.DX, f.DY, 0), doubleTag(tagTiePoint, 0, 0, 0, f.West, f.North, 0),
		shortTag(tagKeyDirectory, directory...)}, nil
}

// metadataText writes names, units and the legend as XML; "" when there are none.
func metadataText[T raster.Number](opt Options[T], bands int) string {
	var b strings.Builder
	item := func(name string, sample int, role, text string) {
		fmt.Fprintf(&b, "  <Item name=%q sample=\"%d\"", name, sample)
		if role != "" {
			fmt.Fprintf(&b, " role=%q", role)
		}
		b.WriteString(">")
		var once bytes.Buffer // escaped twice, as GDAL has it
		// Writing into memory does not fail.
		_ = xml.EscapeText(&once, []byte(text))
		_ = xml.EscapeText(&b, once.Bytes())
		b.WriteString("</Item>\n")
	}
	for i := range bands {
		if i < len(opt.Names) && opt.Names[i] != "" {
			item("DESCRIPTION", i, "description", opt.Names[i])
		}
		if i < len(opt.Units) && opt.Units[i] != "" {
			item("UNITTYPE", i, "unittype", opt.Units[i])
		}
	}
	// under names of our own, which readers show and do not interpret
	for _, l := range opt.Legend {
		item(fmt.Sprintf("VALUE_%v", l.Value), 0, "", l.Text)
	}
	if b.Len() == 0 {
		return ""
	}
	return "<GDALMetadata>\n" + b.String() + "</GDALMetadata>\n"
}
