package taskdata

import (
	"html/template"
	"io"
)

// sheetPage is the load sheet to print: one page for a score of fields, nothing from outside the file.
const sheetPage = `<!DOCTYPE html>
<html lang="en">
<head>
<meta charset="utf-8">
<title>{{.Title}}</title>
<style>
@page { margin: 12mm }
body { font: 13px/1.35 sans-serif; color: #000; background: #fff; max-width: 46rem; margin: 1rem auto; padding: 0 1rem }
h1 { font-size: 1.5rem; margin: 0 0 .5rem } h2 { font-size: 1.05rem; margin: .9rem 0 .2rem }
table { border-collapse: collapse; width: 100% } th, td { border-bottom: 1px solid #888; padding: .15rem .4rem; text-align: right }
th:first-child, td:first-child { text-align: left } tfoot td { font-weight: bold; border-top: 2px solid #000 }
p, ul { margin: .2rem 0 } .stamp { border: 3px solid #000; padding: .4rem .6rem; font-weight: bold }
th, td { overflow-wrap: anywhere }
@media (max-width: 30rem) { th, td { padding: .1rem; font-size: 11px } }
@media print { body { margin: 0; padding: 0 } }
</style>
</head>
<body>
<main>
<h1>{{.Title}}{{with .Date}}, {{.}}{{end}}</h1>
{{with .Untested}}<p class="stamp">{{.}}</p>
{{end}}<p>Product: <b>{{.Product}}</b>. Spreader {{.Machine}}.{{with .Cells}} Cells of {{.}}.{{end}}</p>
<h2>How much</h2>
<table>
<thead><tr><th scope="col">Task</th><th scope="col">acres limed</th><th scope="col">short tons</th><th scope="col">tonnes</th><th scope="col">loads</th><th scope="col">last load</th></tr></thead>
<tbody>
{{range .Fields}}<tr><td>{{.Name}}</td><td>{{.Area}}</td><td>{{.Tons}}</td><td>{{.Tonnes}}</td><td>{{.Loads}}</td><td>{{.Last}}</td></tr>
{{end}}</tbody>
<tfoot><tr>{{with .Total}}<td>{{.Name}}</td><td>{{.Area}}</td><td>{{.Tons}}</td><td>{{.Tonnes}}</td><td>{{.Loads}}</td><td>{{.Last}}</td>{{end}}</tr></tfoot>
</table>
<h2>Check the rate</h2>
<p>Tray opening {{.Tray}}. {{.Weighed}}</p>
<table>
<thead><tr><th scope="col">short ton/ac</th><th scope="col">lb/ac</th><th scope="col">t/ha</th><th scope="col">grams in a tray</th><th scope="col">ounces in a tray</th></tr></thead>
<tbody>
{{range .Rates}}<tr><td>{{.ShortTons}}</td><td>{{.Pounds}}</td><td>{{.Metric}}</td><td>{{.Grams}}</td><td>{{.Ounces}}</td></tr>
{{end}}</tbody>
</table>
<h2>Take care</h2>
<ul>
{{range .Cautions}}<li>{{.}}</li>
{{end}}</ul>
{{with .Notes}}<h2>Note</h2>
<ul>
{{range .}}<li>{{.}}</li>
{{end}}</ul>
{{end}}{{with .Left}}<h2>Nothing is spread on</h2>
<ul>
{{range .}}<li>{{.}}</li>
{{end}}</ul>
{{end}}</main>
</body>
</html>
`

// WriteSheetHTML writes the load sheet as a page to print.
func (p *Plan) WriteSheetHTML(w io.Writer) error {
	page, err := template.New("sheet").Parse(sheetPage)
	if err != nil {
		return err
	}
	return page.Execute(w, struct {
		sheet
		Weighed string
	}{p.sheet(), weighed})
}
