package words

// Reader is who will read a sentence. The zero value is the landowner, for whom everybody else can read too.
type Reader uint8

// The readers.
const (
	Landowner  Reader = iota // plain words, acres and inches, metric beside them
	Consultant               // terms of art, figures, sources
	Technician               // what it means for the work
)

// Readers lists them.
func Readers() []Reader { return []Reader{Landowner, Consultant, Technician} }

// phrase is what a stable code means, for each reader.
// In the lists of phrases the three stand in this order, without their names: first the landowner's words, then the consultant's, then the
// technician's.
type phrase struct {
	code                              string
	landowner, consultant, technician string
}

// to picks the words for one reader.
func (p phrase) to(r Reader) string {
	switch r {
	case Consultant:
		return p.consultant
	case Technician:
		return p.technician
	}
	return p.landowner
}

// find returns the words for a code; ok is false for a code that has none.
func find(phrases []phrase, code string, r Reader) (string, bool) {
	for _, p := range phrases {
		if p.code == code {
			return p.to(r), true
		}
	}
	return "", false
}

// found returns the words for a code, or the code itself, which is readable at worst.
// That a code has words is tested for all codes there are, so the code itself shows only for one that this program does not have, in a run made by another version.
func found(phrases []phrase, code string, r Reader) string {
	if s, ok := find(phrases, code, r); ok {
		return s
	}
	return code
}
