package suitability

import "rootworthy/soils"

// findFlooding judges the highest flooding class of any month. Occasional floods that stay seven days or more are worse
// than their frequency says. No class in any month is not recorded; the word "None" is a class.
func findFlooding(p *Profile, e *evidence) Finding {
	class, long := e.Flooding()
	f := p.Flooding.finding(class.String())
	if class == soils.Common {
		f.Note = NoteObsolete
	}
	// rare floods are left as they are however long; frequent ones score less than this already by the profile of the program
	if long && (class == soils.Occasional || class == soils.Common) {
		f.rate(p.LongFlooding.Value)
		p.Flooding.attach(&f)
		f.Note = NoteLongFloods
	}
	return f
}
