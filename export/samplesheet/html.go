package samplesheet

import (
	"fmt"
	"html/template"
	"io"
	"strings"

	"rootworthy/export/words"
	"rootworthy/suitability/sampling"
)

// page is the sheet to print or to carry: nothing from outside the file.
const page = `<!DOCTYPE html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta name="viewport" content="width=device-width, initial-scale=1">
<title>{{.Title}}</title>
<style>
@page { margin: 12mm }
body { font: 14px/1.4 sans-serif; color: #000; background: #fff; max-width: 46rem; margin: 1rem auto; padding: 0 1rem; overflow-wrap: anywhere }
h1 { font-size: 1.5rem; margin: 0 0 .5rem } h2 { font-size: 1.15rem; margin: 1.2rem 0 .3rem } h3 { font-size: 1rem; margin: .7rem 0 .1rem }
table { border-collapse: collapse; width: 100%; margin: .3rem 0 } th, td { border-bottom: 1px solid #888; padding: .15rem .4rem; text-align: left }
td.n, th.n { text-align: right } p, ul { margin: .2rem 0 } svg { display: block; max-width: 100%; height: auto; margin: .3rem 0; border: 1px solid #888 }
.box { display: inline-block; width: .8rem; height: .8rem; border: 1.5px solid #000; vertical-align: middle }
@media (max-width: 30rem) { th, td { padding: .1rem; font-size: 12px } }
@media print { body { margin: 0; padding: 0 } section + section { break-before: page } svg, tr { break-inside: avoid } svg { width: auto; max-height: 115mm } h2, h3, thead { break-after: avoid } }
</style>
</head>
<body>
<main>
<h1>{{.Title}}{{.Date}}</h1>
<p><b>{{.Total}}</b></p>
<ul>
{{range .Rules}}<li>{{.}}</li>
{{end}}</ul>
{{range .Fields}}<section>
<h2>Field {{.Name}}: {{.Count}}, {{.Way}} on foot</h2>
{{range .Maps}}{{.}}
{{end}}{{range .Zones}}<h3>Zone {{.Name}}, {{.Acres}} acres</h3>
<p>{{.Why}}</p>
<table>
<thead><tr><th scope="col">Done</th><th scope="col">Bag</th><th scope="col">Depth</th><th scope="col" class="n">Cores</th></tr></thead>
<tbody>
{{range .Bags}}<tr><td><span class="box"></span></td><td>{{.Name}}</td><td>{{.Depth}}</td><td class="n">{{.Cores}}</td></tr>
{{end}}</tbody>
</table>
{{end}}<h3>Stops in the order of walking</h3>
<table>
<thead><tr><th scope="col" class="n">Stop</th><th scope="col">Latitude</th><th scope="col">Longitude</th><th scope="col">Into</th></tr></thead>
<tbody>
{{range .Stops}}<tr><td class="n">{{.Number}}</td><td>{{.Lat}}</td><td>{{.Lon}}</td><td>{{.Into}}</td></tr>
{{end}}</tbody>
</table>
</section>
{{end}}{{with .Left}}<h2>Not sampled</h2>
<ul>
{{range .}}<li>{{.}}</li>
{{end}}</ul>
{{end}}<h2>What the choice rests on</h2>
<ul>
{{range .Judgements}}<li>{{.}}</li>
{{end}}</ul>
</main>
</body>
</html>
`

// htmlField, htmlZone, htmlBag and htmlStop are what the page shows, in words already.
type htmlField struct {
	Name, Way, Count string
	Maps             []template.HTML
	Zones            []htmlZone
	Stops            []htmlStop
}

type htmlZone struct {
	Name, Acres, Why string
	Bags             []htmlBag
}

type htmlBag struct {
	Name, Depth string
	Cores       int
}

type htmlStop struct {
	Number         int
	Lat, Lon, Into string
}

// writeHTML writes the sheet as a page.
func writeHTML(w io.Writer, p *sampling.Plan) error {
	t, err := template.New("sheet").Parse(page)
	if err != nil {
		return err
	}
	data := struct {
		Title, Date, Total      string
		Rules, Left, Judgements []string
		Fields                  []htmlField
	}{title, dated(p), total(p), rules(p), leftLines(p), judgements(), nil}
	for i := range p.Fields {
		f, err := htmlOf(p, &p.Fields[i], fmt.Sprintf("f%d", i+1))
		if err != nil {
			return err
		}
		data.Fields = append(data.Fields, f)
	}
	return t.Execute(w, data)
}

// htmlOf puts a field into words. The prefix keeps ids of its maps apart from those of other fields on the page.
func htmlOf(p *sampling.Plan, f *sampling.Field, prefix string) (out htmlField, err error) {
	out = htmlField{Name: words.Shown(fieldName(f.Field), mostName), Way: walk(f.Way), Count: words.Count(len(f.Stops), "stop", "stops")}
	for i, d := range maps(p, f) {
		var svg strings.Builder
		if err := d.SVG(&svg, fmt.Sprintf("%s-%d", prefix, i+1)); err != nil {
			return out, err
		}
		out.Maps = append(out.Maps, template.HTML(svg.String())) // of our own making; names in it are escaped
	}
	for i := range p.Zones {
		z := &p.Zones[i]
		if z.Zone.FieldID != f.Field.ID {
			continue
		}
		x := htmlZone{Name: words.Shown(z.Zone.ID, mostName), Acres: words.Acres(z.Zone.Area), Why: reason(z)}
		for k := range p.Bags {
			if b := &p.Bags[k]; b.Zone == z.Zone {
				x.Bags = append(x.Bags, htmlBag{words.Shown(b.ID, mostName), depth(b), b.Cores})
			}
		}
		out.Zones = append(out.Zones, x)
	}
	for _, s := range f.Stops {
		out.Stops = append(out.Stops, htmlStop{s.Number, degrees(s.At[1]), degrees(s.At[0]), fills(p, s)})
	}
	return out, nil
}
