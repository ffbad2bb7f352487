package web

import (
	"fmt"
	"html/template"
	"net/http"
	"strconv"
	"strings"

	"rootworthy/export/mapdraw"
	"rootworthy/export/words"
	"rootworthy/suitability"
)

// zonePage is one zone with the whole chain of reasoning.
type zonePage struct {
	frame
	Run               int
	Name, Back        string
	Row               row
	Field             string
	FieldID           string
	Plain, Expert     string
	Sure              []string
	Shares            []share
	Components        []component
	Lime              string
	LimeFacts         []fact
	Tests             []string
	Sources           []string
	Whole             string // the chain as text, to be checked by hand
	Map               template.HTML
	Asked             bool // under a what-if
	Previous, Next    int  // places of neighbours in the run; -1 at an end
	Today, TodayWords string
	Chance            string // how likely the class is; "" under a what-if
	FieldPlace        int    // of its field in the run
}

type share struct{ Class, Once, Today string }

// component is one soil with its findings in words.
type component struct {
	Name, Percent  string
	Class, Today   mark
	ClassWord, Why string
	Lime           string
	Findings       []finding
	Horizons       []horizon
}

type finding struct{ Criterion, Found, Limit, Score, Class, Source, Note string }

type horizon struct{ Name, Depth, PH, Range, Texture string }

// zone shows a zone, as a page or as a part of one.
func (s *Server) zone(w http.ResponseWriter, r *http.Request) {
	b, sc, ok := s.staged(w, r)
	if !ok {
		return
	}
	i, err := strconv.Atoi(r.PathValue("zone"))
	if err != nil || i < 0 || i >= len(sc.zones) {
		s.fail(w, r, http.StatusNotFound, "There is no such zone in this run.")
		return
	}
	p, err := sc.zonePage(i)
	if err != nil {
		s.fail(w, r, http.StatusInternalServerError, err.Error())
		return
	}
	p.frame, p.Run, p.Name = s.frame("Zone "+p.Row.ID), b.Number, heading(b, sc.result)
	p.Back = fmt.Sprintf("/run/%d/", b.Number)
	if q := askOnly(r.URL.Query()); len(q) > 0 {
		p.Back += "?" + q.Encode()
	}
	if !r.URL.Query().Has("part") {
		s.show(w, http.StatusOK, "zone.html", p)
		return
	}
	text, err := s.html("zone-body", p)
	if err != nil {
		s.fail(w, r, http.StatusInternalServerError, err.Error())
		return
	}
	w.Header().Set("Content-Type", "text/html; charset=utf-8")
	w.Write([]byte(text))
}

func (s *scene) zonePage(i int) (*zonePage, error) {
	z := s.zones[i]
	p := &zonePage{Row: s.row(i), FieldID: z.FieldID, Plain: words.Reason(z, words.Landowner), Expert: words.Reason(z, words.Consultant),
		Lime: words.Lime(z, words.Technician, s.profile), LimeFacts: limeFacts(&z.Lime), Asked: s.ask.key != "", Previous: i - 1, Next: i + 1,
		Today: z.Rating.ClassToday.String()}
	if i+1 == len(s.zones) {
		p.Next = -1
	}
	if f, ok := s.field[z.FieldID]; ok {
		p.Field, p.FieldPlace = fieldName(&s.result.Fields[f]), f
	}
	// chances are those of the run as it was made; under a what-if they would speak of other limits
	if sure := s.chances().of(z); !p.Asked && sure.Draws > 0 {
		p.Chance = words.ClassChance(z.Rating.Class, sure.Class.Of, sure.Error, words.Landowner)
	}
	for _, code := range z.Rating.Confidence.Reasons {
		p.Sure = append(p.Sure, words.ConfidenceReason(code, words.Consultant))
	}
	for _, c := range suitability.Classes() {
		p.Shares = append(p.Shares, share{c.String(), percent(z.Rating.Shares.Of(c)), percent(z.Rating.SharesToday.Of(c))})
	}
	for j := range z.Rating.Components {
		p.Components = append(p.Components, componentOf(&z.Rating.Components[j]))
	}
	for _, a := range s.result.Provenance.Surveys {
		if a.Symbol == z.SurveyArea {
			p.Sources = append(p.Sources, fmt.Sprintf("%s, survey area %s, version %s (%s)", a.Name, a.Symbol, a.Version, a.Date))
		}
	}
	var whole strings.Builder
	err := words.Explain(&whole, z, s.profile)
	p.Whole = whole.String()
	sift := sift{field: z.FieldID}
	p.Map = template.HTML(s.svgWith(&sift, fmt.Sprintf("zone%d", i), mapdraw.Options{Style: mapdraw.Screen(), Width: 560, Parts: mapdraw.Legend})) // mapdraw escapes
	return p, err
}

// svgWith draws the map of a field or of all; "" where there is nothing to draw. prefix keeps its ids apart from those of another map.
func (s *scene) svgWith(f *sift, prefix string, o mapdraw.Options) string {
	o.Shade = s.relief().light()
	var b strings.Builder
	if s.drawing(f.field, o).SVG(&b, prefix) != nil {
		return ""
	}
	return b.String()
}

func percent(x float64) string { return words.Decimal(x, 1) + " %" }

func componentOf(c *suitability.ComponentRating) component {
	out := component{Name: c.Name, Percent: "share not recorded", Class: markOf(c.Class), Today: markOf(c.ClassToday), ClassWord: c.Class.String()}
	if v, ok := c.Percent.Get(); ok {
		out.Percent = percent(float64(v)) + " of the ground"
	}
	switch {
	case c.WhyNotRated != "":
		out.Why = words.WhyNotRated(c.WhyNotRated, words.Consultant)
	case c.Limiting != "":
		out.Why = "limited by " + words.Criterion(c.Limiting, words.Consultant)
		// it limits today and not once corrected, so correcting it is what the class waits for
	case c.LimitingToday != "":
		out.Why = "once " + words.Criterion(c.LimitingToday, words.Consultant) + " is corrected"
	}
	for i := range c.Findings {
		out.Findings = append(out.Findings, findingOf(&c.Findings[i]))
	}
	for i := range c.Horizons {
		out.Horizons = append(out.Horizons, horizonOf(&c.Horizons[i]))
	}
	return out
}

// findingOf puts a finding into cells.
func findingOf(f *suitability.Finding) finding {
	out := finding{Criterion: words.Criterion(f.Criterion, words.Consultant), Found: "not recorded", Score: "–", Class: "–"}
	if f.Word != "" {
		out.Found = f.Word
	}
	if v, ok := f.Value.Get(); ok {
		out.Found = withUnit(v, f.Unit)
		if f.Word != "" {
			out.Found += ", " + f.Word
		}
		if f.AtLeast {
			out.Found = "at least " + out.Found
		}
	}
	if f.NoneDescribed() {
		out.Found = "none described"
	}
	if s, ok := f.Score.Get(); ok {
		out.Score, out.Class = words.Decimal(s, 1), f.Class.String()
	}
	if f.NotApplicable {
		out.Found, out.Class = "does not apply", "–"
	}
	out.Limit = f.LimitWord
	if v, ok := f.Limit.Get(); ok {
		out.Limit = withUnit(v, f.Unit)
	}
	if f.Status != "" {
		out.Source = words.Status(f.Status, words.Consultant)
		if f.Source != "" {
			out.Source += ": " + f.Source
		}
	}
	if f.Note != "" {
		out.Note = words.FindingNote(f.Note, words.Consultant)
	}
	if f.Tested {
		out.Note = strings.TrimPrefix(out.Note+"; from laboratory tests", "; ")
	}
	return out
}

func horizonOf(h *suitability.HorizonUsed) horizon {
	out := horizon{Name: h.Name, Depth: fmt.Sprintf("%g–%g", float64(h.Top), float64(h.Bottom)), PH: "–", Range: "–", Texture: h.Texture}
	if v, ok := h.PH.Get(); ok {
		out.PH = words.Fixed(float64(v), 1)
	}
	low, okLow := h.PHLow.Get()
	high, okHigh := h.PHHigh.Get()
	if okLow && okHigh {
		out.Range = words.Fixed(float64(low), 1) + "–" + words.Fixed(float64(high), 1)
	}
	return out
}

// limeFacts lists the figures of a zone's lime.
func limeFacts(l *suitability.Lime) []fact {
	var out []fact
	add := func(name, value string) {
		if value != "" {
			out = append(out, fact{name, value})
		}
	}
	if likely, ok := l.Likely.Get(); ok {
		figure, band := shortLime(l)
		if likely > 0 {
			figure += fmt.Sprintf(" short tons/ac (%s t/ha)", words.Decimal(likely.TonnesPerHectare(), 2))
		}
		add("Likely", figure)
		if likely > 0 && band != "" {
			add("Band", band+" short tons/ac")
		}
	}
	add("Rests on", l.Basis)
	if m, ok := l.ProductMass.Get(); ok && m > 0 {
		add("To order", fmt.Sprintf("%s short tons (%s t) of product", words.Tons(m.ShortTons()), words.Tons(float64(m)/1000)))
		add("Yearly passes", strconv.Itoa(l.Passes))
	}
	add("Worked by", words.Date(l.Ready))
	add("Sow", words.Window(l.Window))
	return out
}
