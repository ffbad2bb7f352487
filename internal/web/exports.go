package web

import (
	"context"
	"fmt"
	"io"
	"net/http"
	"path"
	"slices"
	"strings"

	"rootworthy/export/exchange"
	"rootworthy/export/report"
	"rootworthy/export/taskdata"
	"rootworthy/export/words"
	"rootworthy/suitability"
)

// exportGroup is a way to take a run along, with its files.
type exportGroup struct {
	Name, About string
	Files       []exportFile
}

// exportFile is a file that is made when it is asked for.
type exportFile struct{ Name, Address string }

// exportPage is what the page of a run offers to take along.
type exportPage struct {
	Formats []exportGroup
	Reports []exportGroup
	Spread  *spreadForm // for which spreader; nil where it is refused
	Refusal string      // why there is nothing to load into a spreader
}

// exports lists what can be made of a run.
func (s *Server) exports(b *book, r *suitability.Result) exportPage {
	base := fmt.Sprintf("/run/%d/", b.Number)
	var p exportPage
	for _, f := range exchange.Formats() {
		g := exportGroup{Name: f.Name, About: f.About}
		for _, name := range f.Files() {
			g.Files = append(g.Files, exportFile{name, base + "as/" + f.Name + "/" + name})
		}
		p.Formats = append(p.Formats, g)
	}
	if s.exporter.Report != nil {
		for _, reader := range reportReaders {
			g := exportGroup{Name: reader.name, About: reader.about}
			for _, end := range []string{".html", ".pdf", "-a4.pdf"} {
				g.Files = append(g.Files, exportFile{reader.name + end, base + "report/" + reader.name + end})
			}
			p.Reports = append(p.Reports, g)
		}
	}
	if err := taskdata.Refusal(r, taskdata.Options{}); err != nil {
		p.Refusal = err.Error()
		return p
	}
	form := spreadFormOf(base, nil)
	p.Spread = &form
	return p
}

// reportReaders are those for whom a report is made.
var reportReaders = []struct{ name, about string }{
	{"landowner", "the answer, a map, zone by zone what to do, lime, calendar, tests"},
	{"consultant", "fields by rank, reasons by area, small maps, what would change it"},
	{"technician", "rates, totals, files, checks"},
}

// spreadFiles are what a spreader's driver needs, the task data first.
var spreadFiles = []string{"TASKDATA.zip", taskdata.SheetHTML, taskdata.SheetText}

// kinds are the types of files by their ending; the table of a machine may say otherwise.
var kinds = map[string]string{".zip": "application/zip", ".gpkg": "application/geopackage+sqlite3", ".fgb": "application/octet-stream",
	".parquet": "application/vnd.apache.parquet", ".kml": "application/vnd.google-earth.kml+xml", ".kmz": "application/vnd.google-earth.kmz",
	".tif": "image/tiff", ".csv": "text/csv; charset=utf-8", ".xlsx": "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet",
	".geojson": "application/geo+json", ".html": "text/html; charset=utf-8", ".pdf": "application/pdf", ".txt": "text/plain; charset=utf-8"}

func kindOf(name string) string {
	if k, ok := kinds[path.Ext(name)]; ok {
		return k
	}
	return "application/octet-stream"
}

func (s *Server) exportRoutes(mux *http.ServeMux) {
	mux.HandleFunc("GET /run/{run}/as/{format}/{name}", s.asFormat)
	mux.HandleFunc("GET /run/{run}/report/{name}", s.asReport)
	mux.HandleFunc("GET /run/{run}/spread", s.spreadFor)
	mux.HandleFunc("GET /run/{run}/spread/{name}", s.asTaskData)
}

// asFormat sends the zones in another format, by the code and with the bytes of the verb convert.
func (s *Server) asFormat(w http.ResponseWriter, r *http.Request) {
	name, format := r.PathValue("name"), r.PathValue("format")
	i := slices.IndexFunc(exchange.Formats(), func(f exchange.Format) bool { return f.Name == format })
	if i < 0 || !slices.Contains(exchange.Formats()[i].Files(), name) {
		s.fail(w, r, http.StatusNotFound, "A run is not written in such a file.")
		return
	}
	_, l, ok := s.opened(w, r)
	if !ok {
		return
	}
	s.attachment(w, r, name, kindOf(name), func(ctx context.Context, out io.Writer) error {
		run := stamped(l.result)
		set, err := exchange.New(ctx, run, words.Sentences(run.Profile), exchange.Options{Formats: []string{format}, Version: s.exporter.Version})
		if err != nil {
			return err
		}
		return set.WriteFile(ctx, name, out)
	})
}

// asReport sends a report, by the code and with the bytes of the verb report.
func (s *Server) asReport(w http.ResponseWriter, r *http.Request) {
	name := r.PathValue("name")
	o := ReportOrder{PDF: strings.HasSuffix(name, ".pdf"), Paper: report.Letter}
	base := strings.TrimSuffix(strings.TrimSuffix(name, ".pdf"), ".html")
	if o.PDF && strings.HasSuffix(base, "-a4") {
		o.Paper, base = report.A4, strings.TrimSuffix(base, "-a4")
	}
	for _, reader := range reportReaders {
		if base == reader.name && name != base {
			o.Reader = reader.name
		}
	}
	if o.Reader == "" || s.exporter.Report == nil {
		s.fail(w, r, http.StatusNotFound, "There is no such report.")
		return
	}
	b, l, ok := s.opened(w, r)
	if !ok {
		return
	}
	s.attachment(w, r, name, kindOf(name), func(ctx context.Context, out io.Writer) (err error) {
		o.Run = stamped(l.result)
		if o.Files, err = filesOf(b, o.Run); err != nil {
			return err
		}
		return s.exporter.Report(ctx, o, out)
	})
}
