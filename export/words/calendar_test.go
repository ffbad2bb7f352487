package words

import (
	"testing"

	"rootworthy/export"
	"rootworthy/export/quillmoor"
	"rootworthy/suitability"
)

// A window of one day says that there is no other, one within a year names the year once, and what is no date is passed on as it came.
func TestDatesForReading(t *testing.T) {
	for in, want := range map[string]string{"2026-04-02": "April 2, 2026", "": "", "soon": "soon"} {
		if got := Date(in); got != want {
			t.Errorf("Date(%q) = %q, want %q", in, got, want)
		}
	}
	for in, want := range map[string]string{"2026-10-15/2026-10-15": "October 15, 2026 alone", "2028-09-15/2028-10-31": "September 15 to October 31, 2028",
		"2027-12-01/2028-01-15": "December 1, 2027 to January 15, 2028", "2028-09-15": "September 15, 2028", "a/b": "a/b", "": ""} {
		if got := Window(in); got != want {
			t.Errorf("Window(%q) = %q, want %q", in, got, want)
		}
	}
}

// The four kinds of answer: a part suited and the rest held back, nothing suited, no answer at all, and parts that nobody could rate or
// that lie outside the survey. Acres of one field add up to its area.
func TestFieldAnswer(t *testing.T) {
	want := map[string]string{
		"Q1": "15.6 of 20.8 acres look suited. They need lime first. What holds back 5.2 acres: wet or dry ground.",
		"Q3": "None of the 15.6 acres looks suited. What holds back 10.4 acres: depth for roots. What holds back 5.2 acres: how acid the subsoil is (pH).",
		"Q4": "No answer: the field lies outside the survey.",
		"Q5": "None of the 20.8 acres looks suited. What holds back 10.4 acres: how acid the subsoil is (pH). 4.2 acres could not be rated. 6.2 acres lie outside the survey.",
	}
	sums := export.Sums(quillmoor.Result())
	for i := range sums {
		if w, ok := want[sums[i].Field.ID]; ok && FieldAnswer(&sums[i]) != w {
			t.Errorf("%s\ngot  %s\nwant %s", sums[i].Field.ID, FieldAnswer(&sums[i]), w)
		}
	}
}

// A field of which all is suited has no rest to speak of.
func TestFieldAnswerOfAWholeField(t *testing.T) {
	r := quillmoor.Result()
	r.Zones = r.Zones[:1] // of Q1: suited once limed
	r.Fields = r.Fields[:1]
	r.Fields[0].Zones, r.Fields[0].Area = []int{0}, r.Zones[0].Area
	for _, f := range []struct {
		today suitability.Class
		want  string
	}{{suitability.Unsuited, "All 15.6 acres look suited. They need lime first."}, {suitability.Suited, "All 15.6 acres look suited."}} {
		r.Zones[0].Rating.ClassToday = f.today
		if got := FieldAnswer(&export.Sums(r)[0]); got != f.want {
			t.Errorf("got  %s\nwant %s", got, f.want)
		}
	}
}
