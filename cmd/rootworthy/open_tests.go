package main

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"os"
	"strconv"
	"strings"

	"github.com/spf13/pflag"

	"rootworthy/internal/diag"
	"rootworthy/internal/job"
	"rootworthy/raster/interp"
	"rootworthy/soils/lab"
	"rootworthy/soils/lime"
	"rootworthy/soils/unit"
)

// testFlags are the flags that bring laboratory tests, the same for every verb that takes them.
type testFlags struct {
	tests   []string // laboratory files
	mapping string   // what they do not say; "" for nothing

	// How lime is worked out: the method by name, a table for the method "table", what was spread before ("1.5,6").
	method, table, residual string
	depth                   float64 // to be limed, cm; 0 for the method's own
	saturation              float64 // of aluminum that the crop bears, percent; 0 for not said
	quality                 float64 // ECCE that the method means where its source is silent, percent; 0 for not said
	memory                  bool    // methods from memory, not checked, may be used

	// The surface between the samples, and zones split along it.
	interpolate string // method; "" for no surface
	splitBy     string // "ph", "lime"; "" for pH
	splitZones  int    // at most so many of a field; 0 splits none
	spreadWidth string // length with its unit
}

// declare declares the flags of verbs that lay samples on the ground; [testFlags.declareMethod] those that a method needs anywhere.
func (f *testFlags) declare(fl *pflag.FlagSet) {
	fl.StringArrayVar(&f.tests, "tests", nil, "")
	fl.StringVar(&f.interpolate, "interpolate", "", "")
	fl.IntVar(&f.splitZones, "split-zones", 0, "")
	fl.StringVar(&f.splitBy, "split-by", "", "")
	fl.StringVar(&f.spreadWidth, "spread-width", "", "")
	f.declareMethod(fl)
}

// declareMethod declares all but the files.
func (f *testFlags) declareMethod(fl *pflag.FlagSet) {
	fl.StringVar(&f.mapping, "mapping", "", "")
	fl.StringVar(&f.method, "lime-method", "", "")
	fl.StringVar(&f.residual, "residual-lime", "", "")
	fl.StringVar(&f.table, "lime-table", "", "")
	fl.Float64Var(&f.depth, "lime-depth", 0, "")
	fl.Float64Var(&f.saturation, "al-saturation", 0, "")
	fl.Float64Var(&f.quality, "lime-quality", 0, "")
	fl.BoolVar(&f.memory, "from-memory", false, "")
}

// check says what of the command line cannot be meant.
func (f *testFlags) check() error {
	var errs []error
	if f.method != "" {
		if _, ok := lime.MethodByName(f.method); !ok {
			errs = append(errs, fmt.Errorf("--lime-method: there is no method %q%s", f.method, nearest(f.method, methodNames())))
		}
		if len(f.tests) == 0 {
			errs = append(errs, errors.New("--lime-method needs soil tests: add --tests FILE"))
		}
	}
	if _, ok := surfaceMethods()[f.interpolate]; f.interpolate != "" && !ok {
		errs = append(errs, fmt.Errorf("--interpolate: there is no %q; give kriging, inverse-distance or nearest", f.interpolate))
	}
	if f.interpolate != "" && len(f.tests) == 0 {
		errs = append(errs, errors.New("--interpolate needs soil tests: add --tests FILE"))
	}
	if _, err := f.split(); err != nil {
		errs = append(errs, err)
	}
	if f.method == "table" && f.table == "" {
		errs = append(errs, errors.New("--lime-method table needs --lime-table FILE"))
	}
	// NaN fails both sides and is refused with the rest.
	if !(f.quality == 0 || f.quality >= 1 && f.quality <= float64(lime.MostECCE)) {
		errs = append(errs, fmt.Errorf("--lime-quality: %g %% is not possible; give the ECCE of the lime that the method means, 1 to %g", f.quality, float64(lime.MostECCE)))
	}
	if _, err := f.last(); err != nil {
		errs = append(errs, err)
	}
	return errors.Join(errs...)
}

// surfaceMethods are the ways to make sampled points a surface, by what the user types.
func surfaceMethods() map[string]interp.Method {
	return map[string]interp.Method{"kriging": interp.OrdinaryKriging, "inverse-distance": interp.InverseDistance, "nearest": interp.Nearest}
}

// split reads how zones are to be split; nil where they are not.
// The upper bound of 20 zones keeps a slip of the pen from cutting a field into shreds; two is the least that is a split.
func (f *testFlags) split() (*job.Split, error) {
	width, err := lengthOf("spread-width", f.spreadWidth)
	switch {
	case err != nil:
		return nil, err
	// All three, since a width or a quantity typed without the number of zones is a flag that would do nothing.
	case f.splitZones == 0 && f.spreadWidth == "" && f.splitBy == "":
		return nil, nil
	case f.splitZones < 2 || f.splitZones > 20:
		return nil, errors.New("--split-zones: give the most zones to make of a field's tested pH or lime, 2 to 20")
	case f.interpolate == "":
		return nil, errors.New("--split-zones follows a surface: add --interpolate kriging")
	}
	s := &job.Split{Most: f.splitZones, Width: width}
	switch f.splitBy {
	case "", "ph":
	case "lime":
		s.By = job.SplitByLime
		if f.method == "" {
			return nil, errors.New("--split-by lime follows what a method asks for: add --lime-method NAME")
		}
	default:
		return nil, fmt.Errorf("--split-by: there is no %q; give ph (of the topsoil, which is also meant without the flag) or lime (the requirement)", f.splitBy)
	}
	return s, nil
}

// methodNames lists the lime methods as they are typed.
func methodNames() []string {
	var out []string
	for _, m := range lime.Methods() {
		out = append(out, m.Name)
	}
	return out
}

// last reads --residual-lime: short tons an acre and months since, with a comma between.
func (f *testFlags) last() (a lime.Application, err error) {
	if f.residual == "" {
		return a, nil
	}
	rate, months, ok := strings.Cut(f.residual, ",")
	r, errRate := strconv.ParseFloat(strings.TrimSpace(rate), 64)
	m, errMonths := strconv.ParseFloat(strings.TrimSpace(months), 64)
	// Written as what must hold, so that NaN, which compares with nothing, is refused too. A century (1,200 months) bounds the time.
	if !ok || errRate != nil || errMonths != nil || !(r >= 0 && r <= mostResidual && m >= 0 && m <= 1200) {
		return a, fmt.Errorf("--residual-lime: %q is not possible; give short tons an acre and months since, such as 1.5,6", f.residual)
	}
	return lime.Application{Rate: unit.ShortTonsPerAcre(r), Months: m}, nil
}

// mostResidual is the most lime that anybody spreads at once, short tons an acre; by proposal.
const mostResidual = 20

// given is what the test flags brought.
// The zero value is a run on the survey alone.
type given struct {
	tests   *job.Tests // nil without tests
	ask     lime.Ask
	results []lab.Results
	sources []*witness
}

// open reads the laboratory files, the mapping and the lime table.
func (f *testFlags) open(faults *diag.List) (g given, err error) {
	mapping, err := f.openMapping(&g, faults)
	if err != nil {
		return g, err
	}
	if g.ask, err = f.ask(&g); err != nil || len(f.tests) == 0 {
		return g, err
	}
	if err := f.begin(&g); err != nil {
		return g, err
	}
	for _, path := range f.tests {
		r, err := g.read(path, mapping, faults)
		if err != nil {
			return g, err
		}
		g.add(r, faults)
	}
	return g, nil
}

// begin says what is to be made of the samples that follow.
// Methods are looked up without a complaint here: check has refused every name that is not on the lists.
func (f *testFlags) begin(g *given) (err error) {
	g.tests = &job.Tests{Ask: g.ask}
	if m, ok := lime.MethodByName(f.method); ok {
		g.tests.Method = &m
	}
	// Splitting needs a surface, so it is read only where there is one.
	if m, ok := surfaceMethods()[f.interpolate]; ok {
		g.tests.Surface = &m
		g.tests.Split, err = f.split()
	}
	return err
}

// add takes in what a laboratory file holds, but for samples that an earlier file gave.
func (g *given) add(r lab.Results, faults *diag.List) {
	g.results = append(g.results, r)
	g.tests.Samples = lab.Join(g.tests.Samples, r.Samples, faults)
}

// read reads one laboratory file.
func (g *given) read(path string, mapping *lab.Mapping, faults *diag.List) (lab.Results, error) {
	text, err := g.take(path, "tests", lab.MostBytes)
	if err != nil {
		return lab.Results{}, err
	}
	return lab.Read(path, bytes.NewReader(text), int64(len(text)), mapping, faults)
}

// take reads a whole file of at most most bytes, and keeps it as a witness of the run.
// One byte more than that is read at most, so that the reader sees that the file is too large and says so, and a file without end does no
// harm.
func (g *given) take(path, role string, most int64) ([]byte, error) {
	w := &witness{FS: os.DirFS(dirOf(path)), role: role, name: path}
	f, err := w.Open(baseName(path))
	if err != nil {
		return nil, err
	}
	defer f.Close()
	text, err := io.ReadAll(io.LimitReader(f, most+1))
	if err != nil {
		return nil, err
	}
	g.sources = append(g.sources, w)
	return text, nil
}

// openMapping reads the column mapping, which is refused with a fault in it: read wrong, every sample would be.
func (f *testFlags) openMapping(g *given, faults *diag.List) (*lab.Mapping, error) {
	if f.mapping == "" {
		return nil, nil
	}
	text, err := g.take(f.mapping, "mapping", 1<<20)
	if err != nil {
		return nil, err
	}
	return lab.ReadSoundMapping(f.mapping, bytes.NewReader(text), faults)
}

// ask turns the flags into what is wanted of a method; the target comes with the run.
func (f *testFlags) ask(g *given) (lime.Ask, error) {
	// A flag of 0 was left out (see notZero) and the method's own figure holds.
	a := lime.Ask{FromMemory: f.memory}
	if f.depth != 0 {
		a.Depth = unit.Some(unit.Depth(f.depth))
	}
	if f.quality != 0 {
		a.Quality = unit.Some(lime.Quality(f.quality))
	}
	if f.saturation != 0 {
		a.Saturation = unit.Some(unit.Percent(f.saturation))
	}
	var err error
	if a.Last, err = f.last(); err != nil || f.table == "" {
		return a, err
	}
	text, err := g.take(f.table, "lime table", 1<<20)
	if err != nil {
		return a, err
	}
	a.Table, err = readTable(f.table, text)
	return a, err
}

// readTable reads a lime table. One with a fault in it is refused whole: a wrong figure would be wrong in every zone.
func readTable(name string, text []byte) (*lime.Table, error) {
	var own diag.List
	t, ok, err := lime.ReadTable(name, bytes.NewReader(text), &own)
	if err == nil && !ok {
		err = fmt.Errorf("the lime table has faults:\n%s", own.String())
	}
	return t, err
}
