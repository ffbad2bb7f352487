// Package lab reads what soil-testing laboratories send: which sample, from where and how deep, and what was found by
// which method.
//
// The method is part of a value. pH in water and pH in calcium chloride are two types, and the lime buffers each have
// their own (6.8 in one buffer is a limed soil, in another an acid one); a nutrient names what extracted it. A buffer
// pH whose buffer nobody names is refused with the question to ask the laboratory. What was below detection stays
// below detection, what was not measured stays missing, and a figure whose unit is not stated is not guessed.
//
// [Read] takes delimited text, spreadsheets and Modus results in XML or JSON. It explains column by column what it
// understood ([Understood]); a [Mapping] overrides that and can be kept beside the file. The plain header of our own
// ([WritePlain]) needs no mapping:
//
//	field_id,sample_id,top_cm,bottom_cm,date,ph_water,buffer_ph_mehlich,p_m3_ppm,k_m3_ppm
//	home,7,0,15,2026-03-14,5.4,6.2,38,91
//
// Then [Locate] says which field and zone a sample speaks for, [Layers] sorts samples by depth, and [CheckAge] tells
// which are too old to lime by.
package lab
