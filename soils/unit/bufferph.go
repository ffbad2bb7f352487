package unit

// Buffer pH is the reaction of soil stirred into a lime buffer. Each buffer starts from its own pH and has its own
// strength, so the readings are types that do not mix: 6.8 in one is a limed soil and in another an acid one.
type (
	// PHMehlich is read in the Mehlich buffer, which starts at pH 6.60; the modified recipe (calcium for barium) reads the same scale.
	PHMehlich float64
	// PHAdamsEvans is read in the Adams-Evans buffer, which starts at pH 8.00; so does the modified recipe.
	PHAdamsEvans float64
	// PHMooreSikora is read in the Moore-Sikora buffer, which starts at pH 7.92.
	PHMooreSikora float64
	// PHSMP is read in the Shoemaker-McLean-Pratt buffer, which starts at pH 7.50.
	PHSMP float64
	// PHSikora is read in a Sikora buffer, which starts at pH 7.70 (first recipe) or 7.53 (second).
	PHSikora float64
	// PHWoodruff is read in the Woodruff buffer, which starts at pH 7.00; so does the modified recipe.
	PHWoodruff float64
)

// Starting points of the buffers. Source: AgGateway, Modus soil method list 2, methods BPH_001 to BPH_011.
const (
	MehlichStart     PHMehlich     = 6.60
	AdamsEvansStart  PHAdamsEvans  = 8.00
	MooreSikoraStart PHMooreSikora = 7.92
	SMPStart         PHSMP         = 7.50
	SikoraStart      PHSikora      = 7.70
	Sikora2Start     PHSikora      = 7.53
	WoodruffStart    PHWoodruff    = 7.00
)

// LimeBuffering is the lime buffer capacity measured 30 minutes after one dose of base: mg CaCO3 per kg of soil and
// unit of pH.
type LimeBuffering float64

// LimeBufferingEq is the lime buffer capacity brought to equilibrium, in the same unit. It is larger, and a method
// calibrated on one must not be fed the other.
type LimeBufferingEq float64
