package ssurgo

import (
	"strings"

	"rootworthy/soils"
	"rootworthy/soils/unit"
)

// component takes a row of table component.
func (j *joiner) component(r *record) {
	parent, ok := j.unitAt[r.text("mukey")]
	if !ok {
		r.orphan("mukey", "map unit")
		return
	}
	in := j.area.intern
	key := r.text("cokey")
	c := soils.Component{
		Key:             strings.Clone(key),
		Name:            in(r.text("compname")),
		Percent:         quantity[unit.Percent](r, "comppct_r"),
		Kind:            r.word("compkind", componentKinds),
		Major:           r.yes("majcompflag"),
		Slope:           soils.Range[float64]{Low: r.real("slope_l"), Value: r.real("slope_r"), High: r.real("slope_h")},
		Drainage:        r.drainage("drainagecl"),
		HydrologicGroup: r.word("hydgrp", hydGroups),
		Hydric:          r.word("hydricrating", hydricRatings),
		Order:           r.word("taxorder", taxonOrders),
		Nonirrigated:    in(r.text("nirrcapcl")),
		Irrigated:       in(r.text("irrcapcl")),
	}
	if at, old := j.componentAt[key]; old {
		repeated(r, "cokey", &j.components[at], c, contentOf)
		return
	}
	if key == "" {
		r.fault("cokey", "no key", "a component without a key", "it is kept, but no horizons can be joined to it")
	} else {
		j.componentAt[c.Key] = len(j.components)
	}
	j.components = append(j.components, c)
	j.unitOf = append(j.unitOf, parent)
}

// restriction takes a row of table corestrictions.
func (j *joiner) restriction(r *record) {
	at, ok := j.componentAt[r.text("cokey")]
	if !ok {
		r.orphan("cokey", "component")
		return
	}
	c := &j.components[at]
	c.Restrictions = append(c.Restrictions, soils.Restriction{
		Kind:     r.word("reskind", restrictionKinds),
		Hardness: j.area.intern(r.text("reshard")),
		Top:      quantity[unit.Depth](r, "resdept_r"),
		Bottom:   quantity[unit.Depth](r, "resdepb_r"),
	})
}

// month takes a row of table comonth.
func (j *joiner) month(r *record) {
	at, ok := j.componentAt[r.text("cokey")]
	if !ok {
		r.orphan("cokey", "component")
		return
	}
	number := r.month()
	if number == 0 {
		return
	}
	c := &j.components[at]
	if key := r.text("comonthkey"); key != "" {
		if _, old := j.monthAt[key]; old {
			r.fault("comonthkey", "repeated key", "key \""+clip(key)+"\" stands twice", "both are kept; take a fresh copy of the export")
		} else {
			j.monthAt[strings.Clone(key)] = monthRef{at, len(c.Months)}
		}
	}
	c.Months = append(c.Months, soils.Month{
		Month:           number,
		Flooding:        r.frequency("flodfreqcl"),
		FloodDuration:   r.duration("floddurcl"),
		Ponding:         r.frequency("pondfreqcl"),
		PondingDuration: r.duration("ponddurcl"),
	})
}

// moisture takes a row of table cosoilmoist.
func (j *joiner) moisture(r *record) {
	ref, ok := j.monthAt[r.text("comonthkey")]
	if !ok {
		r.orphan("comonthkey", "month")
		return
	}
	m := &j.components[ref.component].Months[ref.month]
	m.Layers = append(m.Layers, soils.MoistureLayer{
		Top:    quantity[unit.Depth](r, "soimoistdept_r"),
		Bottom: quantity[unit.Depth](r, "soimoistdepb_r"),
		Status: r.word("soimoiststat", moistureStates),
	})
}
