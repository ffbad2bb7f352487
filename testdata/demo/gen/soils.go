package main

// The invented map units. A component's horizons are top–bottom in cm, pH low/representative/high, available water
// in cm/cm, clay and sand percent and a texture code. Values lie in the range of warm, leached ground, but no real
// soil is described.
type horizon struct {
	name         string
	top, bottom  int
	phL, ph, phH float64
	awc          float64
	sand, clay   int
	texture      string
}

type component struct {
	name, drainage, hydgrp, order string
	pct                           int
	slope                         [3]float64
	misc                          bool
	horizons                      []horizon
	restriction                   string
	restrictionTop                int
	wetFrom                       int // cm, December to April; 0 = none described
	flooding, ponding             string
}

type mapUnit struct {
	letter             byte
	mukey, musym, name string
	kind               string
	components         []component
}

var mapUnits = []mapUnit{
	{'A', "9900011", "AdB", "Aldermoor sandy loam, 1 to 4 percent slopes", "Consociation", []component{
		{name: "Aldermoor", drainage: "Well drained", hydgrp: "B", order: "Alfisols", pct: 86, slope: [3]float64{1, 3, 4},
			horizons: []horizon{{"Ap", 0, 22, 6.5, 6.8, 7.1, .13, 68, 12, "SL"}, {"Bt1", 22, 70, 6.0, 6.3, 6.6, .15, 55, 26, "SCL"}, {"Bt2", 70, 160, 5.8, 6.1, 6.4, .14, 58, 24, "SCL"}},
			flooding: "None", ponding: "None"},
		{name: "Dunsop", drainage: "Somewhat poorly drained", hydgrp: "C/D", order: "Ultisols", pct: 6},
		{name: "Brackwell", drainage: "Well drained", hydgrp: "B", order: "Ultisols", pct: 8},
	}},
	{'B', "9900012", "BrB", "Brackwell sandy loam, 2 to 5 percent slopes", "Consociation", []component{
		{name: "Brackwell", drainage: "Well drained", hydgrp: "B", order: "Ultisols", pct: 88, slope: [3]float64{2, 4, 5},
			horizons: []horizon{{"Ap", 0, 18, 5.1, 5.4, 5.8, .12, 70, 11, "SL"}, {"Bt1", 18, 80, 5.6, 5.9, 6.1, .14, 52, 30, "SCL"}, {"Bt2", 80, 165, 5.5, 5.7, 6.0, .13, 56, 26, "SCL"}},
			flooding: "None", ponding: "None"},
		{name: "Fenwick", drainage: "Well drained", hydgrp: "B", order: "Ultisols", pct: 7},
		{name: "Eskmere", drainage: "Well drained", hydgrp: "D", order: "Inceptisols", pct: 5},
	}},
	{'C', "9900013", "CaA", "Cawdell loam, 0 to 2 percent slopes", "Consociation", []component{
		{name: "Cawdell", drainage: "Well drained", hydgrp: "B", order: "Ultisols", pct: 91, slope: [3]float64{0, 1, 2},
			horizons: []horizon{{"A", 0, 15, 5.4, 5.8, 6.0, .16, 42, 18, "L"}, {"Bt1", 15, 60, 4.5, 4.7, 4.9, .15, 34, 32, "CL"}, {"Bt2", 60, 155, 4.5, 4.6, 4.8, .14, 33, 34, "CL"}},
			flooding: "None", ponding: "None"},
		{name: "Dunsop", drainage: "Somewhat poorly drained", hydgrp: "C/D", order: "Ultisols", pct: 9},
	}},
	{'D', "9900014", "DuA", "Dunsop silt loam, 0 to 1 percent slopes", "Consociation", []component{
		{name: "Dunsop", drainage: "Somewhat poorly drained", hydgrp: "C/D", order: "Ultisols", pct: 80, slope: [3]float64{0, 0.5, 1},
			horizons: []horizon{{"Ap", 0, 20, 5.0, 5.3, 5.6, .19, 22, 18, "SIL"}, {"Btg", 20, 90, 5.0, 5.2, 5.5, .17, 18, 30, "SICL"}, {"BCg", 90, 160, 5.2, 5.5, 5.8, .16, 25, 26, "SIL"}},
			wetFrom:  40, flooding: "Rare", ponding: "None"},
		{name: "Hollin", drainage: "Poorly drained", hydgrp: "D", order: "Inceptisols", pct: 15,
			horizons: []horizon{{"Ag", 0, 18, 5.0, 5.3, 5.6, .18, 20, 24, "SIL"}, {"Bg", 18, 150, 5.0, 5.4, 5.8, .16, 15, 34, "SICL"}},
			wetFrom:  5, flooding: "Occasional", ponding: "Occasional"},
		{name: "Brackwell", drainage: "Well drained", hydgrp: "B", order: "Ultisols", pct: 5},
	}},
	{'E', "9900015", "EsC", "Eskmere gravelly loam, 5 to 10 percent slopes", "Consociation", []component{
		{name: "Eskmere", drainage: "Well drained", hydgrp: "D", order: "Inceptisols", pct: 84, slope: [3]float64{5, 7, 10},
			horizons:    []horizon{{"A", 0, 12, 5.8, 6.2, 6.6, .16, 44, 16, "L"}, {"Bw", 12, 42, 5.8, 6.1, 6.5, .15, 42, 20, "L"}, {"R", 42, 60, 0, 0, 0, -1, -1, -1, "BR"}},
			restriction: "Lithic bedrock", restrictionTop: 42, flooding: "None", ponding: "None"},
		{name: "Aldermoor", drainage: "Well drained", hydgrp: "B", order: "Alfisols", pct: 10},
		{name: "Rock outcrop", misc: true, pct: 6},
	}},
	{'F', "9900016", "FgB", "Fenwick-Garsdale complex, 1 to 5 percent slopes", "Complex", []component{
		{name: "Garsdale", drainage: "Moderately well drained", hydgrp: "C", order: "Ultisols", pct: 52, slope: [3]float64{1, 2, 4},
			horizons:    []horizon{{"Ap", 0, 20, 5.3, 5.7, 6.0, .15, 60, 14, "SL"}, {"Bt", 20, 85, 5.3, 5.6, 5.9, .14, 50, 28, "SCL"}, {"Btx", 85, 150, 5.3, 5.6, 5.9, .06, 52, 26, "SCL"}},
			restriction: "Fragipan", restrictionTop: 85, wetFrom: 65, flooding: "None", ponding: "None"},
		{name: "Fenwick", drainage: "Well drained", hydgrp: "B", order: "Ultisols", pct: 41, slope: [3]float64{2, 3, 5},
			horizons: []horizon{{"Ap", 0, 20, 5.5, 5.9, 6.2, .14, 64, 12, "SL"}, {"Bt", 20, 155, 5.5, 5.8, 6.0, .14, 54, 27, "SCL"}},
			flooding: "None", ponding: "None"},
		{name: "Dunsop", drainage: "Somewhat poorly drained", hydgrp: "C/D", order: "Ultisols", pct: 7},
	}},
	{'W', "9900017", "W", "Water", "Consociation", []component{{name: "Water", misc: true, pct: 100}}},
}
