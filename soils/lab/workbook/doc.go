// Package workbook reads the cells of a spreadsheet file (.xlsx) as text.
//
// It reads what a table needs and nothing else: sheets by name, rows by number, and cells as a person sees their value:
// dates as 2022-07-08, percentages as "2.5%", figures in the shortest form that reads back the same, formulas as the
// value stored with them. Fonts, colours, charts and macros are not looked at. A workbook is a zip of XML; every part is
// bounded before it is read, so a small file that unpacks without end is refused.
//
// Source: ECMA-376 part 1, SpreadsheetML. It knows nothing of laboratories.
package workbook
