package exchange_test

import (
	"archive/zip"
	"bytes"
	"encoding/csv"
	"encoding/xml"
	"io"
	"math"
	"os"
	"strconv"
	"strings"
	"testing"

	"github.com/parquet-go/parquet-go"

	"rootworthy/export/exchange"
	"rootworthy/internal/diag"
	"rootworthy/internal/geo/feature"
	"rootworthy/internal/geo/flatgeobuf"
	"rootworthy/internal/geo/geojson"
	"rootworthy/internal/geo/geopackage"
	"rootworthy/internal/geo/kml"
	"rootworthy/internal/geo/shapefile"
	"rootworthy/soils/unit"
)

// sum adds up rows: area in square metres and lime in kilograms, by the columns of customary units.
type sum struct {
	zones      int
	area, lime float64
}

// add adds a row; a rate that is no number is ground without a figure and adds no lime.
func (s *sum) add(t *testing.T, acres, rate string) {
	t.Helper()
	s.zones++
	a, err := strconv.ParseFloat(acres, 64)
	if err != nil {
		t.Fatalf("area_ac = %q", acres)
	}
	s.area += float64(unit.Acres(a))
	if r, err := strconv.ParseFloat(rate, 64); err == nil {
		s.lime += float64(unit.ShortTonsPerAcre(r).Over(unit.Acres(a)))
	}
}

// Areas and lime mass of the run stand in every format, as it is read back.
func TestTotalsAreThoseOfTheRun(t *testing.T) {
	r := odd()
	s := setOf(t, r, exchange.Options{})
	dir := folder(t, s)
	area, lime := s.Totals()
	read := func(name string) []byte {
		b, err := os.ReadFile(dir + "/" + name)
		if err != nil {
			t.Fatal(err)
		}
		return b
	}
	var faults diag.List
	for _, c := range []struct {
		name string
		add  func(*sum) error
	}{
		{"geojson", func(s *sum) error {
			_, err := geojson.Scan("z", bytes.NewReader(read("zones.geojson")), &faults, func(g geojson.Feature) error {
				var f feature.Feature
				for _, p := range g.Properties {
					f.Properties = append(f.Properties, feature.Property{Name: p.Name, Value: p.Value})
				}
				s.add(t, f.Text("area_ac"), f.Text("lime_st_ac"))
				return nil
			})
			return err
		}},
		{"flatgeobuf", func(s *sum) error {
			l, err := flatgeobuf.Open("z", bytes.NewReader(read("zones.fgb")), &faults)
			if err != nil {
				return err
			}
			return l.Features(func(f feature.Feature) error {
				s.add(t, f.Text("area_ac"), f.Text("lime_st_ac"))
				return nil
			})
		}},
		{"geopackage", func(s *sum) error {
			b := read("zones.gpkg")
			db, err := geopackage.Open(t.Context(), "z", bytes.NewReader(b), int64(len(b)), &faults)
			if err != nil {
				return err
			}
			defer db.Close()
			l, err := db.Layer(t.Context(), "zones")
			if err != nil {
				return err
			}
			return l.Features(t.Context(), func(f feature.Feature) error {
				s.add(t, f.Text("area_ac"), f.Text("lime_st_ac"))
				return nil
			})
		}},
		{"kml", func(s *sum) error {
			return kml.Scan("z", bytes.NewReader(read("zones.kml")), &faults, func(f feature.Feature) error {
				s.add(t, f.Text("area_ac"), f.Text("lime_st_ac"))
				return nil
			})
		}},
		{"shapefile", func(s *sum) error {
			l, err := shapefile.Open("zones.shp", os.DirFS(dir), "zones.shp", &faults)
			if err != nil {
				return err
			}
			return l.Records(func(rec *shapefile.Record) error {
				s.add(t, rec.Text(l.Column("area_ac")), rec.Text(l.Column("lime_st_ac")))
				return nil
			})
		}},
		{"csv", func(s *sum) error {
			all, err := csv.NewReader(bytes.NewReader(read("zones.csv"))).ReadAll()
			if err != nil {
				return err
			}
			addRows(t, s, all)
			return nil
		}},
		{"xlsx", func(s *sum) error {
			addRows(t, s, firstSheet(t, read("zones.xlsx")))
			return nil
		}},
		{"geoparquet", func(s *sum) error {
			type zone struct {
				Area float64  `parquet:"area_ac"`
				Lime *float64 `parquet:"lime_st_ac"`
			}
			b := read("zones.parquet")
			rows, err := parquet.Read[zone](bytes.NewReader(b), int64(len(b)))
			for _, z := range rows {
				rate := ""
				if z.Lime != nil {
					rate = strconv.FormatFloat(*z.Lime, 'f', -1, 64)
				}
				s.add(t, strconv.FormatFloat(z.Area, 'f', -1, 64), rate)
			}
			return err
		}},
	} {
		var got sum
		if err := c.add(&got); err != nil {
			t.Errorf("%s: %v", c.name, err)
			continue
		}
		// Four decimals of an acre and of a ton an acre: half a unit of each in each zone.
		if got.zones != len(r.Zones) || math.Abs(got.area-float64(area)) > 0.21*float64(len(r.Zones)) || math.Abs(got.lime-float64(lime)) > 3 {
			t.Errorf("%s: %d zones, %.2f m², %.2f kg; want %d, %.2f, %.2f", c.name, got.zones, got.area, got.lime, len(r.Zones), float64(area), float64(lime))
		}
	}
	if faults.Faults() > 0 {
		t.Error(faults.String())
	}
}

// addRows adds up a table whose first row is its header.
func addRows(t *testing.T, s *sum, all [][]string) {
	t.Helper()
	at := map[string]int{}
	for i, name := range all[0] {
		at[name] = i
	}
	for _, row := range all[1:] {
		s.add(t, row[at["area_ac"]], row[at["lime_st_ac"]])
	}
}

// firstSheet reads the cells of the first sheet of a workbook.
func firstSheet(t *testing.T, b []byte) [][]string {
	t.Helper()
	z, err := zip.NewReader(bytes.NewReader(b), int64(len(b)))
	if err != nil {
		t.Fatal(err)
	}
	f, err := z.Open("xl/worksheets/sheet1.xml")
	if err != nil {
		t.Fatal(err)
	}
	text, err := io.ReadAll(f)
	if err != nil {
		t.Fatal(err)
	}
	var doc struct {
		Rows []struct {
			Cells []struct {
				At   string `xml:"r,attr"`
				V    string `xml:"v"`
				Text string `xml:"is>t"`
			} `xml:"c"`
		} `xml:"sheetData>row"`
	}
	if err := xml.Unmarshal(text, &doc); err != nil {
		t.Fatal(err)
	}
	var out [][]string
	for _, row := range doc.Rows {
		cells := make([]string, 200)
		for _, c := range row.Cells {
			column := 0
			for _, r := range strings.TrimRight(c.At, "0123456789") {
				column = 26*column + int(r-'A') + 1
			}
			cells[column-1] = c.V + c.Text
		}
		out = append(out, cells)
	}
	return out
}
