package main

import (
	"fmt"
	"slices"
	"strings"

	"github.com/spf13/pflag"

	"rootworthy/export/report"
	"rootworthy/suitability"
	"rootworthy/suitability/uncertainty"
)

// part is a share of a run that gets reports of its own.
type part struct {
	folder string // within the folder of the reports; "" for the folder itself
	run    *suitability.Result
	study  *uncertainty.Study
}

// fieldChoice is what --field and --customer name: the fields of a run that a report, or a plan, is about.
type fieldChoice struct{ fields, customers []string }

// declare declares both flags. They are arrays, not lists with commas: a customer's name may hold a comma.
func (c *fieldChoice) declare(fl *pflag.FlagSet) {
	fl.StringArrayVar(&c.fields, "field", nil, "")
	fl.StringArrayVar(&c.customers, "customer", nil, "")
}

// of is the part of a run that the flags name: fields that both let pass. It is the run itself where neither was typed.
// A name that no field has is an error rather than an empty answer: it is a slip of the pen, and nothing would be sent out.
func (c *fieldChoice) of(r *suitability.Result) (*suitability.Result, error) {
	if len(c.fields)+len(c.customers) == 0 {
		return r, nil
	}
	if err := known("--field", c.fields, r, func(x *suitability.Field) string { return x.ID }); err != nil {
		return nil, err
	}
	if err := known("--customer", c.customers, r, func(x *suitability.Field) string { return x.Customer }); err != nil {
		return nil, err
	}
	out, _ := report.Only(r, nil, func(x *suitability.Field) bool {
		return (len(c.fields) == 0 || slices.Contains(c.fields, x.ID)) && (len(c.customers) == 0 || slices.Contains(c.customers, x.Customer))
	})
	if len(out.Fields) == 0 {
		return nil, fmt.Errorf("none of the fields that --field names belongs to the customer that --customer names")
	}
	return out, nil
}

// known says which of the names typed no field has, and some that there are.
func known(flag string, typed []string, r *suitability.Result, of func(*suitability.Field) string) error {
	var there []string
	seen := map[string]bool{}
	for i := range r.Fields {
		if name := of(&r.Fields[i]); name != "" && !seen[name] {
			seen[name] = true
			there = append(there, name)
		}
	}
	for _, name := range typed {
		switch {
		case seen[name]:
		case len(there) == 0:
			return fmt.Errorf("%s: the fields of this run name none; screen them again with %s PROPERTY", flag, flag)
		default:
			const few = 10
			list := strings.Join(there[:min(len(there), few)], ", ")
			if more := len(there) - few; more > 0 {
				list += fmt.Sprintf(" and %d more", more)
			}
			return fmt.Errorf("%s: there is no %q in the run; there are %s", flag, name, list)
		}
	}
	return nil
}

// parts divides a run as --each says: a folder for each field, or for each customer, in the order of the run.
func (f *reportFlags) parts(r *suitability.Result, study *uncertainty.Study) ([]part, error) {
	var of func(*suitability.Field) string
	switch f.each {
	case "":
		return []part{{"", r, study}}, nil
	case "field":
		of = func(x *suitability.Field) string { return x.ID }
	case "customer":
		of = func(x *suitability.Field) string { return x.Customer }
		if !slices.ContainsFunc(r.Fields, func(x suitability.Field) bool { return x.Customer != "" }) {
			return nil, fmt.Errorf("--each customer: the fields of this run name no customer; screen them again with --customer PROPERTY")
		}
	}
	var names []string
	seen := map[string]bool{}
	for i := range r.Fields {
		if name := of(&r.Fields[i]); !seen[name] {
			seen[name] = true
			names = append(names, name)
		}
	}
	var out []part
	for i, name := range names {
		// The number before the word keeps apart what differs only in signs that file names cannot have, and sorts as the run does.
		word := fileWord(name)
		// Fields whose owner nobody named get a folder of their own rather than none.
		if name == "" {
			word = "without-customer"
		}
		p := part{folder: fmt.Sprintf("%03d-%s", i+1, word)}
		p.run, p.study = report.Only(r, study, func(x *suitability.Field) bool { return of(x) == name })
		out = append(out, p)
	}
	return out, nil
}
