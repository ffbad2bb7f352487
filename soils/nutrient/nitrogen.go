package nutrient

import "rootworthy/soils/unit"

// NitrogenSaved is the nitrogen a year that bermudagrass alone would need to yield what it yields with alfalfa.
// Source: Bouton, University of Georgia demonstrations, Alfalfa for bermudagrass management in the South: 200 lb/ac a year; other
// legume values vary widely (from memory, not checked).
const NitrogenSaved = 200 * unit.PoundPerAcre

// NitrogenForThinStand returns the nitrogen of one application on a mixture with little alfalfa; none where it holds enough or the
// share is not known to be a share.
//
//	30 lb/ac, in March and again after the first cutting, where alfalfa is under 25 % of the mixture
//
// Source: University of Tennessee, alfalfa soil-test comments.
func NitrogenForThinStand(alfalfa unit.Percent) unit.AreaRate {
	if alfalfa >= 0 && alfalfa < 25 {
		return 30 * unit.PoundPerAcre
	}
	return 0
}

// NitrogenWindow is when the first of the two goes on, month and day. Source: University of Tennessee, as above.
const NitrogenWindow = "03-01/03-30"
