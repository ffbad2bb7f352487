package export

// Guarded puts ' before text that a spreadsheet would run as a formula. Every table for people guards its text.
func Guarded(s string) string { return guarded(s) }
