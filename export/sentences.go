package export

import "rootworthy/suitability"

// Sentences puts the data of a result into words. This package holds data only; the words are those of package
// words, which knows the readers. A nil function leaves its column empty.
type Sentences struct {
	Reason   func(*suitability.Zone) string // why the zone has its class and what can be done, one plain sentence
	Lime     func(*suitability.Zone) string // why the lime figure is what it is, or why there is none
	Method   func(*suitability.Zone) string // how the lime figure was found
	Cautions []string                       // what every reader must be told, one sentence or two each
	Budget   string                         // the one of them on lime figures of the survey: who says it of the run's own figures leaves it out
}

// say asks for a sentence; nobody to ask is no sentence.
func say(f func(*suitability.Zone) string, z *suitability.Zone) Value {
	if f == nil {
		return Value{}
	}
	return text(f(z))
}
