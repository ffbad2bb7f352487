package suitability

// Profile is a crop profile: breakpoints of every criterion, each with its source and status; pH targets by state;
// rules of the lime plan. Filled from TOML.
type Profile struct {
	Name    string
	Edition string
}
