package lab

// Extractant is what took a nutrient out of the soil. The zero value is not stated. Values by different extractants
// are different quantities: none is turned into another.
type Extractant uint8

// The extractants in use. Source: AgGateway, Modus soil method list 2, extraction names.
const (
	ExtractantUnknown Extractant = iota
	Mehlich1
	Mehlich2
	Mehlich3
	Bray1
	Bray2
	Olsen
	AmmoniumAcetate
	DTPA
	DTPASorbitol
	HotWater
	HCl
	KCl
	CaCl2
	EDTA
	Morgan
	ModifiedMorgan
	Lancaster
	H3A
	Water
	SaturatedPaste
	TotalDigestion
)

// extractants gives each its code in plain headers and its name in the trade.
var extractants = [...]struct{ code, name string }{
	ExtractantUnknown: {"", "extractant not stated"},
	Mehlich1:          {"m1", "Mehlich-1"},
	Mehlich2:          {"m2", "Mehlich-2"},
	Mehlich3:          {"m3", "Mehlich-3"},
	Bray1:             {"bray1", "Bray-1"},
	Bray2:             {"bray2", "Bray-2"},
	Olsen:             {"olsen", "Olsen bicarbonate"},
	AmmoniumAcetate:   {"nh4oac", "ammonium acetate"},
	DTPA:              {"dtpa", "DTPA"},
	DTPASorbitol:      {"dtpasorbitol", "DTPA-sorbitol"},
	HotWater:          {"hotwater", "hot water"},
	HCl:               {"hcl", "0.1 M HCl"},
	KCl:               {"kcl", "1 M KCl"},
	CaCl2:             {"cacl2", "calcium chloride"},
	EDTA:              {"edta", "EDTA"},
	Morgan:            {"morgan", "Morgan"},
	ModifiedMorgan:    {"modmorgan", "modified Morgan"},
	Lancaster:         {"lancaster", "Lancaster"},
	H3A:               {"h3a", "H3A"},
	Water:             {"water", "water"},
	SaturatedPaste:    {"paste", "saturated paste"},
	TotalDigestion:    {"total", "total by digestion"},
}

// Extractants returns every extractant.
func Extractants() []Extractant { return members[Extractant](len(extractants)) }

// Code returns the extractant as plain headers write it, e.g. "m3"; empty when not stated.
func (x Extractant) Code() string { return extractants[x].code }

// String returns the extractant as the trade says it, e.g. "Mehlich-3".
func (x Extractant) String() string { return extractants[x].name }

// Buffer is the lime buffer a buffer pH was read in. The zero value is not stated.
type Buffer uint8

// The buffers, each with its own type in package unit. Source: AgGateway, Modus soil method list 2, BPH_001 to BPH_011.
const (
	BufferUnknown Buffer = iota
	MehlichBuffer
	AdamsEvansBuffer
	MooreSikoraBuffer
	SMPBuffer
	SikoraBuffer
	WoodruffBuffer
)

// buffers likewise for lime buffers.
var buffers = [...]struct{ code, name string }{
	BufferUnknown:     {"", "buffer not stated"},
	MehlichBuffer:     {"mehlich", "Mehlich"},
	AdamsEvansBuffer:  {"adams_evans", "Adams-Evans"},
	MooreSikoraBuffer: {"moore_sikora", "Moore-Sikora"},
	SMPBuffer:         {"smp", "SMP"},
	SikoraBuffer:      {"sikora", "Sikora"},
	WoodruffBuffer:    {"woodruff", "Woodruff"},
}

// LimeBuffers returns every buffer.
func LimeBuffers() []Buffer { return members[Buffer](len(buffers)) }

// Code returns the buffer as plain headers write it, e.g. "adams_evans"; empty when not stated.
func (b Buffer) Code() string { return buffers[b].code }

// String returns the buffer as the trade says it, e.g. "Adams-Evans".
func (b Buffer) String() string { return buffers[b].name }

// AcidityMethod is how acidity was found. The zero value is not stated. Acidity displaced by potassium chloride is far
// less than what a buffer at pH 6.6 to 8 reacts with.
type AcidityMethod uint8

// The methods.
const (
	AcidityUnknown    AcidityMethod = iota
	AcidityKCl                      // exchangeable, displaced by 1 M KCl
	AcidityMehlich                  // read from the Mehlich buffer
	AcidityAdamsEvans               // read from the Adams-Evans buffer
	AcidityBaCl2                    // barium chloride, triethanolamine, pH 8.2
)

// acidityMethods likewise for acidity.
var acidityMethods = [...]struct{ code, name string }{
	AcidityUnknown:    {"", "method not stated"},
	AcidityKCl:        {"kcl", "exchangeable by 1 M KCl"},
	AcidityMehlich:    {"mehlich", "from the Mehlich buffer"},
	AcidityAdamsEvans: {"adams_evans", "from the Adams-Evans buffer"},
	AcidityBaCl2:      {"bacl2", "by barium chloride"},
}

// AcidityMethods returns every method.
func AcidityMethods() []AcidityMethod { return members[AcidityMethod](len(acidityMethods)) }

// Code returns the method as plain headers write it; empty when not stated.
func (m AcidityMethod) Code() string { return acidityMethods[m].code }

// String returns the method in words.
func (m AcidityMethod) String() string { return acidityMethods[m].name }
