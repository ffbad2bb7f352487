package ssurgo

import (
	"strings"

	"rootworthy/soils"
	"rootworthy/soils/unit"
)

// component takes a row of table component.
func (j *joiner) component(r *record) {
	// parents are read first, so a key that is not there now will not come
	parent, ok := j.unitAt[r.text("mukey")]
	if !ok {
		r.orphan("mukey", "map unit")
		return
	}
	in := j.area.intern
	key := r.text("cokey")
	c := soils.Component{
		// texts of a record share its memory, so what is kept is copied: keys by Clone, since each is met once, other texts by intern
		Key:     strings.Clone(key),
		Name:    in(r.text("compname")),
		Percent: quantity[unit.Percent](r, "comppct_r"),
		Kind:    r.word("compkind", componentKinds),
		Major:   r.yes("majcompflag"),
		// percent: low, representative and high are the surveyors' own, not derived
		Slope:           soils.Range[float64]{Low: r.real("slope_l"), Value: r.real("slope_r"), High: r.real("slope_h")},
		Drainage:        r.drainage("drainagecl"),
		HydrologicGroup: r.word("hydgrp", hydGroups),
		Hydric:          r.ranking("hydricrating"),
		Order:           r.word("taxorder", taxonOrders),
		Nonirrigated:    in(r.text("nirrcapcl")),
		Irrigated:       in(r.text("irrcapcl")),
	}
	// A component that stands twice alike is taken once. Two different ones of one key are damage, and content decides
	// between them, whichever stands first.
	if at, old := j.componentAt[key]; old {
		if r.repeated("cokey", j.units[j.unitOf[at]].Key+contentOf(&j.components[at]), j.units[parent].Key+contentOf(&c)) {
			j.components[at], j.unitOf[at] = c, parent
		}
		return
	}
	if key == "" {
		// Its percent still counts: without it the others would seem to be all of the map unit.
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
	// Not looked up by a key of its own: a restriction told twice limits the roots no more than once.
	c.Restrictions = append(c.Restrictions, soils.Restriction{
		Kind:     r.word("reskind", restrictionKinds),
		Hardness: j.area.intern(r.text("reshard")),
		Top:      quantity[unit.Depth](r, "resdept_r"),
		TopLow:   quantity[unit.Depth](r, "resdept_l"),
		TopHigh:  quantity[unit.Depth](r, "resdept_h"),
		Bottom:   quantity[unit.Depth](r, "resdepb_r"),
	})
}

// month takes a row of table comonth.
func (j *joiner) month(r *record) {
	parent, ok := j.componentAt[r.text("cokey")]
	if !ok {
		r.orphan("cokey", "component")
		return
	}
	m := soils.Month{
		Month:           r.month(),
		Flooding:        r.frequency("flodfreqcl"),
		FloodDuration:   r.duration("floddurcl"),
		Ponding:         r.frequency("pondfreqcl"),
		PondingDuration: r.duration("ponddurcl"),
	}
	// told by month
	if m.Month == 0 {
		return
	}
	// Layers of moisture hang on this key; a month without one still has its flooding and ponding.
	key := r.text("comonthkey")
	if at, old := j.monthAt[key]; old {
		if r.repeated("comonthkey", j.components[j.monthOf[at]].Key+contentOf(&j.months[at]), j.components[parent].Key+contentOf(&m)) {
			j.months[at], j.monthOf[at] = m, parent
		}
		return
	}
	if key != "" {
		j.monthAt[strings.Clone(key)] = len(j.months)
	}
	j.months = append(j.months, m)
	j.monthOf = append(j.monthOf, parent)
}

// moisture takes a row of table cosoilmoist.
func (j *joiner) moisture(r *record) {
	at, ok := j.monthAt[r.text("comonthkey")]
	if !ok {
		r.orphan("comonthkey", "month")
		return
	}
	j.months[at].Layers = append(j.months[at].Layers, soils.MoistureLayer{
		Top:     quantity[unit.Depth](r, "soimoistdept_r"),
		TopLow:  quantity[unit.Depth](r, "soimoistdept_l"),
		TopHigh: quantity[unit.Depth](r, "soimoistdept_h"),
		Bottom:  quantity[unit.Depth](r, "soimoistdepb_r"),
		Status:  r.word("soimoiststat", moistureStates),
	})
}
