package economics

import "rootworthy/soils/unit"

// RFV returns the relative feed value of hay, and the digestible dry matter and dry matter intake that it is made of, percent.
//
//	DDM = 88.9 - 0.779 ADF
//	DMI = 120 / NDF
//	RFV = DDM × DMI / 1.29
//
// Source: Ward and de Ondarza, Cumberland Valley Analytical Services, RFV vs. RFQ (2008).
// Range: fibers over 0 and under 100 % of the dry matter, ADF under NDF; outside it ok is false.
func RFV(adf, ndf unit.Percent) (rfv float64, ddm, dmi unit.Percent, ok bool) {
	if !(adf > 0 && adf < ndf && ndf < 100) {
		return 0, 0, 0, false
	}
	ddm, dmi = 88.9-0.779*adf, 120/ndf
	return float64(ddm * dmi / 1.29), ddm, dmi, true
}

// RFQ returns the relative forage quality of hay.
//
//	RFQ = DMI × TDN / 1.23
//
// Source: Undersander, University of Wisconsin Extension, Relative Forage Quality (2016).
// Range: intake over 0, percent of body weight; TDN over 0 up to 100 % of the dry matter; outside it ok is false.
func RFQ(dmi, tdn unit.Percent) (rfq float64, ok bool) {
	if !(dmi > 0 && tdn > 0 && tdn <= 100) {
		return 0, false
	}
	return float64(dmi * tdn / 1.23), true
}

// LegumeHay is a laboratory's figures of alfalfa hay, percent of the dry matter.
type LegumeHay struct {
	CP, NDF, NFC, EE unit.Percent
	NDFD             unit.Percent // digestible in 48 hours, percent of NDF
}

// Intake returns what cattle eat of it and what they can digest, percent of body weight and of dry matter.
//
//	DMI = 120/NDF + (NDFD - 45) × 0.374/1350 × 100
//	TDN = 0.98 NFC + 0.93 CP + 0.97 × 2.25 (EE - 1) + 0.93 NDF × NDFD/100 - 7
//
// Source: from memory, not checked. So no sum of this program rests on it: it only helps to compare hays before a price is put on quality.
// Range: NDF over 0.
func (h LegumeHay) Intake() (dmi, tdn unit.Percent, ok bool) {
	if !(h.NDF > 0) {
		return 0, 0, false
	}
	dmi = 120/h.NDF + (h.NDFD-45)*0.374/1350*100
	tdn = 0.98*h.NFC + 0.93*h.CP + 0.97*2.25*(h.EE-1) + 0.93*h.NDF*h.NDFD/100 - 7
	return dmi, tdn, true
}
