package taskdata

// DDI is an identifier of the ISO 11783-11 data dictionary.
type DDI uint16

// The identifiers that this package writes, or reads with a meaning.
//
// Source: ISO 11783-11 data dictionary, as carried by the isoxml library for JavaScript 1.11.2, DDEntities; read.
const (
	VolumeSetpoint DDI = 1  // 0.01 mm³/m²
	VolumeActual   DDI = 2  // 0.01 mm³/m²
	MassSetpoint   DDI = 6  // mg/m²
	MassActual     DDI = 7  // mg/m²
	CountSetpoint  DDI = 11 // 0.001 /m²
	MassContent    DDI = 75 // g: written as the product's quantity, it tells the terminal that the product is weighed
)

// IsMass says whether a value of the identifier is a mass on an area, in mg/m².
func (d DDI) IsMass() bool { return d == MassSetpoint || d == MassActual }

// Means says in words what a value of the identifier counts; "" for one that this package knows nothing of.
func (d DDI) Means() string {
	switch d {
	case VolumeSetpoint, VolumeActual:
		return "a volume on an area"
	case MassSetpoint, MassActual:
		return "a mass on an area"
	case CountSetpoint:
		return "a count on an area"
	case MassContent:
		return "a mass"
	}
	return ""
}

// String returns the identifier as the files write it: four capital hexadecimal digits.
func (d DDI) String() string {
	const digits = "0123456789ABCDEF"
	return string([]byte{digits[d>>12], digits[d>>8&15], digits[d>>4&15], digits[d&15]})
}
