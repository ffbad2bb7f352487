package suitability

import "fmt"

// Class is what a piece of ground can carry. The zero value is not rated, which is neither good nor bad.
type Class uint8

// The classes; of the rated ones a greater one is worse.
const (
	// the order is relied on: a greater class is a worse one, so the worst of several is their maximum, and NotRated never wins it
	NotRated Class = iota
	Suited
	Marginal
	Unsuited
)

var classNames = [...]string{"not rated", "suited", "marginal", "unsuited"}

// Classes lists all classes in the order of reports: suited, marginal, unsuited, not rated.
func Classes() []Class { return []Class{Suited, Marginal, Unsuited, NotRated} }

// String returns the word used in every output.
func (c Class) String() string {
	if int(c) < len(classNames) {
		return classNames[c]
	}
	// a number that is no class comes from no code of ours; it claims nothing
	return "not rated"
}

// MarshalText writes the word.
func (c Class) MarshalText() ([]byte, error) { return []byte(c.String()), nil }

// UnmarshalText reads the word.
func (c *Class) UnmarshalText(b []byte) error {
	for i, n := range classNames {
		if n == string(b) {
			*c = Class(i)
			return nil
		}
	}
	return fmt.Errorf("%q is not a class (suited, marginal, unsuited, not rated)", b)
}
