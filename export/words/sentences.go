package words

import (
	"rootworthy/export"
)

// Sentences returns the words for the files of a run.
func Sentences() export.Sentences { return export.Sentences{Cautions: Cautions()} }
